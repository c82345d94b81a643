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

// Lobed reports whether the sweep is explained by two or by three lobes of an amplitude up to limit as well as by the readings
// that o names being wrong: what they leave of it is no more than what is left without those readings, but for what chance
// makes of one reading in two hundred. The arguments beside are those of the fit.
func (r *Radial) Lobed(t []geom.Bearing, y, w []float64, p Prior, o Outliers, limit float64) bool {
	s, ok := r.screen(t, y, w, p)
	if !ok || o.N == 0 || !(limit > 0) {
		return false
	}
	rest := s.without1(o.Index[0])
	if o.N == 2 {
		q, ok := s.without2(o.Index[0], o.Index[1])
		if rest = q.ssr; !ok {
			return false
		}
	}
	v, dof := s.variance(rest, float64(s.n-MinStations-o.N))
	if math.IsInf(rest, 1) || dof <= 0 {
		return false
	}
	chance := Student(1-0.005/2, dof)
	for k := 2; k <= 3; k++ {
		if s.withLobes(t, k, limit) <= rest+float64(chance*chance*v) {
			return true
		}
	}
	return false
}

// withLobes is the least sum of squares with k lobes beside the circle, of an amplitude up to limit. Stations that see them in one
// phase only leave the other at 0.
func (s *screen) withLobes(t []geom.Bearing, k int, limit float64) float64 {
	var in, out [MaxScreen]float64 // cosine and sine, less what the circle takes of them
	for i := range s.n {
		sin, cos := math.Sincos(float64(k) * float64(t[i]))
		in[i], out[i] = s.g[i]*cos, s.g[i]*sin
	}
	var a, b [MaxScreen]float64
	for i := range s.n {
		a[i], b[i] = in[i], out[i]
		for j := range s.n {
			h := s.hat(i, j)
			a[i] -= float64(h * in[j])
			b[i] -= float64(h * out[j])
		}
	}
	var aa, ab, bb, ar, br float64
	for i := range s.n {
		aa, ab, bb = aa+float64(a[i]*a[i]), ab+float64(a[i]*b[i]), bb+float64(b[i]*b[i])
		ar, br = ar+float64(a[i]*s.r[i]), br+float64(b[i]*s.r[i])
	}
	// (G + λ)x = g has the least sum of squares of all x as long as it; a large enough λ keeps it within the limit.
	least := 1e-9 * (aa + bb)
	at := func(add float64) (x, y float64) {
		det := float64((aa+add)*(bb+add)) - float64(ab*ab)
		return (float64((bb+add)*ar) - float64(ab*br)) / det, (float64((aa+add)*br) - float64(ab*ar)) / det
	}
	if !(least > 0) {
		return s.ssr
	}
	x, y := at(least)
	if math.Hypot(x, y) > limit {
		low, high := math.Log(least), math.Log(math.Hypot(ar, br)/limit)
		for range 60 {
			mid := (low + high) / 2
			if x, y = at(math.Exp(mid)); math.Hypot(x, y) > limit {
				low = mid
			} else {
				high = mid
			}
		}
	}
	return max(0, s.ssr-2*(float64(x*ar)+float64(y*br))+float64(x*x*aa)+2*float64(x*y*ab)+float64(y*y*bb))
}
