package part

import (
	"math"

	"example.org/trammel/geom"
)

// Aim is what one setting still to come should be aimed at, beside the figure meant.
type Aim struct {
	Setting int
	Radius  float64 // δR to aim at: the swing radius meant plus this
	// Centre is the centre error e to aim at: leave the axis this far short of the centre.
	Centre geom.Point
	AtEdge bool // a tolerance holds it back from more
}

// Advice is how to aim the settings still to come.
type Advice struct {
	Aims          []Aim
	Before, After []Foretold // the steps as things stand, and with the advice taken
	// SumBefore and SumAfter are the weighted sums of the squared steps, mm².
	SumBefore, SumAfter float64
}

// Advise finds the aims that make the blends best: of all aims inside the settings' tolerances those
// with the least Σ weight·step². Of aims that do equally well the smallest are taken. With centre false
// only the swing radii are aimed beside their figures. The expected square of a step is its foretold
// value squared plus its variance, and no aim changes a variance, so these are also the aims with the
// least expected squares.
//
// The tolerance on the centre is a circle; each coordinate is kept to 1/√2 of it, which lies inside.
func (s *Situation) Advise(centre bool) (Advice, error) {
	if err := s.check(); err != nil {
		return Advice{}, err
	}
	var a Advice
	a.Before, _ = s.steps()
	var at []place
	q := box{}
	for i, b := range s.Settings {
		for k := range 3 {
			bound := b.Tolerance
			if k > 0 {
				bound = b.CentreTolerance / math.Sqrt2
			}
			if b.Open && bound > 0 && (k == 0 || centre) {
				at, q.bound = append(at, place{i, k}), append(q.bound, bound)
			}
		}
	}
	q.fill(s, at)
	x := q.solve()
	after := *s
	after.Settings = append([]Setting(nil), s.Settings...)
	edge := map[int]bool{}
	for v, p := range at {
		b := &after.Settings[p.setting]
		*p.of(b) = x[v]
		edge[p.setting] = edge[p.setting] || math.Abs(x[v]) >= q.bound[v]
	}
	a.After, _ = after.steps()
	for i, j := range s.Joints {
		a.SumBefore += weight(j) * a.Before[i].Value * a.Before[i].Value
		a.SumAfter += weight(j) * a.After[i].Value * a.After[i].Value
	}
	for i, b := range after.Settings {
		if b.Open {
			a.Aims = append(a.Aims, Aim{Setting: i, Radius: b.Radius, Centre: b.Centre, AtEdge: edge[i]})
		}
	}
	return a, nil
}

func weight(j Joint) float64 {
	if j.Weight == 0 {
		return 1
	}
	return j.Weight
}

// place is one unknown: which setting, and δR, e_x or e_y of it.
type place struct{ setting, term int }

func (p place) of(b *Setting) *float64 {
	return [...]*float64{&b.Radius, &b.Centre.X, &b.Centre.Y}[p.term]
}

// box is the problem of the least ½xᵀHx + gᵀx with |x| ≤ bound.
type box struct {
	h        [][]float64
	g, bound []float64
}

// fill sets H and g from the joints' steps. A trace of x² is added, so that of equal aims the smallest
// is found; it is 10⁻⁹ of the mean of the diagonal and moves no aim by more than that part of itself.
func (q *box) fill(s *Situation, at []place) {
	n := len(at)
	q.h, q.g = make([][]float64, n), make([]float64, n)
	for i := range q.h {
		q.h[i] = make([]float64, n)
	}
	for _, j := range s.Joints {
		r := s.row(j)
		rest := s.foretell(r).Value
		for _, p := range at {
			b := s.Settings[p.setting]
			rest -= r.settings[p.setting][p.term] * *p.of(&b)
		}
		for i, p := range at {
			ri := weight(j) * r.settings[p.setting][p.term]
			q.g[i] += ri * rest
			for k, o := range at {
				q.h[i][k] += ri * r.settings[o.setting][o.term]
			}
		}
	}
	trace := 0.0
	for i := range q.h {
		trace += q.h[i][i]
	}
	for i := range q.h {
		if q.h[i][i] += 1e-9 * trace / float64(n); trace == 0 {
			q.h[i][i] = 1
		}
	}
}

// solve holds the unknowns that stand at a bound, solves for the rest, lets go of the one at a bound
// that would most gladly come off it, and so on: a set of held unknowns never comes twice, since the
// sum falls at every turn (active sets, e.g. Nocedal and Wright, Numerical Optimization, chapter 16,
// from memory).
func (q *box) solve() []float64 {
	n := len(q.g)
	x, held := make([]float64, n), make([]bool, n)
	for range 100 * (n + 1) {
		y := q.free(x, held)
		// As far towards y as the bounds let.
		part, stop := 1.0, -1
		for i := range x {
			if held[i] || math.Abs(y[i]) <= q.bound[i] {
				continue
			}
			edge := math.Copysign(q.bound[i], y[i])
			if p := (edge - x[i]) / (y[i] - x[i]); p < part {
				part, stop = p, i
			}
		}
		for i := range x {
			if !held[i] {
				x[i] += part * (y[i] - x[i])
			}
		}
		if stop >= 0 {
			held[stop], x[stop] = true, math.Copysign(q.bound[stop], y[stop])
			continue
		}
		worst, most := -1, 0.0
		for i := range x {
			if !held[i] {
				continue
			}
			pull := q.g[i]
			for k := range x {
				pull += q.h[i][k] * x[k]
			}
			// Held at its upper bound it would come off where the sum grows with it.
			if pull *= math.Copysign(1, x[i]); pull > most*(1+1e-12) {
				worst, most = i, pull
			}
		}
		if worst < 0 || most <= 1e-12*(math.Abs(q.g[worst])+q.h[worst][worst]*q.bound[worst]) {
			break
		}
		held[worst] = false
	}
	return x
}

// free is x with the unknowns that are not held where the sum is least, by Cholesky's factors.
func (q *box) free(x []float64, held []bool) []float64 {
	y := append([]float64(nil), x...)
	var at []int
	for i := range x {
		if !held[i] {
			at = append(at, i)
		}
	}
	l, b := make([][]float64, len(at)), make([]float64, len(at))
	for r, i := range at {
		b[r] = -q.g[i]
		for k := range x {
			if held[k] {
				b[r] -= q.h[i][k] * x[k]
			}
		}
		l[r] = make([]float64, r+1)
		for c := 0; c <= r; c++ {
			v := q.h[i][at[c]]
			for k := range c {
				v -= l[r][k] * l[c][k]
			}
			if c < r {
				l[r][c] = v / l[c][c]
			} else {
				l[r][r] = math.Sqrt(max(v, 1e-12*q.h[i][i]))
			}
		}
		for k := range r {
			b[r] -= l[r][k] * b[k]
		}
		b[r] /= l[r][r]
	}
	for r := len(at) - 1; r >= 0; r-- {
		for k := r + 1; k < len(at); k++ {
			b[r] -= l[k][r] * b[k]
		}
		b[r] /= l[r][r]
		y[at[r]] = b[r]
	}
	return y
}
