package tui_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
)

// A session that begins 1.6 mm out, so that the needle is beyond the dial at some stations, is read once more between its long winds.
// Enter alone takes nothing there, as there is no sweep to end: it says what is waited for.
func TestEnterBetweenTheWinds(t *testing.T) {
	o := real(t, nil)
	live := session.NewLive(session.State{}, &session.Memory{})
	now := clock()
	do := func(c session.Command) {
		if _, err := live.Do(c, now()); err != nil {
			t.Fatalf("%T: %v", c, err)
		}
		o.events = append(o.events, c)
	}
	if _, err := live.Do(session.Open{Opened: o.opened}, now()); err != nil {
		t.Fatal(err)
	}
	prompt := func() session.Prompt { s := live.State(); return s.Prompt() }
	w := &stand{43.2, -1.5, 0.6}
	for p := prompt(); !p.Reading.Between; p = prompt() {
		switch at := w.reading(p.Reading.Bearing, len(o.events)); {
		case p.Waits != session.ForReading:
			do(session.Confirm{})
		case math.Abs(at) <= 0.8:
			do(session.Take{Reading: at})
		case at > 0:
			do(session.Skip{Off: session.Pressed})
		default:
			do(session.Skip{Off: session.Free})
		}
		if len(o.events) > 40 {
			t.Fatal("40 entries, and none between two winds is asked for")
		}
	}
	d := screen(t, o).Expect(Line("between the winds, reading 1: swing to"))
	d.Enter().Expect(Line("nothing waits to be confirmed"), Nowhere("enough stations", "once more"))
	if looks := d.Type("0.05").Enter().state().Looked; len(looks) != 1 || looks[0].Reading != 0.05 {
		t.Errorf("looks %+v, want the reading taken", looks)
	}
}

// At a station with fewer readings than the three that a circle has unknowns, Enter alone asks nothing that would be refused, however
// often: it says what is waited for. From the third reading on it asks whether that is enough.
func TestEnterBeforeThreeReadings(t *testing.T) {
	d := loaded(t, real(t, nil))
	for _, m := range []string{"0.1", "0.2", "0.15"} {
		for range 2 {
			d.Enter().Expect(Line("nothing waits to be confirmed; take the reading that is asked for"),
				Nowhere("enough stations", "once more"))
		}
		d.Type(m).Enter()
	}
	d.Enter().Expect(Line("Enter once more: enough stations"))
}
