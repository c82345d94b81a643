package fit

import (
	"math"

	"example.org/trammel/geom"
)

// cloud is a set of points as the fit works on it: seen from their mean, the farthest at a
// distance of 1.
type cloud struct {
	p       []geom.Point
	w       []float64
	mean    geom.Point
	size    float64 // distance of the farthest point from the mean, millimetres
	largest float64 // the largest coordinate, millimetres
	weight  float64 // Σ w
	far     int     // which point is the farthest
}

// centred checks the points and finds their weighted mean and extent.
func centred(p []geom.Point, w []float64) (cloud, error) {
	if w != nil && len(w) != len(p) {
		panic("fit: points and weights differ in number")
	}
	c := cloud{p: p, w: w}
	for i, v := range p {
		if !usable(v.X) || !usable(v.Y) || (w != nil && !(usable(w[i]) && w[i] > 1/maxValue)) {
			return c, &ValueError{Index: i}
		}
		c.largest = max(c.largest, math.Abs(v.X), math.Abs(v.Y))
	}
	if n := places(p, max(grain*c.largest, 1/maxValue)); n < MinPlaces {
		return c, &CoincidentError{Have: n, Need: MinPlaces}
	}
	// Sums of differences from the first point: nothing is lost to a datum far away.
	var sum geom.Point
	for i := range p {
		d, g := p[i].Sub(p[0]), weight(w, i)
		sum.X += float64(g * d.X)
		sum.Y += float64(g * d.Y)
		c.weight += g
	}
	c.mean = geom.Point{X: p[0].X + sum.X/c.weight, Y: p[0].Y + sum.Y/c.weight}
	for i := range p {
		if d := p[i].Sub(c.mean).Norm(); d > c.size {
			c.size, c.far = d, i
		}
	}
	return c, nil
}

// places counts points more than apart from each other, up to MinPlaces.
func places(p []geom.Point, apart float64) int {
	var seen [MinPlaces]geom.Point
	n := 0
next:
	for _, v := range p {
		for _, s := range seen[:n] {
			if v.Sub(s).Norm() <= apart {
				continue next
			}
		}
		seen[n] = v
		if n++; n == MinPlaces {
			break
		}
	}
	return n
}

// at returns point i as the fit sees it.
func (c *cloud) at(i int) geom.Point {
	return geom.Point{X: (c.p[i].X - c.mean.X) / c.size, Y: (c.p[i].Y - c.mean.Y) / c.size}
}

// back returns a place that the fit sees, in millimetres.
func (c *cloud) back(p geom.Point) geom.Point {
	return geom.Point{X: c.mean.X + float64(c.size*p.X), Y: c.mean.Y + float64(c.size*p.Y)}
}

// algebraic returns Taubin's circle. It minimises Σ w (A·z + B·x + C·y + D)², z = x² + y², for a
// mean square gradient of 1. With points seen from their mean and ζ = (z − z̄)/2√z̄ that is the
// smallest eigenvector (a, B, C) of the moments of (ζ, x, y): A = a/2√z̄ and D = −A·z̄. The
// result then has B² + C² − 4AD = 1, so that 2A is the curvature; a line has A = 0 and is nothing
// special.
func (c *cloud) algebraic() (arc, error) {
	mean := 0.0
	for i := range c.p {
		q := c.at(i)
		mean += float64(weight(c.w, i) / c.weight * q.Dot(q))
	}
	if !(mean > 1/(maxCondition*maxCondition)) { // all the weight lies in one place
		return arc{}, &SingularError{Condition: 1 / math.Sqrt(mean)}
	}
	root := 2 * math.Sqrt(mean)
	var m Sym3
	for i := range c.p {
		q, g := c.at(i), weight(c.w, i)/c.weight
		row := [3]float64{(q.Dot(q) - mean) / root, q.X, q.Y}
		for j := range 3 {
			for k := range 3 {
				m[j][k] += float64(float64(g*row[j]) * row[k])
			}
		}
	}
	v := smallest(m)
	slope := geom.Point{X: v[1], Y: v[2]}
	out := arc{bend: 2 * v[0] / root}
	// The point of the circle that is nearest to the mean is the middle of an arc. The mean of a
	// full circle is its centre, where any direction is as good.
	h := slope.Norm()
	if h < 1e-8 {
		h, slope = 0, c.at(c.far)
	}
	length := slope.Norm()
	out.to = geom.Point{X: -slope.X / length, Y: -slope.Y / length}
	off := -v[0] / root * mean * 2 / (1 + h) // distance of the mean beyond the curve, 2D/(1 + h)
	out.at = geom.Point{X: float64(off * out.to.X), Y: float64(off * out.to.Y)}
	return out, nil
}

// smallest returns the unit eigenvector of the smallest eigenvalue, by Jacobi rotations.
func smallest(m Sym3) [3]float64 {
	v := Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // rows are the eigenvectors
	for range 30 {                             // converges quadratically; four or five sweeps do
		if m[0][1] == 0 && m[0][2] == 0 && m[1][2] == 0 {
			break
		}
		for _, at := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			p, q := at[0], at[1]
			if m[p][q] == 0 {
				continue
			}
			theta := (m[q][q] - m[p][p]) / 2 / m[p][q]
			t := math.Copysign(1, theta) / (math.Abs(theta) + math.Hypot(theta, 1))
			c := 1 / math.Sqrt(1+float64(t*t))
			s := t * c
			m[p][p], m[q][q] = m[p][p]-float64(t*m[p][q]), m[q][q]+float64(t*m[p][q])
			m[p][q], m[q][p] = 0, 0
			r := 3 - p - q
			m[p][r], m[q][r] = float64(c*m[p][r])-float64(s*m[q][r]), float64(s*m[p][r])+float64(c*m[q][r])
			m[r][p], m[r][q] = m[p][r], m[q][r]
			for k := range 3 {
				v[p][k], v[q][k] = float64(c*v[p][k])-float64(s*v[q][k]), float64(s*v[p][k])+float64(c*v[q][k])
			}
		}
	}
	least := 0
	for i := range 3 {
		if m[i][i] < m[least][least] {
			least = i
		}
	}
	return v[least]
}

// factor sets up the step from a: the triangular factor of the linear model, and what the sum of
// squares curves beyond it.
func (c *cloud) factor(a *arc) (q qr, bent Sym3) {
	var room [32]equation
	rows := room[:0]
	for i := range c.p {
		d, first, second := a.rows(a.local(c.at(i)))
		g := weight(c.w, i)
		h := math.Sqrt(g)
		if len(rows) == cap(rows) {
			rows = fold(rows)
		}
		rows = append(rows, equation{h * first[0], h * first[1], h * first[2], -h * d})
		for j := range 3 {
			for k := range 3 {
				bent[j][k] += float64(float64(g*d) * second[j][k])
			}
		}
	}
	return factor(rows), bent
}

func (c *cloud) sumSquares(a *arc) float64 {
	sum := 0.0
	for i := range c.p {
		d, _ := a.depth(a.local(c.at(i)))
		sum += float64(weight(c.w, i) * float64(d*d))
	}
	return sum
}

// advance takes the longest of the step, a half, a quarter … that does not raise the sum of
// squares. It reports whether it moved.
func (c *cloud) advance(a *arc, step [3]float64, sum *float64) bool {
	for f := 1.0; f > 1e-6; f /= 2 {
		to := a.moved(step, f)
		if s := c.sumSquares(&to); s <= *sum {
			*a, *sum = to, s
			return true
		}
	}
	return false
}

// bow returns the sagitta of the arc over the length that the points take of its tangent, and
// the most that rounding of the coordinates makes of it, which grows as the points crowd together
// in two places; millimetres.
func (c *cloud) bow(a *arc, q *qr) (seen, need float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range c.p {
		s, _ := a.local(c.at(i))
		low, high = min(low, s), max(high, s)
	}
	length := high - low
	// The last row of R⁻¹ is the spread of the curvature for a spread of 1.
	lever := math.Sqrt(c.weight/float64(len(c.p))) / math.Sqrt(q.d2) * length * length / 8
	return c.size * math.Abs(a.bend) * length * length / 8, grain * c.largest * max(1, lever)
}
