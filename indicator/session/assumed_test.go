package session_test

import (
	"slices"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// unsaid is the bench's setting with nothing stated, and a tolerance on the swing radius.
func unsaid(t testing.TB, tolerance float64) session.Opened {
	o := cuts(t, false, 0.001)
	o.Job.Stated, o.Job.Setup.ReachLimit, o.Job.Target.Tolerance = nil, 0, tolerance
	return o
}

// Where nobody has said how right the reach is, no wind and no further station makes room for it: whatever the tolerance, the
// setting settles after few trials, is inside only where 0.005 mm is left, and can be accepted as it is. With the same tolerances
// stated, or by the rules of old, it is inside.
func TestUnsaidEndsInSomethingToDo(t *testing.T) {
	for _, tolerance := range []float64{0.004, 0.006, 0.008, 0.01, 0.012, 0.02, 0.04} {
		for _, off := range []float64{0, 0.003, 0.012, 0.3} {
			p := open(t, unsaid(t, tolerance), near42(off, off/2, -off/3)).until(session.ForAccept)
			s := p.state()
			f, err := s.Fit()
			if err != nil {
				t.Fatal(err)
			}
			v, r := s.Verdicts(&f), f.Swing()
			left := tolerance - max(r.V-42, 42-r.V) - r.U
			if want := left >= 0.005; (v.Radius == indicator.Inside) != want || v.Radius == indicator.Outside {
				t.Errorf("tolerance %v, %v off: radius %v with %v left", tolerance, off, v.Radius, left)
			}
			if s.Trial > 3 || (v.Radius != indicator.Inside && left >= 0 && s.Sweep.N > 6) {
				t.Errorf("tolerance %v, %v off: settled in trial %d behind %d stations", tolerance, off, s.Trial, s.Sweep.N)
			}
			p.do(session.Accept{})
		}
	}
	// 0.0028 is more than the doubt of it, and more than half of the tolerance with it; and yet 0.006 is too little for any wind.
	if s := open(t, unsaid(t, 0.006), near42(0.0028, 0, 0)).until(session.ForAccept).state(); s.Trial > 1 {
		t.Errorf("wound for a tolerance that leaves no room wherever the slide stands: settled in trial %d", s.Trial)
	}
	o := unsaid(t, 0.006)
	o.Job.Stated = indicator.Stated{indicator.OfReach, indicator.OfReference, indicator.OfForm, indicator.OfDial}
	s := open(t, o, near42(0, 0, 0)).until(session.ForAccept).state()
	f, _ := s.Fit()
	if v := s.Verdicts(&f); v.Radius != indicator.Inside || len(s.Assumed(&f)) > 0 {
		t.Errorf("all stated as exact: %v, leaning on %v", v, s.Assumed(&f).Names())
	}
	s.Set.Job.Stated, s.Set.Rules = nil, 0
	if v := s.Verdicts(&f); v.Radius != indicator.Inside || len(s.Assumed(&f)) != 4 {
		t.Errorf("by the rules of old: %v, leaning on %v", v, s.Assumed(&f).Names())
	}
}

// The cure that is told works: once an arc of this reach was measured and its error taken up, reach and reference are known by it,
// to the doubt of the arc, and the swing radius no longer leans on them.
func TestMeasuredArcStandsForTheReach(t *testing.T) {
	m := shop{b: 0.018}
	p := open(t, unsaid(t, 0.02), near42(0, 0, 0))
	m.through(p)
	p.do(session.Open{Opened: unsaid(t, 0.02)})
	before := p.until(session.ForAccept).state()
	p.do(session.Bias{})
	after := p.until(session.ForAccept).state()
	f, _ := before.Fit()
	g, _ := after.Fit()
	was, is := before.Assumed(&f), after.Assumed(&g)
	if len(was) != 4 || !slices.Equal(is.Names(), []string{indicator.OfForm, indicator.OfDial}) {
		t.Errorf("leaning on %v, with the arc taken up on %v; want all four, then form and dial", was.Names(), is.Names())
	}
	if u := g.Swing().U; !(u > 0.002) || !(u > f.Swing().U) {
		t.Errorf("with the arc taken up U is %v, before %v: the arc's doubt is not in it", u, f.Swing().U)
	}
}

// A limit of 0 that is stated is no reason for the feedback of arcs to take its default.
func TestFeedbackTakesAStatedZero(t *testing.T) {
	stated := func() session.Opened {
		o := unsaid(t, 0.02)
		o.Job.Stated, o.Job.Cut.CutterLimit = indicator.Stated{indicator.OfReach, indicator.OfCutter}, 0
		return o
	}
	p := open(t, stated(), near42(0, 0, 0))
	shop{b: 0.001}.through(p)
	p.do(session.Open{Opened: stated()})
	if fb := fed(t, p); fb.Reach != 0 || fb.Cutter != 0 {
		t.Errorf("both stated as exact, and yet taken: reach %v, cutter %v", fb.Reach, fb.Cutter)
	}
}
