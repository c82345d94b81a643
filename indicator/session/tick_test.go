package session_test

import (
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
)

// plated is a setting of the first of a plate's two arcs, between which two straights lie.
func plated(t testing.TB) session.Opened {
	t.Helper()
	o := benchOpened(t)
	arc := func(n int, swing float64) *part.Picked {
		return &part.Picked{
			Part:   "plate",
			N:      n,
			Radius: swing - 4,
			To:     1.5,
			Side:   "inside",
			Cutter: 8,
			Swing:  swing,
			Sense:  "anticlockwise",
		}
	}
	o.Plate = &part.Plate{Name: "plate", Tasks: []part.Task{{N: 1, Arc: arc(1, 42), Cutter: 8, Setting: 1, Centre: 1}, {N: 2},
		{N: 3, Arc: arc(3, 30), Cutter: 8, Setting: 2, Centre: 1}, {N: 4, Why: "no swing radius"}}}
	o.Arc = o.Plate.Tasks[0].Arc
	return o
}

// ticking plays two settings of a plate, and ticks off what no setting makes: in the middle of one, taken back once, and behind it.
func ticking(t testing.TB) *player {
	t.Helper()
	o := plated(t)
	p := open(t, o, near42(0.2, 0.1, -0.05)).until(session.ForWind)
	p.do(session.Tick{N: 2}, session.Undo{}, session.Tick{N: 2})
	p.until(session.ForNothing)
	p.do(session.Tick{N: 4})
	p.do(session.Open{Opened: o})
	p.hands = near42(-0.1, 0.05, 0.15)
	return p.until(session.ForNothing)
}

// What is ticked stands in all settings that follow in the journal, and what was taken back does not. What is set is not ticked, nor
// what is no element, nor one twice, nor anything where no plate is worked off.
func TestTick(t *testing.T) {
	p := ticking(t)
	if s := p.state(); !slices.Equal(s.Ticks, []int{2, 4}) || s.Phase != session.Ended {
		t.Errorf("ticked %v in phase %v, want 2 and 4 behind two settings", s.Ticks, s.Phase)
	}
	for _, c := range []struct {
		n         int
		because   string
		ofAnother bool
	}{
		{1, "element 1, need one that no setting makes: 2, 4", false}, {9, "element 9, need one that no setting makes: 2, 4", false},
		{2, "element 2 is ticked already", false}, {2, "no plate is worked off here, so there is nothing to tick", true},
	} {
		at := p
		if c.ofAnother {
			at = bench(t, 7)
		}
		if got := at.refused(session.Tick{N: c.n}).Because; got != c.because {
			t.Errorf("tick %d is refused with %q, want %q", c.n, got, c.because)
		}
	}
	if _, err := session.Parse("tick", geom.Millimetre); err == nil {
		t.Error("tick alone is taken, want a number needed")
	}
	if c, err := session.Parse("tick 12", geom.Millimetre); err != nil || c != (session.Tick{N: 12}) {
		t.Errorf("tick 12 is %v, %v", c, err)
	}
}
