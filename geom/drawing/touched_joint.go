package drawing

import (
	"errors"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// tangency is one that may be held: between shapes a and b.
type tangency struct {
	a, b        int
	miss, missU float64
	held        bool
}

// joint is the fit of all shapes together.
type joint struct {
	shapes     []shape
	groups     []Group
	first      []int // of each shape's unknowns among all
	total      int   // unknowns
	opt        TouchOptions
	blends     []tangency
	inverse    [][]float64 // of the system, once solved
	sigma, dof float64
}

func newJoint(groups []Group, opt TouchOptions) (*joint, error) {
	j := &joint{groups: groups, opt: opt}
	for i, g := range groups {
		s, err := shapeOf(g, opt.Repeatability)
		if err != nil {
			return nil, &GroupError{Group: i + 1, Name: g.Name, Line: g.Line, Why: err}
		}
		j.first = append(j.first, j.total)
		j.total += s.unknowns()
		j.shapes = append(j.shapes, s)
	}
	for i := range j.shapes {
		next := (i + 1) % len(j.shapes)
		if next == 0 && (!opt.Closed || len(j.shapes) < 3) {
			break
		}
		j.blends = append(j.blends, tangency{a: i, b: next, miss: math.NaN(), missU: math.NaN()})
	}
	return j, nil
}

// miss is how far two shapes are from a tangent in which both run the same way, + or −, and its
// derivatives by a's and b's unknowns; ok is false where none can be meant: of two straights, or about
// one centre.
//
//	straight and arc   n·(C − mean) − offset − turn·radius
//	two arcs           |C₁ − C₂| − |turn₁·radius₁ − turn₂·radius₂|
func miss(a, b *shape) (h float64, byA, byB [3]float64, ok bool) {
	switch {
	case a.form == StraightForm && b.form == StraightForm:
		return 0, byA, byB, false
	case b.form == StraightForm:
		h, byB, byA, ok = miss(b, a)
		return h, byA, byB, ok
	case a.form == StraightForm:
		n, d := a.normal(), b.centre().Sub(a.mean)
		return n.Dot(d) - a.v[1] - b.turn*b.v[2], [3]float64{n.Cross(d), -1}, [3]float64{n.X, n.Y, -b.turn}, true
	}
	apart := a.centre().Sub(b.centre())
	signed := a.turn*a.v[2] - b.turn*b.v[2]
	far, way := apart.Norm(), math.Copysign(1, signed)
	if far < 1e-3*max(a.v[2], b.v[2]) {
		return 0, byA, byB, false
	}
	u := apart.Times(1 / far)
	return far - math.Abs(signed), [3]float64{u.X, u.Y, -way * a.turn}, [3]float64{-u.X, -u.Y, way * b.turn}, true
}

// touch is where two tangent shapes meet.
func touch(a, b *shape) geom.Point {
	switch {
	case a.form == StraightForm:
		n := a.normal()
		return b.centre().Sub(n.Times(n.Dot(b.centre().Sub(a.mean)) - a.v[1]))
	case b.form == StraightForm:
		return touch(b, a)
	}
	u := b.centre().Sub(a.centre())
	way := math.Copysign(1, a.turn*(a.turn*a.v[2]-b.turn*b.v[2]))
	return a.centre().Add(u.Times(way * a.v[2] / u.Norm()))
}

// hold fits all alone, finds the tangents that are within their doubt, and fits all with them.
func (j *joint) hold() error {
	if err := j.solve(); err != nil {
		return err
	}
	if j.dof == 0 {
		return nil // nothing says how far off a tangent may be
	}
	for i := range j.blends {
		t := &j.blends[i]
		a, b := &j.shapes[t.a], &j.shapes[t.b]
		h, byA, byB, ok := miss(a, b)
		reach := max(a.extent(), b.extent())
		if !ok || touch(a, b).Sub(j.between(t)).Norm() > reach {
			continue
		}
		t.miss, t.missU = h, fit.Coverage(j.dof)*math.Sqrt(j.variance(t.a, byA)+j.variance(t.b, byB))
	}
	for i := range j.blends {
		j.blends[i].held = math.Abs(j.blends[i].miss) <= j.blends[i].missU
	}
	return j.solve()
}

// between is the middle between the last point of one group and the first of the next.
func (j *joint) between(t *tangency) geom.Point {
	a, b := j.shapes[t.a].points, j.shapes[t.b].points
	return middle(a[len(a)-1], b[0])
}

// variance is that of a sum of one shape's unknowns with these factors.
func (j *joint) variance(i int, by [3]float64) (sum float64) {
	for k := range j.shapes[i].unknowns() {
		for l := range j.shapes[i].unknowns() {
			sum += float64(by[k]*by[l]) * j.covariance(i, k, l)
		}
	}
	return max(0, sum)
}

func (j *joint) covariance(i, k, l int) float64 {
	return j.sigma * j.sigma * j.inverse[j.first[i]+k][j.first[i]+l]
}

// mostSteps is the most steps of a joint fit.
const mostSteps = 60

// solve brings all shapes to the least sum of squares at which the held tangents hold.
func (j *joint) solve() error {
	last := math.Inf(1)
	for range mostSteps {
		m, right := j.system()
		if !invert(m) {
			return errors.New("the touched points leave an element open, need points spread along it")
		}
		j.inverse = m
		size := 0.0
		for i := range j.shapes {
			size = max(size, j.step(i, right))
		}
		if size < 1e-12 || size < 1e-6 && size >= last/2 {
			j.spread()
			return nil
		}
		last = size
	}
	return errors.New("the touched points and their tangents do not come to rest, need groups that follow one another along the part")
}

// step moves shape i by what the inverse makes of the right side, and returns by how much that moves it
// beside its points, mm: a centre far away may go on trembling by its own rounding.
func (j *joint) step(i int, right []float64) (size float64) {
	s, by := &j.shapes[i], [3]float64{}
	for k := range s.unknowns() {
		for l, r := range right {
			by[k] += float64(j.inverse[j.first[i]+k][l] * r)
		}
	}
	for _, p := range s.points {
		_, d := s.residual(p)
		size = max(size, math.Abs(float64(d[0]*by[0])+float64(d[1]*by[1])+float64(d[2]*by[2])))
	}
	for k := range by {
		s.v[k] += by[k]
	}
	return size
}

// system is [A Cᵀ; C 0] and what it has to give.
func (j *joint) system() (m [][]float64, right []float64) {
	var held []*tangency
	for i := range j.blends {
		if j.blends[i].held {
			held = append(held, &j.blends[i])
		}
	}
	size := j.total + len(held)
	m, right = make([][]float64, size), make([]float64, size)
	for i := range m {
		m[i] = make([]float64, size)
	}
	for i := range j.shapes {
		s, at := &j.shapes[i], j.first[i]
		for _, p := range s.points {
			r, by := s.residual(p)
			for k := range s.unknowns() {
				right[at+k] -= float64(by[k] * r)
				for l := range s.unknowns() {
					m[at+k][at+l] += float64(by[k] * by[l])
				}
			}
		}
	}
	for row, t := range held {
		h, byA, byB, _ := miss(&j.shapes[t.a], &j.shapes[t.b])
		row += j.total
		right[row] = -h
		for k := range 3 {
			if k < j.shapes[t.a].unknowns() {
				m[row][j.first[t.a]+k], m[j.first[t.a]+k][row] = byA[k], byA[k]
			}
			if k < j.shapes[t.b].unknowns() {
				m[row][j.first[t.b]+k], m[j.first[t.b]+k][row] = byB[k], byB[k]
			}
		}
	}
	return m, right
}

// spread is the standard deviation of one touch and what it is worth.
func (j *joint) spread() {
	sum, n := 0.0, -j.total
	for i := range j.shapes {
		sum += j.shapes[i].squares()
		n += len(j.shapes[i].points)
	}
	for _, t := range j.blends {
		if t.held {
			n++
		}
	}
	j.sigma, j.dof = math.NaN(), float64(n)
	if s := j.opt.Repeatability; s > 0 {
		j.dof += priorDof
		sum += priorDof * s * s
	}
	if j.dof <= 0 {
		j.dof = 0
		return
	}
	j.sigma = math.Sqrt(sum / j.dof)
}

// invert turns a square matrix into its inverse by elimination with row exchange (Gauss–Jordan); ok is
// false where there is none.
func invert(m [][]float64) bool {
	n := len(m)
	scale := 0.0
	for i := range m {
		for _, x := range m[i] {
			scale = max(scale, math.Abs(x))
		}
	}
	swaps := make([]int, n)
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		if !(math.Abs(m[best][c]) > 1e-15*scale) {
			return false
		}
		m[c], m[best] = m[best], m[c]
		swaps[c] = best
		by := 1 / m[c][c]
		m[c][c] = 1
		for k := range n {
			m[c][k] *= by
		}
		for r := range n {
			if f := m[r][c]; r != c && f != 0 {
				m[r][c] = 0
				for k := range n {
					m[r][k] -= float64(f * m[c][k])
				}
			}
		}
	}
	for c := n - 1; c >= 0; c-- {
		if swaps[c] != c {
			for r := range n {
				m[r][c], m[r][swaps[c]] = m[r][swaps[c]], m[r][c]
			}
		}
	}
	return true
}
