package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// trial is the bench without a reach, its arc of 38 (a boss) or 46 (a hollow) to be cut at 42 with a cutter of 8: 0.3 of stock, and
// a scale that is right within so much, 0 for nobody has said.
func trial(t testing.TB, hollow, steps bool, scale float64, change ...func(*setup.Job)) session.Opened {
	o := with(t, func(j *setup.Job) {
		j.Setup.Reach, j.Setup.ReachKnown, j.Target.Trial = 0, false, true
		j.Stated = slices.DeleteFunc(j.Stated, func(f string) bool { return f == indicator.OfReach })
		j.Cut = &setup.Cut{Hollow: hollow, Cutter: 8, Stock: 0.3, RadiusLimit: scale, MeasuredError: 0.005}
		for _, c := range change {
			c(j)
		}
	})
	o.Steps = steps
	return o
}

// at43 is a bench that stands at a swing radius of 43.3 and so much, its needle about amid its range.
func at43(by, arc float64) *ideal {
	return &ideal{rho: 30, swing: 43.3 + by, reach: -13.3 - by, ex: 0.05, ey: -0.08, arc: arc}
}

// cutting brings a trial to its measurement.
func cutting(t *testing.T, o session.Opened, w *ideal) *player {
	t.Helper()
	p := open(t, o, w).until(session.ForAccept)
	p.do(session.Accept{})
	for p.prompt().Chore.Step != session.Measure {
		p.answer(1)
	}
	return p
}

// cutByTrial plays a trial to its checked arc, stock left on twice.
func cutByTrial(t testing.TB) *player {
	t.Helper()
	o := trial(t, false, true, 0, func(j *setup.Job) { j.Target.Tolerance, j.Cut.MeasuredError = 0.009, 0.002 })
	w := at43(1, 40.3)
	p := open(t, o, w).until(session.ForChore).answer(1)
	p.do(session.Take{Reading: 43.5}, session.Undo{}, session.Take{Reading: 43.5})
	for w.arc = 40.3; p.prompt().Waits != session.ForNothing; p.answer(1) {
		if p.prompt().Waits == session.ForWind && p.prompt().Chore.Step != "" {
			w.arc += p.prompt().Wind.Told.Wind.Travel
		}
	}
	return p
}

// By hand: 42 + 0.3 + 1 = 43.3 for a boss, 42 - 0.3 - 1 = 40.7 for a hollow; with a collar that is known to 0.2, 42.5. The sweep
// winds the cross slides alone, and neither the sum nor any wind touches the offset slide before the arc has been measured; then it
// goes by what was measured. An arc of 39.3 and half a cutter of 8 are a swing radius of 43.3, and a tip that stands at the wall of 30
// there has a reach of -13.3.
func TestTrialCut(t *testing.T) {
	for _, c := range []struct {
		hollow                   bool
		scale, set, arc, last, r float64
	}{{false, 0, 43.3, 39.3, -1.3, 43.3}, {true, 0, 40.7, 44.8, 1.2, 40.8}, {false, 0.2, 42.5, 38.52, -0.52, 42.52}} {
		w := &ideal{rho: 30, swing: c.r, reach: 30 - c.r, ex: 0.05, ey: -0.08, arc: c.arc}
		p := open(t, trial(t, c.hollow, true, c.scale), w)
		if s := p.state(); math.Abs(s.TrialRadius()-c.set) > 1e-9 {
			t.Errorf("%+v: %v to be set", c, s.TrialRadius())
		}
		p.until(session.ForAccept)
		for _, st := range p.steps {
			if e, ok := st.Event.(session.Told); ok && e.Wind.Slide == "offset" {
				t.Errorf("%+v: the offset slide is wound ahead of the cut", c)
			}
		}
		p.do(session.Accept{})
		s := p.state()
		if cut, ok := s.TrialCut(); !ok || math.Abs(cut.Leaves-math.Abs(c.set-42)) > 1e-9 || math.Abs(cut.Swing-c.set) > 1e-9 {
			t.Errorf("%+v: %+v, %v is told", c, cut, ok)
		}
		p.until(session.ForWind)
		if got := p.prompt().Wind.Told.Wind.Travel; math.Abs(got-c.last) > 1e-9 {
			t.Errorf("%+v: the last wind goes %v", c, got)
		}
		w.arc = c.arc + c.last
		p.until(session.ForNothing)
		s = p.state()
		if r, ok := s.FoundReach(); !ok || math.Abs(r.V-(30-c.r)) > 1e-3 || !(r.U > 0.01 && r.U < 0.03) {
			t.Errorf("%+v: reach %+v, %v", c, r, ok)
		}
		if now := s.ArcNow(); math.Abs(now.Radius-s.Set.Job.Arc()) > 1e-9 || !(now.Wound > 0) {
			t.Errorf("%+v: the arc stands at %+v", c, now)
		}
		want := "isolate; rough in; lock height; tip in; rock; lock spindle; rock again; isolate; indicator out; cutter in; free " +
			"spindle; dry swing; power; rough cut; isolate; measure; last wind; power; cut; isolate; check arc"
		if got := strings.Join(chores(p), "; "); got != want {
			t.Errorf("%+v: the order is\n%s, want\n%s", c, got, want)
		}
	}
}

// Without the order at the machine the steps that the radius hangs on are asked for all the same.
func TestTrialCutWithoutSteps(t *testing.T) {
	p := open(t, trial(t, false, false, 0), at43(0, 39.3))
	p.until(session.ForNothing)
	want := "rough in; rough cut; isolate; measure; last wind; cut; isolate; check arc"
	if got := strings.Join(chores(p), "; "); got != want {
		t.Errorf("the order is %s, want %s", got, want)
	}
}

// A radius that leaves less than the stock and all that the scale may be out is refused with that sum; one that leaves more is
// taken, and meant from then on.
func TestTrialRadiusAsSet(t *testing.T) {
	for _, c := range []struct {
		hollow    bool
		bad, good []float64
		sum       string
	}{
		{false, []float64{43.29, 42, 41, 0, -43, 49, math.Inf(1), math.NaN()}, []float64{43.3, 43.8},
			"42.5 mm leaves 0.5 mm on, need 1.3 mm: 43.3 mm = target 42 + stock 0.3 + 1 that"},
		{true, []float64{40.71, 42, 43.3, 0, 35}, []float64{40.7, 40.1},
			"42.5 mm leaves -0.5 mm on, need 1.3 mm: 40.7 mm = target 42 - stock 0.3 - 1 that"},
	} {
		p := open(t, trial(t, c.hollow, false, 0), at43(0, 39.3))
		for _, v := range c.bad {
			p.refused(session.Take{Reading: v})
		}
		if why := p.refused(session.Take{Reading: 42.5}).Because; !strings.Contains(why, c.sum) {
			t.Errorf("refused for %q, want %q in it", why, c.sum)
		}
		for _, v := range c.good {
			p.do(session.Take{Reading: v})
			s := p.state()
			if s.RadiusSet != v || math.Abs(s.Meant(session.Measure)-s.Set.Job.Arc()-(v-42)) > 1e-9 {
				t.Errorf("set to %v: %v is kept, an arc of %v meant", v, s.RadiusSet, s.Meant(session.Measure))
			}
			p.do(session.Undo{})
			if s = p.state(); s.RadiusSet != 0 {
				t.Errorf("taken back, %v is kept", s.RadiusSet)
			}
		}
	}
	// Where a reach is known the step takes no number.
	open(t, stepwise(t, false), near42(0, 0, 0)).answer(1).refused(session.Take{Reading: 43.5})
}

// What lies beyond what scale, cutter and measurement leave open is measured again: 39.3 ± (1 + 0.015 + 2·0.005). What is cut past the
// line is not wound on, and what nobody has measured neither.
func TestTrialMeasured(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		measured []float64 // 0 leaves the step out
		last     float64
	}{
		{[]float64{39.3}, -1.3}, {[]float64{40.3}, -2.3}, {[]float64{38.31}, -0.31}, {[]float64{40.5, 39.5}, -1.5},
		{[]float64{40.5, 40.49}, -2.49}, {[]float64{37.9, 37.91}, none}, {[]float64{0}, none}, {[]float64{41, 0}, none},
	} {
		p := cutting(t, trial(t, false, true, 0), at43(0, 0))
		for i, m := range c.measured {
			if p.prompt().Chore.Step != session.Measure {
				t.Fatalf("%v: asked for %v behind %d of them, want to measure again", c.measured, p.prompt().Chore.Step, i)
			}
			if m == 0 {
				p.do(session.Skip{})
			} else {
				p.do(session.Take{Reading: m})
			}
		}
		if p.prompt().Chore.Step == session.Measure {
			t.Errorf("%v: measured once more", c.measured)
			continue
		}
		got := p.last()
		if math.Abs(got-c.last) > 1e-9 || math.IsNaN(got) != math.IsNaN(c.last) {
			t.Errorf("%v: the last wind goes %v, want %v", c.measured, got, c.last)
		}
		if math.IsNaN(c.last) && p.prompt().Chore.Step != session.CheckArc {
			t.Errorf("%v: goes on with %q, want the check", c.measured, p.prompt().Chore.Step)
		}
	}
}

// A last wind of 2.3 is known to more than a tolerance of 0.009, one of the stock to less: stock is left on once more, and measured
// again; or that is left out, and it goes to size at once. By hand: 38.3 - 40.3 = -2, 38 - 38.304 = -0.304.
func TestTrialCutTwice(t *testing.T) {
	o := trial(t, false, true, 0, func(j *setup.Job) { j.Target.Tolerance, j.Cut.MeasuredError = 0.009, 0.002 })
	for _, skip := range []bool{false, true} {
		p := cutting(t, o, at43(1, 38))
		p.do(session.Take{Reading: 40.3})
		s := p.state()
		if cut, ok := s.TrialCut(); !ok || cut.Leaves != 0.3 || cut.Scale != 0 || math.Abs(cut.Swing-42.3) > 1e-9 {
			t.Fatalf("%+v, %v is told", cut, ok)
		}
		if c := p.prompt().Chore.Step; c != session.LeaveStock || math.Abs(p.prompt().Wind.Told.Wind.Travel+2) > 1e-9 {
			t.Fatalf("%q is asked for, a wind of %v", c, p.prompt().Wind.Told.Wind.Travel)
		}
		if skip {
			p.do(session.Skip{})
			if got := p.last(); p.prompt().Chore.Step != session.LastWind || math.Abs(got+2.3) > 1e-9 {
				t.Errorf("left out, %q is asked for, a wind of %v", p.prompt().Chore.Step, got)
			}
			p.until(session.ForNothing)
			continue
		}
		p.do(session.Confirm{})
		for p.prompt().Chore.Step != session.Measure {
			p.answer(1)
		}
		p.do(session.Take{Reading: 38.304})
		if got := p.last(); p.prompt().Chore.Step != session.LastWind || math.Abs(got+0.304) > 1e-9 {
			t.Errorf("%q is asked for, a wind of %v", p.prompt().Chore.Step, got)
		}
		p.until(session.ForNothing)
		want := "rough cut; isolate; measure; leave stock; power; rough cut; isolate; measure; last wind; power; cut; isolate; check arc"
		if got := strings.Join(chores(p), "; "); !strings.HasSuffix(got, want) {
			t.Errorf("the order is %s, want it to end %s", got, want)
		}
		// The reach is that of the first cut, which the sweep was made at.
		s = p.state()
		if r, ok := s.FoundReach(); !ok || math.Abs(r.V+14.3) > 1e-3 {
			t.Errorf("reach %+v, %v", r, ok)
		}
	}
}

// Nothing is fed back of a trial, and nothing corrected in one: its radius is measured.
func TestTrialTeachesNoReach(t *testing.T) {
	p := open(t, trial(t, false, true, 0), at43(0, 39.3)).until(session.ForReading)
	by := -0.02
	if why := p.refused(session.Bias{By: &by}).Because; !strings.Contains(why, "trial cut") {
		t.Errorf("a correction is refused for %q", why)
	}
	p.until(session.ForNothing)
	if s := p.state(); len(s.Arcs) != 0 {
		t.Errorf("%+v is learnt", s.Arcs)
	}
}
