package session

import (
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator/advice"
)

// search is the open sweep as one whose needle is looked for; ok is false of one that has not been beyond the dial, and behind winds
// that say where it should be, and once the planned stations show a circle. It goes by the tip's travel, more as it is pressed,
// whichever way the dial's figures grow.
func (s *State) search() (h advice.Search, ok bool) {
	d := s.Set.Job.Dial
	told := s.Past != nil && !s.Past.Void && s.Predicted != nil
	if !s.coarse() || told || s.Raising != nil || s.SetUp().Under().Pair || !(d.To > d.From) {
		return h, false
	}
	if s.Sweep.Entries() >= s.Plan().Stations && s.Sweep.Readings() >= fit.MinStations {
		return h, false
	}
	from, to := d.From*d.Gain(), d.To*d.Gain()
	h = advice.Search{From: min(from, to), To: max(from, to), Rough: advice.RoughIn}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		switch st := &s.Sweep.Stations[i]; {
		case st.Off != NotOff:
			h.Off = append(h.Off, advice.OffDial{Bearing: st.Bearing, Pressed: st.Off == Pressed})
		case !st.Skipped:
			h.Bearings, h.Readings = append(h.Bearings, st.Bearing), append(h.Readings, st.Reading*d.Gain())
		}
	}
	return h, true
}

// Searches reports whether the open sweep's next stations are chosen one by one, where the needle may be on the dial.
func (s *State) Searches() bool {
	_, ok := s.search()
	return ok
}

// coarse reports whether the needle has been beyond the dial in this sweep.
func (s *State) coarse() bool {
	if s.Set.Rules < coarseRules {
		return false
	}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		if s.Sweep.Stations[i].Off != NotOff {
			return true
		}
	}
	return false
}
