package lines_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// The line that asks for a step says what has to be minded in it, each in a row of its own, and to programs as a list.
func TestStepSaysItsCautions(t *testing.T) {
	s := begin(t, bench(t, func(o *session.Opened) { o.Steps = true }))
	rough := false
	for range 3 {
		l, ok := s.said[len(s.said)-1].(lines.StepLine)
		if !ok {
			break
		}
		rough = rough || l.Step == session.RoughIn
		want := record.Cautions(record.Care{}, l.Step)
		if !slices.Equal(l.Cautions, want) {
			t.Errorf("%s: cautions %q, want %q", l.Step, l.Cautions, want)
		}
		for _, c := range want {
			if !strings.Contains(l.Text(), "\n! "+c) {
				t.Errorf("%s: %q does not say %q", l.Step, l.Text(), c)
			}
		}
		s.do(session.Confirm{})
	}
	if !rough || len(record.Cautions(record.Care{}, session.RoughIn)) == 0 {
		t.Error("no step with a caution was asked for")
	}
}

// What is minded goes by the arc of the plan: a slot's pass climbs on one wall, and the last cut of a part lets it go.
func TestCautionsGoByTheArc(t *testing.T) {
	for _, c := range []struct {
		arc  part.Picked
		says string
	}{
		{part.Picked{Side: part.On.String()}, "climbs on one wall"},
		{part.Picked{Side: part.Inside.String(), Frees: true}, "lets the part go"},
	} {
		s := cutting(false, false, &c.arc)
		for _, says := range []string{"climbs on one wall", "lets the part go"} {
			all := lines.Cautions(s, &session.Prompt{Waits: session.ForChore, Chore: session.ChoreAsked{Step: session.Cut}})
			if told := strings.Contains(strings.Join(all, "\n"), says); told != (says == c.says) {
				t.Errorf("%+v: %q told %v", c.arc, says, told)
			}
		}
		if all := lines.Cautions(s, &session.Prompt{Waits: session.ForReading}); len(all) > 0 {
			t.Errorf("at a reading: %q", all)
		}
	}
}
