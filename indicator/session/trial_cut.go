package session

import (
	"math"
	"slices"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Where no reach is stated, a sweep shows the centre and no swing radius. That is set by scale, on the side of the waste by the
// stock and by all that the scale may be out; a first cut shows what it really is, and one wind makes it what it is to be. What
// the sweep saw at the radius that was measured then tells the reach.

// ByTrial reports whether the swing radius comes from a trial cut.
func (s *State) ByTrial() bool {
	return s.Set != nil && s.Set.Job.Target.Trial && s.Set.Job.Cut != nil && s.Part < 2
}

// leastLeaves is what a trial cut has to leave on at least, millimetres: the stock, and what the radius as set may be out.
func (s *State) leastLeaves() float64 {
	c := s.Set.Job.Cut
	scale, _ := c.Scale()
	return c.Stock + scale
}

// TrialRadius is the swing radius to set by scale for the trial cut, millimetres.
func (s *State) TrialRadius() float64 {
	return s.Set.Job.Target.SwingRadius + s.Set.Job.Cut.Waste()*s.leastLeaves()
}

// setRadius is the swing radius as it is set: as somebody has said, else as it was told.
func (s *State) setRadius() float64 {
	if s.RadiusSet > 0 {
		return s.RadiusSet
	}
	return s.TrialRadius()
}

// mostLeaves bounds what a radius set by scale may leave on beyond what it has to, millimetres: more is a diameter, or another
// slip (common practice, no source).
const mostLeaves = 5

// checkSet refuses a swing radius that leaves too little on, or far too much.
func (s *State) checkSet(v float64) error {
	j, u := &s.Set.Job, s.Set.Job.Unit
	scale, _ := j.Cut.Scale()
	least, sign := s.TrialRadius(), "+"
	if j.Cut.Hollow {
		sign = "-"
	}
	const again = "set it as it is told, brought up the take-up way, then done; or type the radius that is set"
	switch leaves := j.Cut.Waste() * (v - j.Target.SwingRadius); {
	case !(v > 0) || math.IsInf(v, 0):
		return refuse(again, "swing radius %.6g %v, need above 0", u.From(v), u)
	case leaves < s.leastLeaves()-noMetal:
		return refuse(again, "a swing radius of %.6g %v leaves %.4g %v on, need %.4g %v: %.6g %v = target %.6g %s stock %.4g %s %.4g that "+
			"a radius set so may be out", u.From(v), u, u.From(leaves), u, u.From(s.leastLeaves()), u, u.From(least), u,
			u.From(j.Target.SwingRadius), sign, u.From(j.Cut.Stock), sign, u.From(scale))
	case leaves > s.leastLeaves()+mostLeaves:
		return refuse(again, "a swing radius of %.6g %v leaves %.4g %v on, more than %.4g %v beyond what it has to", u.From(v), u,
			u.From(leaves), u, u.From(mostLeaves), u)
	}
	return nil
}

// setsRadius lists the chores ahead of the loads where the order is not asked for: the radius has to be set by scale all the same.
func (s *State) setsRadius() []Chore {
	if s.ByTrial() && !s.Set.Steps && !s.Readying {
		return []Chore{RoughIn}
	}
	return nil
}

// roughed is one cut that leaves metal on: the arc that it is meant to make, by how much that may be off, and its measurements so
// far. Millimetres.
type roughed struct {
	meant, open float64
	measures    []Worked
}

// strays reports whether its newest measurement is farther off than can be, so that it is measured once more.
func (r *roughed) strays(s *State) bool {
	n := len(r.measures)
	return n > 0 && r.measures[n-1].Value != nil && s.strays(r.measures, r.meant, r.open)
}

// left reports whether nobody has measured the cut, for the step was left out.
func (r *roughed) left() bool {
	n := len(r.measures)
	return n > 0 && r.measures[n-1].Value == nil
}

// ArcNow is the arc that would be cut as the offset slide stands, by the newest measurement that counts and the winds since: its
// radius, and what makes its standard doubt, that of the measurement and that of the winds. Known is false before anything was
// measured; Gone says that the measurement has shown metal gone that the target would have kept. Millimetres.
type ArcNow struct {
	Radius, Measured, Wound float64
	Known, Gone             bool
}

func (a *ArcNow) u() float64 { return math.Hypot(a.Measured, a.Wound) }

// Value is the radius with its expanded uncertainty.
func (a *ArcNow) Value() indicator.Value {
	if !a.Known {
		return indicator.Value{V: math.NaN(), U: math.NaN()}
	}
	return indicator.Value{V: a.Radius, U: fit.Coverage(math.Inf(1)) * a.u()}
}

// wind takes a wind into it.
func (a *ArcNow) wind(s *State, travel float64) {
	a.Radius, a.Wound = a.Radius+travel, math.Hypot(a.Wound, s.windU(travel))
}

// ArcNow: see there.
func (s *State) ArcNow() ArcNow {
	_, now := s.cuts(s.Worked)
	return now
}

// cuts are the cuts that leave metal on, once so much is done, and the arc as it stands then; the first is there before it is made.
func (s *State) cuts(done []Worked) (all []roughed, now ArcNow) {
	j := &s.Set.Job
	scale, _ := j.Cut.Scale()
	cutter, _ := cutterLimit(j)
	all = []roughed{{meant: j.Arc() + s.setRadius() - j.Target.SwingRadius, open: scale + cutter/2}}
	for i := range done {
		last := &all[len(all)-1]
		switch w := &done[i]; {
		case w.Step == Measure:
			if last.measures = append(last.measures, *w); w.Value != nil && !last.strays(s) {
				u, _ := measuredOr(s.measuredDoubt(w))
				now = ArcNow{Radius: *w.Value, Measured: u, Known: true, Gone: s.CutAway(*w.Value) > noMetal}
			}
		case w.Step.winds() && !w.Skipped && now.Known:
			if now.wind(s, s.goal(w.Step)-now.Radius); w.Step == LeaveStock {
				all = append(all, roughed{meant: now.Radius, open: now.Value().U})
			}
		}
	}
	return all, now
}

// lastCut is the newest of them.
func (s *State) lastCut() roughed {
	all, _ := s.cuts(s.Worked)
	return all[len(all)-1]
}

// goal is the arc that a wind goes to.
func (s *State) goal(c Chore) float64 {
	if c == LeaveStock {
		return s.Set.Job.Arc() + s.Set.Job.Cut.Left()
	}
	return s.Set.Job.Arc()
}

// windU is the standard doubt of a wind of the offset slide that no sweep looks at: of its screw, of the collar, and of its lock,
// which was closed before and is closed again.
func (s *State) windU(travel float64) float64 {
	sl, _, _ := s.RadiusSlide()
	l, ok := s.Lesson(sl.Name)
	u := advice.DoubtAlone(sl.Wind(travel), sl, l, ok)
	if sl.Lock && ok {
		u = math.Hypot(u, math.Sqrt2*l.Assumed.LockSpread)
	}
	return u
}

// trialWind tells such a wind, by what the slide has taught.
func (s *State) trialWind(travel float64) slide.Wind {
	sl, way, _ := s.RadiusSlide()
	l, ok := s.Lesson(sl.Name)
	return advice.ByCollar(sl, float64(way)*travel, 0, l, ok)
}

// trialTravel is what the swing radius has to change by in a wind behind a trial cut.
func (s *State) trialTravel(c Chore) float64 {
	now := s.ArcNow()
	return s.goal(c) - now.Radius
}

// trialCut lists the chores behind the change-over, which first holds.
func (s *State) trialCut(first []Chore) []Chore {
	out := first
	all, now := s.cuts(s.Worked)
	for i := range all {
		if i > 0 {
			out = append(out, LeaveStock)
		}
		out = append(append(s.powered(out), s.roughs()...), Isolate, Measure)
		again := len(all[i].measures) - 1
		if all[i].strays(s) {
			again++
		}
		for range again {
			out = append(out, Measure)
		}
	}
	last := &all[len(all)-1]
	if now.Gone || !now.Known && last.left() { // no wind puts metal back, or nobody knows how much there is to take off
		return append(out, CheckArc)
	}
	if len(all) == 1 && s.worthAgain() {
		if out = append(out, LeaveStock); !slices.ContainsFunc(s.Worked, func(w Worked) bool { return w.Step == LeaveStock }) {
			out = append(append(s.powered(out), s.roughs()...), Isolate, Measure)
		}
	}
	return append(append(s.powered(append(out, LastWind)), s.finishes(s.takesOff())...), Isolate, CheckArc)
}

// powered adds the power where the order at the machine is asked for.
func (s *State) powered(out []Chore) []Chore {
	if s.Set.Steps {
		return append(out, Power)
	}
	return out
}

// worthMuch is what a second cut has to bring the doubt of the arc down to, of itself, to be worth making.
const worthMuch = 0.8

// worthAgain reports whether stock is better left on once more and measured again: the last wind would be so long that its doubt
// is too much for the tolerance, and one of the stock alone leaves much less.
func (s *State) worthAgain() bool {
	done, j := s.Worked, &s.Set.Job
	if i := slices.IndexFunc(done, func(w Worked) bool { return w.Step.winds() }); i >= 0 {
		done = done[:i] // as it stood before any wind
	}
	_, now := s.cuts(done)
	if !now.Known || j.Cut.Stock == 0 {
		return false
	}
	far, near := now, now
	far.wind(s, j.Arc()-now.Radius)
	near.wind(s, j.Cut.Left())
	left := j.Cut.Waste()*(now.Radius-j.Arc()) - j.Cut.Stock // what the second cut would take off
	return far.Value().U > j.Target.Tolerance && near.u() < worthMuch*far.u() && left > noMetal+now.Value().U
}

// TrialCut is a cut that leaves metal on so that the arc can be measured: what it leaves, and the swing radius that it is made at,
// as far as that is known, millimetres. Scale is how far a radius set by scale may be out, Usual that nobody has said so; of a
// second cut 0.
type TrialCut struct {
	Leaves, Swing, Scale float64
	Usual                bool
}

// TrialCut is the one that comes next; ok is false where none does.
func (s *State) TrialCut() (t TrialCut, ok bool) {
	if !s.ByTrial() || s.Phase != Cutting {
		return t, false
	}
	all, done := s.Chores()
	if !roughAhead(all[min(len(done), len(all)):]) {
		return t, false
	}
	j := &s.Set.Job
	now := s.ArcNow()
	if !now.Known {
		t.Swing = s.setRadius()
		t.Leaves = j.Cut.Waste() * (t.Swing - j.Target.SwingRadius)
		t.Scale, t.Usual = j.Cut.Scale()
		return t, true
	}
	return TrialCut{Leaves: j.Cut.Stock, Swing: j.Target.SwingRadius + j.Cut.Left()}, true
}

// TrialSwing is the swing radius that a trial cut was made at: as its arc was measured, and half the cutter. ok is false before.
func (s *State) TrialSwing() (r indicator.Value, ok bool) {
	if !s.ByTrial() {
		return r, false
	}
	all, _ := s.cuts(s.Worked)
	first := &all[0]
	n := len(first.measures)
	if n == 0 || first.measures[n-1].Value == nil || first.strays(s) {
		return r, false
	}
	w := &first.measures[n-1]
	u, _ := measuredOr(s.measuredDoubt(w))
	return s.swings(*w.Value, u), true
}

// SwingNow is the swing radius as the offset slide stands, by the newest measured cut, the winds since and half the cutter; not
// known before.
func (s *State) SwingNow() indicator.Value {
	now := s.ArcNow()
	if !now.Known {
		return now.Value()
	}
	return s.swings(now.Radius, now.u())
}

// swings is the swing radius that an arc is cut at which is known to a standard uncertainty.
func (s *State) swings(arc, u float64) indicator.Value {
	j := &s.Set.Job
	cutter, _ := cutterLimit(j)
	return indicator.Value{V: arc + j.Cut.Waste()*j.Cut.Cutter/2,
		U: fit.Coverage(math.Inf(1)) * math.Hypot(u, indicator.FromLimit(cutter/2))}
}

// FoundReach is the reach that follows from the swing radius of a trial cut and what the sweep saw at it, with its doubt: the tip
// stood at z from the axis where the dial reads zero, and z = R + t. ok is false where that is not known.
func (s *State) FoundReach() (t indicator.Value, ok bool) {
	swing, ok := s.TrialSwing()
	f, err := s.Fit()
	if !ok || err != nil {
		return t, false
	}
	f.Setup.Reach, f.Setup.ReachKnown, f.Setup.ReachLimit = 0, true, 0
	z := f.Swing()
	if !z.Known() || !z.Sure() {
		return t, false
	}
	return indicator.Value{V: z.V - swing.V, U: math.Hypot(z.U, swing.U)}, true
}
