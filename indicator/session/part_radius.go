package session

import (
	"math"
	"slices"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Carried is a swing radius that no sweep of this part has seen: where it comes from, and what had been proven of it.
type Carried struct {
	indicator.Value
	By      CarriedBy
	Verdict indicator.Verdict
	Assumed indicator.Assumed
	Room    float64
	// Unstated says that nobody has said how well the arc was measured, so that its usual doubt is taken.
	Unstated bool
}

// CarriedBy says what a carried radius was last known by.
type CarriedBy string

// The ways.
const (
	CarriedBySweep CarriedBy = "sweep" // the accepted sweep of the first part
	CarriedByArc   CarriedBy = "arc"   // an arc of it that was measured, and what was wound behind that
)

// carry takes the swing radius along, with what was wound and measured since the first part's acceptance.
func (s *State) carry() {
	if s.Carried != nil && s.Part > 1 || !s.Set.Job.SweepsSwing() {
		return
	}
	f, err := s.Fit()
	r, known := s.Swing(&f)
	if err != nil || !known {
		return
	}
	c := Carried{Value: r, By: CarriedBySweep, Verdict: s.Verdicts(&f).Radius, Assumed: s.Assumed(&f), Room: s.Room(&f).Radius}
	target := s.Set.Job.Target.SwingRadius + s.Bias.By
	by, doubt := s.woundSince()
	if by != 0 || doubt != 0 {
		c.V, c.U = r.V+by, math.Hypot(r.U, expandedDoubt*doubt)
	}
	if arc, ok := s.byArc(doubt); ok && (arc.U < c.U || math.Abs(arc.V-c.V) > math.Hypot(arc.U, c.U)) {
		c = Carried{Value: arc, By: CarriedByArc, Room: math.NaN()} // what was cut counts
		_, c.Unstated = measuredOr(s.measuredDoubt(s.lastMeasured()))
		target = s.Set.Job.Target.SwingRadius
	}
	if c.Value != r {
		c.Verdict = indicator.Judge(indicator.Value{V: c.V - target, U: c.U}, s.Set.Job.Target.Tolerance, 1)
	}
	s.Carried = &c
}

// keepRadius takes the swing radius along as it was accepted, for a sweep that does not see it.
func (s *State) keepRadius() {
	if s.Carried != nil || !s.Set.Job.SweepsSwing() {
		return
	}
	f, err := s.Fit()
	if err != nil {
		return
	}
	if r, known := s.Swing(&f); known {
		s.Carried = &Carried{Value: r, By: CarriedBySweep, Verdict: s.Verdicts(&f).Radius, Assumed: s.Assumed(&f), Room: s.Room(&f).Radius}
	}
}

// byArc is the swing radius that the newest measurement of this part's arc makes of it, with what was wound behind that to a standard
// doubt; ok is false where none was measured.
func (s *State) byArc(doubt float64) (r indicator.Value, ok bool) {
	w := s.lastMeasured()
	if w == nil || s.Set.Job.Arc() == 0 {
		return r, false
	}
	r = indicator.Value{V: s.Set.Job.Target.SwingRadius + *w.Value - s.Set.Job.Arc(), U: s.cutU(w)}
	if w.Step == Measure {
		r = indicator.Value{V: r.V + s.lastTravelDone(), U: math.Hypot(r.U, expandedDoubt*doubt)}
	}
	return r, true
}

// expandedDoubt makes an expanded uncertainty of a standard one that is well known.
var expandedDoubt = fit.Coverage(math.Inf(1))

// with are the figures that an answer leans on of which the radius was carried over.
func (c *Carried) with(centre indicator.Assumed) (out indicator.Assumed) {
	for _, l := range c.Assumed {
		if l.Radius > 0 {
			l.Centre = 0
			out = append(out, l)
		}
	}
	for _, l := range centre {
		if i := slices.IndexFunc(out, func(x indicator.Lean) bool { return x.Name == l.Name }); i >= 0 {
			out[i].Centre = l.Centre
			continue
		}
		out = append(out, l)
	}
	return out
}

// lastMeasured is the newest measurement of this part's arc, nil where none is.
func (s *State) lastMeasured() *Worked {
	for i := len(s.Worked) - 1; i >= 0; i-- {
		if w := &s.Worked[i]; w.Value != nil && w.Step.row().answer == arcRadius {
			return w
		}
	}
	return nil
}

// lastTravelDone is what the swing radius was wound by behind the measurement.
func (s *State) lastTravelDone() float64 {
	for _, w := range s.Worked {
		if w.Step == LastWind && !w.Skipped {
			return s.lastTravel()
		}
	}
	return 0
}
