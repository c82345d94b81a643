package session

import (
	"example.org/trammel/indicator/setup"
)

// judgeAnew looks once more at the readings that were a surprise as they were entered, now that a doubt is settled or the
// sweep is closed: each against all others as they stand. A misread that came before a clean reading bends what is
// expected of that one, and a wind that went astray that of a whole sweep; neither is the reading's fault. What it came to
// when it was entered stays.
func (s *State) judgeAnew() {
	owned := false
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		st := s.Sweep.Stations[i]
		if !st.Surprise {
			continue
		}
		over := s.fitsOthers(i + 1)
		if over == st.Overtaken {
			continue
		}
		if !owned { // other states share the list
			s.Sweep.own()
			owned = true
		}
		s.Sweep.Stations[i].Overtaken = over
	}
}

// fitsOthers reports whether the entry of a station (from 1) is no surprise to the others of its sweep, as they stand. It is
// none where these cannot tell.
func (s *State) fitsOthers(station int) bool {
	st := &s.Sweep.Stations[station-1]
	f, err := s.fitWithout(station)
	if err != nil || !(f.Dof > 0) {
		return false
	}
	x := setup.Expected{Value: f.Expect(st.Bearing), Dof: f.Dof} // of points nothing is expected: they are judged by the others
	j := s.SetUp().Entered(&s.Set.Job, s.others(station), setup.Entry{Bearing: st.Bearing, Reading: st.Reading, At: st.At}, x)
	return !j.Surprise
}
