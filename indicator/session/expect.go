package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Expect returns the reading to expect at a bearing: from this sweep once it can be fitted with
// a known spread, else from the last one and the winds since; unknown before either. A reading
// that is doubted says nothing of what to expect.
func (s *State) Expect(b geom.Bearing) indicator.Value {
	v, _ := s.expect(b)
	return v
}

// expect is Expect with the degrees of freedom of the doubt; 0 where nothing can be expected.
func (s *State) expect(b geom.Bearing) (indicator.Value, float64) {
	if s.Set != nil && !s.SetUp().Under().Pair && s.Sweep.Readings() >= fit.MinStations {
		f, err, known := s.known()
		if !known || s.again() > 0 {
			f, err = s.fitWithout(s.again())
		}
		if err == nil && f.Dof > 0 {
			x := f.Expect(b)
			if f.Change.Known() {
				x.V += f.Change.V / 2 // the next reading is taken at the drift's far end
			}
			return x, f.Dof
		}
	}
	if s.Predicted != nil {
		return s.Predicted.Expect(b), s.Predicted.Dof
	}
	return indicator.Value{V: math.NaN(), U: math.NaN()}, 0
}
