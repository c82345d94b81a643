package session_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// shortArc is the bench swept over 60° only, its dial without end.
func shortArc(t testing.TB) session.Opened {
	return with(t, func(j *setup.Job) {
		j.Sweep.From, j.Sweep.To, j.Dial.From, j.Dial.To = 20*geom.Degree, 80*geom.Degree, 0, 0
		j.Dial.AngleError = 0
	})
}

// On 60° nothing is decided; with the radius held the centre is, in fewer stations than planned.
func TestHold(t *testing.T) {
	// By itself it would wind by what is half guess; the sweep is closed, and nothing wound yet.
	p := open(t, shortArc(t), near42(0.1, 0.15, 0.08)).until(session.ForWind)
	f, v := verdicts(t, p.state())
	if _, short := f.Collinear(); !short || v.Radius == indicator.Inside {
		t.Fatalf("verdicts %+v are not what this test is about", v)
	}
	p.do(session.Hold{Radius: 42.1, Limit: 0.002})
	p.until(session.ForWind)
	s := p.state()
	f, v = verdicts(t, s)
	if v.Radius != indicator.Outside || v.Centre != indicator.Outside || math.Hypot(f.CentreX().V-0.15, f.CentreY().V-0.08) > 1e-9 ||
		f.Swing().V != 42.1 {
		t.Errorf("held: %+v, swing %+v, centre (%v, %v)", v, f.Swing(), f.CentreX(), f.CentreY())
	}
	// The winds of the offset slide take the held radius along, and its doubt grows by theirs.
	p.until(session.ForReading)
	s = p.state()
	if s.Trial != 2 || s.Hold == nil || math.Abs(s.Hold.Radius-42) > 1e-9 || s.Hold.Limit <= 0.002 || s.Hold.Limit > 0.01 {
		t.Errorf("trial %d, held %+v, want 42 with a little more than 0.002", s.Trial, s.Hold)
	}
	p.until(session.ForAccept)
	s = p.state()
	if _, v = verdicts(t, s); v.Radius != indicator.Inside || v.Centre != indicator.Inside {
		t.Errorf("in the end %+v, want both inside", v)
	}
}

// A held radius can be let go, and taken back; nonsense is refused.
func TestHoldRefusals(t *testing.T) {
	p := open(t, shortArc(t), near42(0.1, 0, 0))
	p.refused(session.Hold{Radius: 42})
	p.sweepTo(3)
	p.refused(session.Release{})
	for _, h := range []session.Hold{{}, {Radius: -42}, {Radius: math.NaN()}, {Radius: math.Inf(1)}, {Radius: 42, Limit: -1},
		{Radius: 42, Limit: math.NaN()}, {Radius: 5}} {
		p.refused(h)
	}
	p.do(session.Hold{Radius: 42.1, Limit: 0.002})
	if s := p.state(); s.Hold == nil || s.Hold.Radius != 42.1 {
		t.Fatalf("held %+v, want 42.1", s.Hold)
	}
	p.do(session.Release{})
	s := p.state()
	if f, err := s.Fit(); err != nil || f.Circle.Hold {
		t.Errorf("released: the fit holds %v (%v)", f.Circle.Hold, err)
	}
	p.do(session.Undo{}, session.Undo{})
	if s := p.state(); s.Hold != nil {
		t.Errorf("taken back: %+v is held", s.Hold)
	}
	o := shortArc(t)
	o.Job.Setup.ReachKnown, o.Job.Target = false, setup.Target{CentreTolerance: 0.02}
	p = open(t, o, near42(0.1, 0, 0)).sweepTo(3)
	p.refused(session.Hold{Radius: 42})
}
