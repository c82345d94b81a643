package tui_test

import (
	"testing"

	"example.org/trammel/indicator/session"
)

// By the keypad alone the next part begins from the page of the accepted one: it is the first line of the list. From there on its number
// stands in the top line, and its own page shows where the parts lay, in a usual window and in a wide one.
func TestNextPartByTheKeypad(t *testing.T) {
	d := reachedEnd(t, nil, nil)
	w := &stand{swing: 42} // as the winds have left it
	for part, by := range []float64{0.008, 0.009, 0.008} {
		w.ex += by
		d.Type("*").Expect(Line("1", "next part")).Type("2").Enter() // swept whether due or not
		if s := d.state(); s.Part != part+2 || s.Phase != session.Sweeping {
			t.Fatalf("part %d, phase %d; want part %d, sweeping:\n%s", s.Part, s.Phase, part+2, d.Screen())
		}
		d.Expect(Line("part " + string(rune('2'+part)) + " · trial 1"))
		w.work(d, 40, session.ForAccept)
		d.Enter().Enter()
		if s := d.state(); s.Phase != session.Ended {
			t.Fatalf("part %d: phase %d, want it over:\n%s", s.Part, s.Phase, d.Screen())
		}
	}
	says(d, "part 4 accepted in trial 1", "trammel dial --resume --part --journal plate.jsonl")
	golden(t, "80x24/part", d.Screen())
	d.Enter()
	golden(t, "80x24/part-chart", d.Expect(Line("heads out")).Screen())
	golden(t, "80x24/part-trials", d.Type("t").Screen())
	d.Enter()
	golden(t, "200x50/part", d.Size(200, 50).Expect(Line("heads out")).Screen())
	golden(t, "200x50/part-trials", d.Type("t").Screen())
}
