package fit

import (
	"math"

	"example.org/trammel/geom"
)

// stations refuses what no fit can use, and fills s with the equations a + e·u = y, each
// multiplied by the root g of its weight: (g, g·cos t, g·sin t, g·y) is all that the fit needs to
// know of a reading. It returns their first column's products.
func (m *Model) stations(t []geom.Bearing, y, w []float64, s []equation) (first products, err error) {
	if len(t) != len(y) || (w != nil && len(w) != len(y)) {
		panic("fit: bearings, readings and weights differ in number")
	}
	for i := range s {
		g := 1.0
		if w != nil {
			if !(usable(w[i]) && w[i] > 1/maxValue) {
				return first, &ValueError{Index: i}
			}
			g = math.Sqrt(w[i])
		}
		if !usable(y[i]) || !finite(float64(t[i])) {
			return first, &ValueError{Index: i}
		}
		u := t[i].Unit()
		s[i] = equation{g, g * u.X, g * u.Y, g * y[i]}
		first = first.with(s[i])
	}
	if !usable(m.Ball) || (m.Sought == ZeroDistance && !(m.Surface-m.Ball > 0 && usable(m.Surface))) {
		return first, &OutsideError{Offset: 0, Radius: m.Surface - m.Ball}
	}
	if n := distinct(s); n < MinStations {
		return first, &TooFewError{Have: n, Need: MinStations}
	}
	return first, nil
}

// distinct counts bearings that differ by more than a millionth of a degree, up to MinStations.
func distinct(s []equation) int {
	if len(s) == 0 {
		return 0
	}
	n, a, b := 1, s[0].unit(), s[0].unit()
	for i := range s {
		u := s[i].unit()
		if same(u, a) || same(u, b) {
			continue
		}
		if n == 2 {
			return MinStations
		}
		n, b = 2, u
	}
	return n
}

// unit is the unit vector of a station's bearing.
func (q *equation) unit() geom.Point { return geom.Point{X: q.b / q.a, Y: q.c / q.a} }

// same reports whether two unit vectors are less than a millionth of a degree apart.
func same(u, v geom.Point) bool {
	const apart = 1e-6 * float64(geom.Degree)
	x, y := u.X-v.X, u.Y-v.Y
	return float64(x*x)+float64(y*y) < apart*apart
}

func weight(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}

// maxValue bounds readings and weights, so that no sum of their squares overflows.
const maxValue = 1e100

func usable(x float64) bool { return math.Abs(x) < maxValue }

func finite(x float64) bool { return math.Abs(x) <= math.MaxFloat64 }
