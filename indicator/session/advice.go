package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// limit is how many stations a sweep grows to while it is undecided: twice what the job plans,
// for past that the square root makes further stations dear. It is 0 for a sweep that no circle
// can be fitted to, which Decide does not open.
func (s *State) limit() int {
	n := s.Set.Job.Sweep.Stations
	if n < fit.MinStations || n > indicator.MaxStations {
		return 0
	}
	return min(2*n, indicator.MaxStations)
}

// full reports whether the sweep takes no more stations.
func (s *State) full() bool {
	return s.Sweep.Entries() >= s.limit() || s.Sweep.N >= indicator.MaxStations
}

// Suspects returns the readings of the sweep that do not fit the others, with Index counting the
// sweep's stations from 0. The person's word for a reading does not silence it here.
func (s *State) Suspects(f *indicator.Found) []indicator.Suspect {
	if s.touches() {
		return s.suspectPoints(f)
	}
	bearings, readings, station := s.Readings(f)
	out := f.Suspects(bearings, readings)
	for i := range out {
		out[i].Index = station[out[i].Index] - 1
	}
	return out
}

// doubted returns the first suspect that nobody has looked at again yet.
func (s *State) doubted(f *indicator.Found) (d Doubted, ok bool) {
	if s.touches() {
		return s.doubtedPoint()
	}
	for _, x := range s.Suspects(f) {
		if st := &s.Sweep.Stations[x.Index]; !st.Asked && !st.Kept {
			d = Doubted{Station: x.Index + 1, Because: x.Because}
			if !math.IsNaN(x.WouldBe) {
				d.WouldBe = &x.WouldBe
			}
			return d, true
		}
	}
	return d, false
}

// due returns what the open sweep brings by itself: a doubt, or its close.
func (s *State) due() (Event, bool) {
	if s.Doubt != nil || s.Sweep.Drift != nil || s.Sweep.Closing || s.Sweep.Readings() < 3 {
		return nil, false
	}
	planned := s.Sweep.Entries() >= s.Set.Job.Sweep.Stations
	if !planned && s.Sweep.Readings() < s.Set.Job.Sweep.Fewest() && s.Sweep.closed() == 0 {
		return nil, false
	}
	f, err := s.Fit()
	if err != nil {
		return nil, false
	}
	d, doubted := s.doubted(&f)
	if e, ok := s.drifted(d, doubted); ok {
		return e, true
	}
	if doubted {
		// Five readings cannot tell which of them is wrong; the next ones can.
		return d, planned
	}
	if s.Raising != nil { // nothing is judged by it: its stations are enough
		return Swept{Why: ByTilt}, planned
	}
	if why, ok := s.closing(&f, planned); ok {
		if s.wantsClosing() {
			return ClosingAsked{}, true
		}
		return Swept{Why: why}, true
	}
	return nil, false
}

// closing reports whether the open sweep has to be closed, and why. Before its planned stations
// are in, only a clear answer closes it: all inside, or winds that are known to half of what they
// have to meet.
func (s *State) closing(f *indicator.Found, planned bool) (Why, bool) {
	if _, now := s.look(s.Sweep.Entries()); !now {
		return "", false
	}
	v := s.Judge(f)
	switch {
	case v.Has(indicator.Outside):
		return ByWind, planned || s.windsKnown(f)
	case !v.Has(indicator.Undecided):
		return ByVerdict, true
	case !planned:
		return "", false
	case s.full() || !s.hopeful(f):
		if len(s.plan(f)) > 0 {
			return ByWind, true
		}
		if s.full() {
			return ByLimit, true
		}
		// Where what limits is not the readings, more of them cannot help.
		_, beyond, _ := f.Limiting()
		return ByLimit, beyond && v.Radius == indicator.Undecided && v.Centre != indicator.Undecided
	}
	return "", false
}

// enoughDof is how well the spread of a reading has to be known before a sweep may stop early for
// its winds: a few readings more than unknowns look steadier than they are now and then, and to
// stop just then is to believe it.
const enoughDof = 6

// windsKnown reports whether every wind would land well inside what it serves.
func (s *State) windsKnown(f *indicator.Found) bool {
	if f.Dof < enoughDof {
		return false
	}
	for _, e := range s.errands(f, s.Judge(f)) {
		if !(e.travel.U <= e.half/2) {
			return false
		}
	}
	return true
}

// hopeful reports whether the undecided verdicts could still be decided with as many stations
// as the sweep may have: an uncertainty shrinks with the square root of their number, and the last
// look may take its own share of the risk. Three readings without a stated repeatability know no uncertainty, and a fourth gives one; to wind by
// them instead would be to chase the noise for ever.
func (s *State) hopeful(f *indicator.Found) bool {
	if f.Dof <= 0 {
		return true
	}
	g := *f
	more := float64(s.limit() - s.Sweep.Entries())
	g.Sigma *= math.Sqrt(float64(f.Circle.N) / (float64(f.Circle.N) + more))
	g.Dof += more
	last, _ := s.look(s.limit())
	return !s.Target().Judge(&g, last.tail).Has(indicator.Undecided)
}

// NextBearing returns where the next reading is to be taken: the job's stations in their order,
// then the bearing that most lowers the uncertainty that decides. ok is false when the sweep
// takes no more.
func (s *State) NextBearing() (b geom.Bearing, ok bool) {
	plan := s.Set.Job.Sweep
	if s.Phase == Sweeping && s.Doubt != nil {
		return s.Sweep.Stations[s.Doubt.Station-1].Bearing, true
	}
	entries := s.Sweep.Entries()
	switch {
	case s.Phase != Sweeping || s.Sweep.Closed != "" || s.Sweep.Drift != nil:
		return 0, false
	case s.Sweep.Closing:
		return s.Sweep.first()
	case s.full():
		return 0, false
	}
	if b, ok := s.across(); ok {
		return b, true
	}
	if entries < plan.Stations {
		return plan.Bearing(entries), true
	}
	f, err := s.Fit()
	if err != nil {
		// Nothing to weigh yet: go halfway between the planned stations.
		return plan.Between(entries - plan.Stations), true
	}
	return s.best(&f), true
}

// gridStep spaces the bearings that a further station is chosen from: marks that a person finds
// on a ring without counting.
const gridStep = 15 * geom.Degree

// best returns the bearing on the grid or at an obstacle's edge, inside the job's sweep, that most
// lowers the deciding uncertainty; of equals, the one farthest from every station that has been read.
func (s *State) best(f *indicator.Found) geom.Bearing {
	plan, v := s.Set.Job.Sweep, s.Judge(f)
	// Between two looks all may seem inside already, and the next look is still to be met.
	radius, centre := v.Radius == indicator.Undecided, v.Centre == indicator.Undecided
	if !radius && !centre {
		radius, centre = v.Radius != indicator.NoVerdict, v.Centre != indicator.NoVerdict
	}
	radius = radius && !f.Circle.Hold // no reading says anything of a held one
	var bestAt geom.Bearing
	bestVar, bestFar := math.Inf(1), -1.0
	for b := range plan.Marks(gridStep) {
		after := f.Circle.Cofactor.After(f.Circle.Row(b))
		q := 0.0
		if radius {
			q += after[0][0] / f.Circle.Cofactor[0][0]
		}
		if centre {
			q += after.Ellipse().Major / f.Circle.Cofactor.Ellipse().Major
		}
		far := s.farFromStations(b)
		// Equal to a thousandth is equal: a clear place on the ring is worth more than that.
		if q < bestVar*(1-1e-3) || (q < bestVar*(1+1e-3) && far > bestFar+1e-9) {
			bestAt, bestVar, bestFar = b, q, far
		}
	}
	return bestAt
}

// farFromStations returns the angle to the nearest entry of the sweep.
func (s *State) farFromStations(b geom.Bearing) float64 {
	near := math.Inf(1)
	if s.touches() { // where the points truly lie
		if t, err := s.Located(); err == nil {
			for _, at := range t.Bearings {
				near = min(near, at.Apart(b))
			}
			return near
		}
	}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		near = min(near, s.Sweep.Stations[i].Bearing.Apart(b))
	}
	return near
}
