package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
)

// roughCut is a setting at the measurement of its rough cut, 38 with 0.3 left on.
func roughCut(t *testing.T) *player {
	t.Helper()
	p := open(t, stepwise(t, false), near42(0.1, 0.05, -0.08)).until(session.ForAccept)
	p.do(session.Accept{})
	for p.prompt().Chore.Step != session.Measure {
		p.answer(1)
	}
	return p
}

// wound answers what is asked until a wind is told, and returns how far it goes; NaN where none is.
func (p *player) last() float64 {
	for range 20 {
		switch q := p.prompt(); {
		case q.Waits == session.ForWind:
			return q.Wind.Told.Wind.Travel
		case q.Waits == session.ForNothing || q.Chore.Step == session.CheckArc:
			return math.NaN()
		}
		p.do(session.Confirm{})
	}
	return math.NaN()
}

// A slip of half a millimetre on a thimble, read on a diameter, is 0.25 on the radius: nothing is wound by it before it has been
// measured again. What two measurements agree on is wound by, and what lies where it was expected at once. By hand: 38 - 38.3 =
// -0.3, 38 - 38.31 = -0.31, 38 - 38.55 = -0.55.
func TestMeasuredTwiceBeforeTheLastWind(t *testing.T) {
	for _, c := range []struct {
		measured []float64
		last     float64
	}{{[]float64{38.3}, -0.3}, {[]float64{38.55, 38.31}, -0.31}, {[]float64{38.55, 38.55}, -0.55}, {[]float64{38.55, 38.9, 38.56}, -0.56},
		{[]float64{37.7, 38.32}, -0.32}, {[]float64{37.7, 37.71}, math.NaN()}} {
		p := roughCut(t)
		for i, m := range c.measured {
			if p.prompt().Chore.Step != session.Measure {
				t.Fatalf("%v: asked for %v behind %d of them, want to measure again", c.measured, p.prompt().Chore.Step, i)
			}
			p.do(session.Take{Reading: m})
		}
		if p.prompt().Chore.Step == session.Measure {
			t.Errorf("%v: measured once more", c.measured)
			continue
		}
		if got := p.last(); math.Abs(got-c.last) > 1e-9 || math.IsNaN(got) != math.IsNaN(c.last) {
			t.Errorf("%v: the last wind goes %v, want %v", c.measured, got, c.last)
		}
	}
}

// A chord of 30 and a sagitta 0.015 short of its 3.0595 make 38.47 of 38.3, known to 0.23: by the setting it is known better, and
// the last wind takes off what was left on.
func TestACoarseMeasurementIsNotWoundBy(t *testing.T) {
	p := roughCut(t)
	g, err := session.Parse("chord 30 sagitta 3.045", p.state().Set.Job.Unit)
	if err != nil {
		t.Fatal(err)
	}
	p.do(g)
	if p.prompt().Chore.Step == session.Measure {
		p.do(g)
	}
	if got := p.last(); math.Abs(got+0.3) > 1e-9 {
		t.Errorf("the last wind goes %v, want -0.3", got)
	}
}
