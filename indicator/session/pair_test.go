package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
)

// Two opposite readings, called enough, say what they know along their line, and the two stations across are asked
// for; what was read stays, and with four readings the circle is found.
func TestPairAsksAcross(t *testing.T) {
	for name, c := range map[string]struct {
		skips []bool // of the job's stations at 0°, 60°, 120°, 180°
		want  []float64
	}{
		"at 0° and 180°": {[]bool{false, true, true, false}, []float64{90, 270}},
	} {
		w := near42(0.1, 0.1, -0.1)
		o := benchOpened(t)
		o.Job.Sweep.AtLeast = 4
		p := open(t, o, w).until(session.ForReading)
		for _, skip := range c.skips {
			if skip {
				p.do(session.Skip{})
			} else {
				p.answer(1)
			}
		}
		held := p.state()
		before, ok := held.Pair()
		if !ok || math.Abs(before.Along.V-0.1) > 0.01 || before.Bearing.Degrees360() != 0 {
			t.Fatalf("%s: %+v (%v), want 0.1 along 0°", name, before, ok)
		}
		p.do(session.Enough{})
		for _, deg := range c.want {
			if got := p.prompt().Reading.Bearing.Degrees360(); math.Abs(got-deg) > 1e-6 || p.prompt().Waits != session.ForReading {
				t.Fatalf("%s: asks for %v°, want %v°", name, got, deg)
			}
			p.answer(1)
		}
		s := p.state()
		if f, err := s.Fit(); err != nil || math.Abs(f.Circle.Centre.X-0.1) > 0.01 || math.Abs(f.Circle.Centre.Y+0.1) > 0.01 {
			t.Fatalf("%s: centre %v (%v)", name, f.Circle.Centre, err)
		}
	}
}

// Enough twice, or of two that are no pair, is refused as before; undo takes the word back.
func TestPairRefused(t *testing.T) {
	p := bench(t, 3).until(session.ForReading).answer(1)
	p.do(session.Skip{}, session.Skip{})
	p.refused(session.Enough{})
	p.answer(1)
	p.do(session.Enough{})
	p.refused(session.Enough{})
	p.do(session.Undo{})
	if s := p.state(); s.Sweep.Paired || math.Abs(p.prompt().Reading.Bearing.Degrees360()-240) > 1e-9 {
		t.Fatalf("after undo: paired %v, asks for %v°", s.Sweep.Paired, p.prompt().Reading.Bearing.Degrees360())
	}
}
