package session_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// A second sweep at another height finds the lean that the simulated reference truly has, inside its
// uncertainty; the first sweep stands again, and what was measured takes the place of what was stated.
func TestTilt(t *testing.T) {
	inside, n := 0, 40
	for seed := range uint64(n) {
		w := practice.Bench(seed)
		w.LeanX, w.LeanY = 0.0004, -0.0002
		o := with(t, func(j *setup.Job) { j.Setup.TiltLimit, j.Setup.SweepHeight = 0.0009, 10 })
		m := practice.New(w, seed)
		p := open(t, o, m).until(session.ForWind)
		before := p.state()
		f, err := before.Fit()
		if err != nil {
			t.Fatal(err)
		}
		p.do(session.Raise{Height: 50})
		m.Raise(50)
		p.answer(o.Job.Sweep.Stations)
		m.Raise(0)
		s := p.state()
		if s.Raising != nil || s.Tilt == nil || s.Sweep.Readings() != before.Sweep.Readings() {
			t.Fatalf("seed %d: behind the second sweep %+v, %d readings", seed, s.Tilt, s.Sweep.Readings())
		}
		// At the greater height the centre lies aside by the lean the other way round: the machine's
		// words are of how far it lies aside going down.
		off := math.Hypot(s.Tilt.X+0.0004, s.Tilt.Y-0.0002)
		if off <= s.Tilt.U {
			inside++
		}
		if math.Abs(s.Tilt.Limit-math.Hypot(s.Tilt.X, s.Tilt.Y)-s.Tilt.U) > 1e-15 || !(s.Tilt.U < 0.0003) {
			t.Errorf("seed %d: %+v", seed, *s.Tilt)
		}
		g, err := s.Fit()
		if err != nil || g.Circle.Centre != f.Circle.Centre || g.Setup.TiltLimit != s.Tilt.Limit || !(g.Swing().U < f.Swing().U) {
			t.Errorf("seed %d: the first sweep says %v, %v behind it, said %v; the tilt counts as %v", seed, g.Swing(), err, f.Swing(),
				g.Setup.TiltLimit)
		}
		want := indicator.FromLimit(s.Tilt.Limit * 10)
		for _, part := range g.Budget() {
			if part.Name == indicator.PartTilt && math.Abs(part.U-want) > 1e-12 {
				t.Errorf("the radius has %v for the tilt, want %v", part.U, want)
			}
		}
	}
	// In two dimensions the largest direction's 95 % holds about as much or less than 95 % in all; the
	// least that would still be no slip is three quarters (a wrong sign or divisor holds none).
	if inside < n*3/4 {
		t.Errorf("%d of %d leans lie inside their uncertainty", inside, n)
	}
}

// The second sweep can be taken back reading by reading, and as a whole; nothing else may come between.
func TestTiltUndone(t *testing.T) {
	p := bench(t, 7)
	p.refused(session.Raise{Height: 30})
	p.until(session.ForReading).answer(2)
	p.refused(session.Raise{Height: 30})
	p.until(session.ForWind)
	for _, h := range []float64{0, 0.5, math.NaN(), math.Inf(1), 5000} {
		p.refused(session.Raise{Height: h})
	}
	told := p.state().Told
	p.do(session.Raise{Height: -30})
	p.refused(session.Raise{Height: 30})
	p.answer(2)
	p.do(session.Undo{}, session.Undo{}, session.Undo{})
	if s := p.state(); s.Raising != nil || digest(s.Told) != digest(told) {
		t.Errorf("taken back: %+v, told %+v, want %+v", s.Raising, s.Told, told)
	}
	p.do(session.Raise{Height: -30}, session.Bezel{Showed: 0, Shows: 0.01})
	p.answer(6)
	s := p.state()
	if s.Tilt == nil || s.Told == nil || math.Hypot(s.Tilt.X, s.Tilt.Y) > 5*s.Tilt.U {
		t.Fatalf("with the dial set anew: %+v", s.Tilt)
	}
	p.do(session.Undo{})
	if s := p.state(); s.Raising == nil || s.Sweep.Readings() != 5 || s.Tilt != nil {
		t.Errorf("the last reading taken back: %+v with %d readings", s.Raising, s.Sweep.Readings())
	}
	if _, err := session.ParseRaise("up", geom.Millimetre); err == nil {
		t.Error("a word passes for a height")
	}
	if h, err := session.ParseRaise(" 1,5 ", geom.Inch); err != nil || math.Abs(h.Height-38.1) > 1e-9 {
		t.Errorf("%v, %v, want 38.1 mm", h, err)
	}
}
