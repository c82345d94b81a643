package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
)

// touches reports whether the tip can be taken to touch where the reference is met at a bearing, the needle on the dial: of a sweep
// whose needle has been beyond it, not at a station where it was, nor where it would be by what is known of the circle.
func (s *State) touches(at geom.Bearing) bool {
	if !s.coarse() {
		return true
	}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		st := &s.Sweep.Stations[i]
		if st.Off != NotOff && st.Bearing.Apart(at) < float64(advice.MarkStep)*0.99 {
			return false
		}
	}
	f, err := s.circle()
	if err != nil {
		return true
	}
	x := f.Expect(at)
	if math.IsNaN(x.U) {
		x.U = 0
	}
	return advice.OnDial(s.Set.Job.Dial, x.V, x.U)
}
