package session

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
	"example.org/trammel/indicator/setup"
)

// Means is what two settings have to share for an arc of the one to teach the other: the same unknown error of
// the swing radius, and the same cutter. Lengths are millimetres.
type Means struct {
	Machine   string          `json:"machine,omitempty"`
	Cutter    float64         `json:"cutter"`
	Kind      indicator.Kind  `json:"kind"`
	Touch     indicator.Touch `json:"touch"`
	Reference float64         `json:"reference"`
	Reach     float64         `json:"reach"`
	Tip       float64         `json:"tip,omitempty"`
	Lever     float64         `json:"lever,omitempty"` // radians
	// Held says that the swing radius was held, not found; Bezel is how far the dial had been set anew, which
	// moves the reach.
	Held  bool    `json:"held,omitempty"`
	Bezel float64 `json:"bezel,omitempty"`
}

// Finished is an arc that was cut and measured. Lengths are millimetres, uncertainties standard ones.
type Finished struct {
	By     Means `json:"by"`
	Hollow bool  `json:"hollow,omitempty"`
	// Off is its radius less what the accepted swing radius and the cutter should have made of it.
	Off float64 `json:"off"`
	// Own is the doubt that this setting has alone: of its readings, and of the winds behind its acceptance.
	Own float64 `json:"own"`
	// Common is the doubt that its sweep could not show, by the limits that the job states.
	Common float64 `json:"common,omitempty"`
	// Measured is the doubt of the measurement; 0 where the job does not say.
	Measured float64 `json:"measured,omitempty"`
}

// mostArcs bounds how many arcs a setting's opening carries along: the newest.
const mostArcs = 64

// DefaultReachLimit is how far the reach is taken to be out, ±, where the job states no limit: without one an
// arc that came out wrong could be blamed on the cutter alone (common practice, no source).
const DefaultReachLimit = 0.05

// reachLimit and cutterLimit are how far a job's reach and cutter may be out, ±, and whether that is the usual limit, for nobody has
// stated one.
func reachLimit(j *setup.Job) (limit float64, usual bool) {
	return limitOr(j.Setup.ReachLimit, DefaultReachLimit, j.Stated.Has(indicator.OfReach))
}

func cutterLimit(j *setup.Job) (limit float64, usual bool) {
	return limitOr(j.Cut.CutterLimit, setup.DefaultCutterLimit, j.Stated.Has(indicator.OfCutter))
}

// measuredOr is the standard uncertainty of an arc's measurement, 0 where nobody says it: then it is the usual one.
func measuredOr(u float64) (is float64, usual bool) {
	return limitOr(u, setup.DefaultMeasuredError, false)
}

func limitOr(is, usually float64, stated bool) (limit float64, usual bool) {
	if is == 0 && !stated {
		return usually, true
	}
	return is, false
}

// metal is the side of the metal that a job cuts.
func metal(hollow bool) check.Side {
	if hollow {
		return check.Outside
	}
	return check.Inside
}

// means are those of the setting that is open, whose job says how it is cut.
func (s *State) means() Means {
	u := s.setup()
	return Means{Machine: s.Set.Machine.Name, Cutter: s.Set.Job.Cut.Cutter, Kind: u.Kind, Touch: u.Touch, Reference: u.ReferenceRadius,
		Reach: u.Reach, Tip: u.TipDiameter, Lever: s.Set.Job.Dial.LeverAngle, Held: u.HeldRadius > 0, Bezel: s.Bezel}
}

// finish keeps a measured arc, the first time that it is measured: with its stock on, for the last wind takes
// out what was found then, and later than that for an arc whose stock was not measured. A radius that a slide has set off
// an axis has no reach and no reference in it: it teaches nothing of these.
func (s *State) finish(w Worked) {
	c := s.Set.Job.Cut
	again := w.Step != Measure && slices.ContainsFunc(s.Worked, func(x Worked) bool { return x.Step == Measure && x.Value != nil })
	if s.ByTrial() {
		return // it tells nothing of a reach that was stated
	}
	if s.Set.Rules >= statedRules && w.Step == Measure && c != nil && s.doubtsCut(append(measures(s.Worked), w)) {
		return // it is measured again
	}
	if !s.Set.Job.SweepsSwing() || w.Value == nil || (w.Step != Measure && w.Step != CheckArc) || again || c == nil ||
		s.Set.Job.Arc() == 0 {
		return
	}
	f, err := s.Fit()
	r := f.Swing()
	if err != nil || !r.Known() || !r.Sure() {
		return
	}
	by, wound := s.woundSince()
	f.Setup.ReachLimit, f.Setup.ReferenceLimit = s.Set.Job.Setup.ReachLimit, s.Set.Job.Setup.ReferenceLimit // as before any arc
	own, common := doubts(&f)
	a := Finished{By: s.means(), Hollow: c.Hollow, Off: *w.Value - check.Made(r.V+by, c.Cutter, metal(c.Hollow)),
		Own: math.Hypot(own, wound), Common: common, Measured: s.measuredDoubt(&w)}
	s.Arcs = append(slices.Clip(s.Arcs), a)
	if n := len(s.Arcs); n > mostArcs {
		s.Arcs = s.Arcs[n-mostArcs:]
	}
}

// woundSince is how far the swing radius has been wound off the accepted one for its stock, with the doubt of that.
func (s *State) woundSince() (by, doubt float64) {
	sl, ok := s.Set.Machine.Slide("offset")
	for _, w := range s.Worked {
		if !ok || w.Skipped || !w.Step.winds() {
			continue
		}
		travel := s.Set.Job.Cut.Left()
		if w.Step == LastWind {
			travel = s.lastTravel()
		}
		by, doubt = by+travel, math.Hypot(doubt, s.doubtOf(sl.Wind(travel)))
	}
	return by, doubt
}

// doubts splits the doubt of a swing radius into what its own sweep leaves open and what no sweep shows.
// The sweep's counts for more where few readings know it.
func doubts(f *indicator.Estimate) (own, common float64) {
	for _, p := range f.Budget() {
		switch p.Name {
		case indicator.PartReadings, indicator.PartDrift:
			own = math.Hypot(own, p.U*fit.Coverage(p.Dof)/fit.Coverage(math.Inf(1)))
		default:
			common = math.Hypot(common, p.U)
		}
	}
	return own, common
}

// Feedback is what the arcs that were checked so far say of the open setting's swing radius.
type Feedback struct {
	Side   check.Side
	Learnt check.Learnt
	// Taken counts the arcs that were learnt from; Odd are those that do not fit, Other counts those that were cut
	// or set by other means.
	Taken, Other int
	Odd          []check.Fits
	// By is what the swing radius should be set larger by, in whole last places of its unit, and how far the arc
	// may then still be out; not known where Why is not empty.
	By indicator.Value
	// Why says why nothing is proposed.
	Why string
	// Reach, Cutter and Measured are what was taken for granted, millimetres: the limits of both, and the standard
	// uncertainty of a measured arc. 0 where the job states them.
	Reach, Cutter, Measured float64
}

// Feedback says what the arcs so far have taught for this setting; ok is false where none was checked, or the
// setting cuts no arc of a known side.
func (s *State) Feedback() (fb Feedback, ok bool) {
	if s.Set == nil || len(s.Arcs) == 0 || s.Set.Job.Arc() == 0 || !s.Set.Job.SweepsSwing() {
		return fb, false
	}
	c := s.Set.Job.Cut
	fb = Feedback{Side: metal(c.Hollow), By: indicator.Value{V: math.NaN(), U: math.NaN()}}
	arcs := s.alike(&fb)
	if len(arcs) == 0 {
		fb.Why = "the arcs so far were cut with another cutter, or set on another machine or by another reach or reference"
		return fb, true
	}
	var err error
	if fb.Learnt, err = fb.begin(&s.Set.Job, arcs); err != nil {
		fb.Why = err.Error()
		return fb, true
	}
	for _, a := range arcs {
		tool, usual := measuredOr(a.Measured)
		if usual {
			fb.Measured = tool
		}
		var f check.Fits
		fb.Learnt, f = fb.Learnt.Add(check.Checked{Side: metal(a.Hollow), Error: indicator.Value{V: a.Off,
			U: tool * fit.Coverage(math.Inf(1))}, Scatter: a.Own})
		if fb.Taken++; !f.Taken {
			fb.Taken--
			fb.Odd = append(fb.Odd, f)
		}
	}
	fb.propose(s.Set.Job.Unit)
	return fb, true
}

// alike are the arcs that were made by this setting's means; the others are counted.
func (s *State) alike(fb *Feedback) (out []Finished) {
	now := s.means()
	for _, a := range s.Arcs {
		if a.By == now {
			out = append(out, a)
		}
	}
	fb.Other = len(s.Arcs) - len(out)
	return out
}

// begin is what is known before any arc: what the sweeps could not show, and the cutter's limit.
func (fb *Feedback) begin(j *setup.Job, arcs []Finished) (check.Learnt, error) {
	common := 0.0
	for _, a := range arcs {
		common = max(common, a.Common)
	}
	if reach, usual := reachLimit(j); usual && !arcs[0].By.Held {
		fb.Reach = reach
		common = math.Hypot(common, indicator.FromLimit(fb.Reach))
	}
	cutter, usual := cutterLimit(j)
	if usual {
		fb.Cutter = cutter
	}
	return check.NewLearnt(common, indicator.FromLimit(cutter))
}

// propose asks what was learnt for a correction of this side.
func (fb *Feedback) propose(u geom.Unit) {
	by, ok := fb.Learnt.Correction(fb.Side)
	switch {
	case fb.Taken == 0:
		fb.Why = "no arc so far fits what is stated of reach, cutter and measurement"
	case !ok:
		fb.Why = "the arcs so far have their metal on the other side, and an error of the swing radius is not told apart from one " +
			"of the cutter"
	default:
		whole := math.Pow10(geom.Places(0, u))
		fb.By = indicator.Value{V: u.MM((math.Round(u.From(by.V)*whole) + 0) / whole), U: by.U}
	}
}
