package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// full reports whether the sweep takes no more stations.
func (s *State) full() bool {
	return s.Sweep.Entries() >= s.looks().Limit || s.Sweep.N >= indicator.MaxStations
}

// Suspects returns the readings of the sweep that do not fit the others, with Index counting the
// sweep's stations from 0. The person's word for a reading does not silence it here.
func (s *State) Suspects(f *indicator.Estimate) []indicator.Outlier {
	out, station := s.SetUp().Suspects(s.bench(), f), s.Sweep.taken()
	for i := range out {
		out[i].Index = station[out[i].Index] - 1
	}
	return out
}

// doubted returns the first suspect that nobody has looked at again yet.
func (s *State) doubted(f *indicator.Estimate) (Doubted, bool) {
	station := s.Sweep.taken()
	d, ok := s.SetUp().Doubted(s.bench(), f, func(i int) bool {
		st := &s.Sweep.Stations[station[i]-1]
		return st.Asked || st.Kept
	})
	if !ok || (s.Sweep.Lobed && d.Because == indicator.FormCause) {
		return Doubted{}, false
	}
	return Doubted{Station: station[d.Index], Because: d.Because, WouldBe: d.WouldBe, WouldBeAt: (*Place)(d.At)}, true
}

// fiveTellNot is a number of readings of which any one that is wrong is explained by others as well.
const fiveTellNot = 5

// due returns what the open sweep brings by itself: a doubt, or its close.
func (s *State) due() (Event, bool) {
	if s.Doubt != nil || s.Contradiction != nil || s.Sweep.Drift != nil || s.Sweep.Closing || s.Sweep.Readings() < fit.MinStations {
		return nil, false
	}
	plan := s.Plan()
	planned := s.Sweep.Entries() >= plan.Stations
	if !planned && s.Sweep.Readings() < plan.Fewest() && s.Sweep.closed() == 0 {
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
		tells := !s.rounds() || s.Sweep.Readings() > fiveTellNot || d.Because == indicator.FormCause
		return d, planned && tells
	}
	if s.Raising != nil { // nothing is judged by it: its stations are enough
		return Swept{Why: ByTilt}, planned
	}
	if why, ok := s.closing(&f); ok {
		if e, against := s.contradiction(); against {
			return e, true
		}
		if s.wantsClosing() {
			return ClosingAsked{}, true
		}
		return Swept{Why: why}, true
	}
	return nil, false
}

// closing reports whether the open sweep has to be closed, and why.
func (s *State) closing(f *indicator.Estimate) (Why, bool) {
	b := s.bench()
	o := advice.Open{Looks: s.looks(), Entries: s.Sweep.Entries(), Full: s.full(), Judge: b.JudgeAt,
		Measured: b.Target.Judge, Tasks: b.Tasks}
	switch o.Close(f) {
	case advice.Decided:
		return ByVerdict, true
	case advice.ToWind:
		return ByWind, true
	case advice.AtLimit:
		return ByLimit, true
	case advice.GoOn:
	}
	return "", false
}

// NextBearing returns where the next reading is to be taken: the job's stations in their order,
// then the bearing that most lowers the uncertainty that decides. ok is false when the sweep
// takes no more.
func (s *State) NextBearing() (b geom.Bearing, ok bool) {
	plan := s.Plan()
	if s.Phase == Sweeping && s.Doubt != nil {
		return s.Sweep.Stations[s.Doubt.Station-1].Bearing, true
	}
	entries := s.Sweep.Entries()
	switch {
	case s.Phase != Sweeping || s.Sweep.Closed != "" || s.Sweep.Drift != nil || s.Contradiction != nil:
		return 0, false
	case s.Sweep.Closing:
		return s.Sweep.first()
	case s.full():
		return 0, false
	}
	if b, ok := s.across(); ok {
		return b, true
	}
	if h, ok := s.search(); ok {
		if b, likely := h.Next(s.Set.Job.Sweep.Marks(advice.MarkStep)); likely > 0 {
			return b, true
		}
	}
	if entries < plan.Stations {
		return plan.Bearing(entries), true
	}
	if s.rounds() { // its twin stands between, in the same order
		return plan.Between(entries - plan.Stations), true
	}
	f, err := s.Fit()
	if err != nil {
		// Nothing to weigh yet: go halfway between the planned stations.
		return plan.Between(entries - plan.Stations), true
	}
	return s.best(&f), true
}

// best returns the bearing on the grid or at an obstacle's edge, inside the job's sweep, that most
// lowers the deciding uncertainty.
func (s *State) best(f *indicator.Estimate) geom.Bearing {
	return advice.NextStation(f, s.Judge(f), s.Set.Job.Sweep.Marks(advice.MarkStep), s.farFromStations())
}

// farFromStations returns the angle from a bearing to the nearest entry of the sweep: where it truly lies, where that shows.
func (s *State) farFromStations() func(geom.Bearing) float64 {
	var all []geom.Bearing
	if s.SetUp().Under().Pair { // each was touched where that could be
		all, _ = s.SetUp().Seen(s.bench(), nil)
	}
	if all == nil {
		for i := range s.Sweep.Stations[:s.Sweep.N] {
			all = append(all, s.Sweep.Stations[i].Bearing)
		}
	}
	return func(b geom.Bearing) float64 { return advice.Nearest(b, all) }
}
