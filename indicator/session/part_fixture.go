package session

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// PartDone is one part of a setting that was accepted, or counted without a sweep. Lengths are millimetres.
type PartDone struct {
	Part int
	// Unswept says that it was only counted; Trusted is how far off its centre was to be expected at most, infinite where nothing said.
	Unswept bool
	Trusted float64
	// Entered is the centre error that its first sweep found, Left the one that it was accepted with, and U the expanded uncertainty
	// of either along each coordinate.
	Entered, Left geom.Point
	U             [2]float64
	Readings      int
	Trials        int
	Verdict       indicator.Verdict
	// Out is in how many parts the fixture was said to be out behind this one; 0 where that was not said. May says that it was not sure
	// yet.
	Out int
	May bool
	// Before is the part before, nil of the first.
	Before *PartDone
	// lain is where it lay in the fixture's frame, and shown what all that were swept so far show of the fixture.
	lain  advice.Lain
	shown advice.Fixture
}

// All are a part and those before it, oldest first; none of nil.
func (d *PartDone) All() (all []*PartDone) {
	for ; d != nil; d = d.Before {
		all = append(all, d)
	}
	slices.Reverse(all)
	return all
}

// enters keeps where the first closed sweep of a part has found its centre, and the first behind a look that found it moved.
func (s *State) enters() {
	if s.Past != nil && (s.Entered != nil || s.listed() == nil) {
		return
	}
	if at, _, ok := s.lies(); ok {
		s.Entered = &at
	}
}

// lies is the centre error as the sweep shows it, and its expanded uncertainty along each coordinate; by the readouts' coordinates
// where it is touched.
func (s *State) lies() (at geom.Point, u [2]float64, ok bool) {
	if s.SetUp().Under().Pair {
		t, err := s.Located()
		if err != nil {
			return at, u, false
		}
		return t.Centre, [2]float64{t.CentreX().U, t.CentreY().U}, true
	}
	f, err := s.Fit()
	if err != nil {
		return at, u, false
	}
	return f.Circle.Centre, [2]float64{f.CentreX().U, f.CentreY().U}, true
}

// leaves puts the part that is accepted on the list. Where slides carry the axis over the work, or the work over the axis, what
// they have done since the part came in stands between the two sweeps; where the work itself is tapped, nothing has moved the axis.
func (s *State) leaves() {
	at, u, ok := s.lies()
	if !ok {
		return
	}
	d := &PartDone{Part: s.Part, Before: s.Parts, Left: at, Entered: at, U: u, Readings: s.Sweep.Taken, Trials: s.Trial,
		Trusted: math.NaN()}
	before := s.listed()
	if s.Entered != nil && (s.Part > 1 || before != nil) {
		d.Entered = *s.Entered
	}
	d.lain.N = s.Part
	if f, err := s.Fit(); err == nil {
		d.Verdict = s.Verdicts(&f).Centre
		if f.Dof > 0 {
			d.lain.U = f.Sigma * math.Sqrt((f.Circle.Cofactor[1][1]+f.Circle.Cofactor[2][2])/2)
		}
	}
	for t := s.Past; t != nil; t = t.Before {
		d.Readings += t.Sweep.Taken
	}
	switch {
	case s.SetUp().Under().Pair:
		d.lain.At = d.Left
		d.Entered, d.Left, s.Axis = d.Left.Sub(s.Axis), geom.Point{}, d.Left
		if s.Part == 1 {
			d.Entered = geom.Point{}
		}
	default:
		d.lain.At = s.Axis.Add(d.Entered)
		if s.SetUp().Does().Slides {
			s.Axis = s.Axis.Add(d.Entered.Sub(d.Left))
		}
	}
	if before != nil { // it has moved in the fixture since: where it came in is what the fixture shows
		d.lain, d.Entered = before.lain, before.Entered
		d.Before = before.Before
	}
	s.Parts = d.Before
	d.shown = s.Fixture().And(d.lain)
	s.Parts = d
	if out, may, heads := s.HeadsOut(); heads {
		d.Out, d.May = out, may
	}
}

// listed is the open part as it was accepted before, nil where it was not.
func (s *State) listed() *PartDone {
	if s.Parts != nil && s.Parts.Part == s.Part {
		return s.Parts
	}
	return nil
}

// counted is the open part as it is counted without a sweep.
func (s *State) counted() *PartDone {
	f := s.Fixture()
	return &PartDone{Part: s.Part, Unswept: true, Before: s.Parts, shown: f, U: [2]float64{math.NaN(), math.NaN()},
		Trusted: f.Trusted(s.Part, s.Axis, s.Set.Job.Batch().FixtureLimit)}
}

// Fixture is what the parts so far show of the place to which the next ones return.
func (s *State) Fixture() advice.Fixture {
	if s.Parts == nil {
		return advice.Fixture{}
	}
	return s.Parts.shown
}

// HeadsOut says in how many parts from the last one that was swept the fixture is out of the centre's tolerance; may says that it is
// not sure yet that it walks.
func (s *State) HeadsOut() (parts int, may, ok bool) {
	f, tol := s.Fixture(), s.Set.Job.Target.CentreTolerance
	if parts, ok = f.Out(s.Axis, tol); ok {
		return parts, false, true
	}
	parts, ok = f.MayBeOut(s.Axis, tol)
	return parts, ok, ok
}

// Every is how many parts on the next sweep is due: as the job says, else as far as the parts before are to be trusted.
func (s *State) Every() int {
	b := s.Set.Job.Batch()
	if b.Every > 0 {
		return b.Every
	}
	f := s.Fixture()
	return f.Every(s.Axis, s.Set.Job.Target.CentreTolerance, b.FixtureLimit)
}

// SweepDue reports whether the next part is to be swept: the second always, and then every so many.
func (s *State) SweepDue() bool {
	return s.Part < 2 || s.Part+1-max(1, s.Fixture().Last) >= s.Every()
}
