package fit

import (
	"math"

	"example.org/trammel/geom"
)

// Shape is what the surface departs from a circle by.
type Shape struct {
	// Two and Three are the amplitudes of the two- and three-lobe terms, half of what they add to
	// the total indicator reading, in the terms of y; NaN where the stations cannot show them.
	Two, Three float64
	// TwoIs and ThreeIs say that the term is more than the readings' scatter would make.
	TwoIs, ThreeIs bool
}

// Stations that each term needs at least.
const (
	stationsForTwo   = 6
	stationsForThree = 8
)

// Shape tests a fitted sweep for lobes: two-lobe terms from six stations, two- and three-lobe
// ones from eight. Each is an F test with two numerator degrees of freedom, both together
// raising an alarm on fewer than shapeAlarm of clean sweeps. The arguments are those of the fit.
//
// Terms: the residual's expansion in cos kθ and sin kθ, k = 2 and 3, beside level and centre
// (limaçon terms; the usage of ISO 12181-1 is known from summaries only).
func (r *Radial) Shape(t []geom.Bearing, y, w []float64, p Prior) Shape {
	out := Shape{Two: math.NaN(), Three: math.NaN()}
	s, ok := r.screen(t, y, w, p)
	if !ok || s.n < stationsForTwo {
		return out
	}
	full := 5
	if s.n >= stationsForThree {
		full = 7
	}
	whole, ok := s.lobes(t, full, 0)
	if !ok && full == 7 {
		full = 5
		whole, ok = s.lobes(t, full, 0)
	}
	if !ok {
		return out
	}
	terms := whole.solve()
	out.Two = math.Hypot(terms[3], terms[4])
	out.TwoIs = s.needs(t, &whole, 3, full)
	if full == 7 {
		out.Three = math.Hypot(terms[5], terms[6])
		out.ThreeIs = s.needs(t, &whole, 5, full)
	}
	return out
}

// lobes factors the residuals over the circle's terms and those lobes that n counts; the two
// terms at skip, if above 0, are left out.
func (s *screen) lobes(t []geom.Bearing, n, skip int) (q solver, ok bool) {
	q.n = n
	if skip > 0 {
		q.n -= 2
	}
	for i := range s.n {
		var row [maxTerms]float64
		copy(row[:], s.a[i][:])
		at := 3
		for k := 2; 2*k-1 < n; k++ {
			if 2*k-1 == skip {
				continue
			}
			sin, cos := math.Sincos(float64(k) * float64(t[i]))
			row[at], row[at+1] = s.g[i]*cos, s.g[i]*sin
			at += 2
		}
		q.add(row, s.r[i])
	}
	return q, q.sound()
}

// needs tests whether the two terms at skip are more than scatter.
func (s *screen) needs(t []geom.Bearing, whole *solver, skip, full int) bool {
	less, ok := s.lobes(t, full, skip)
	v, dof := s.variance(whole.rss, float64(s.n-full))
	if !ok || dof <= 0 {
		return false
	}
	return (less.rss-whole.rss)/2/v > fisher2(1-shapeAlarm/2, dof)
}
