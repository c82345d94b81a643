package fit

import (
	"math"

	"example.org/trammel/geom"
)

// hold fits the centre alone, the level standing at Model.Held: Gauss–Newton on two unknowns, each
// step by Gram–Schmidt on the two columns. The factorisation is that of the model at the answer, as
// in the free fit.
func (r *Radial) hold(t []geom.Bearing, y, w []float64) error {
	r.Level = r.Held
	if !r.inside() {
		return r.outside()
	}
	last := math.Inf(1)
	for r.Iterations = 1; r.Iterations <= maxSteps; r.Iterations++ {
		p := r.pairs(t, y, w)
		if !(p.condition() < maxCondition) {
			return &SingularError{Condition: p.condition()}
		}
		step := p.solve()
		for f := 1.0; ; f /= 2 { // stay where the model has a value
			at := r.Centre.Add(geom.Point{X: f * step.X, Y: f * step.Y})
			if at.Norm() < r.inner() {
				r.Centre = at
				break
			}
			if f < 1e-6 {
				return r.outside()
			}
		}
		r.Cofactor, r.Condition = p.cofactor(), p.condition()
		size := step.Norm()
		if size <= 1e-13*r.inner() || size >= last {
			r.SSR = r.left(t, y, w)
			return nil
		}
		last = size
	}
	return r.outside()
}

// left returns Σ wᵢ rᵢ² at the present unknowns, mm².
func (r *Radial) left(t []geom.Bearing, y, w []float64) float64 {
	sum := 0.0
	for i := range y {
		d := y[i] - r.At(t[i])
		sum += float64(weight(w, i) * float64(d*d))
	}
	return sum
}

// twoColumns is a least-squares problem in the centre alone, factored: √W·(a_x, a_y) = Q·R.
type twoColumns struct{ r11, r12, r22, b1, b2 float64 }

// pairs factors the centre's columns about the present centre.
func (r *Radial) pairs(t []geom.Bearing, y, w []float64) (p twoColumns) {
	for i := range y {
		g, row := math.Sqrt(weight(w, i)), r.Row(t[i])
		p.r11 = math.Hypot(p.r11, g*row[1])
	}
	for i := range y {
		g, row := math.Sqrt(weight(w, i)), r.Row(t[i])
		q := g * row[1] / p.r11
		p.r12 += float64(q * g * row[2])
		p.b1 += float64(q * g * (y[i] - r.At(t[i])))
	}
	for i := range y {
		g, row := math.Sqrt(weight(w, i)), r.Row(t[i])
		rest := g*row[2] - float64(p.r12*(g*row[1]/p.r11))
		p.r22 = math.Hypot(p.r22, rest)
		p.b2 += float64(rest * (g * (y[i] - r.At(t[i]))))
	}
	p.b2 /= p.r22
	return p
}

func (p *twoColumns) solve() geom.Point {
	y := p.b2 / p.r22
	return geom.Point{X: (p.b1 - float64(p.r12*y)) / p.r11, Y: y}
}

// condition bounds the condition number from above (Frobenius norms).
func (p *twoColumns) condition() float64 {
	if !(p.r11 > 0 && p.r22 > 0) {
		return math.Inf(1)
	}
	s := float64(p.r11*p.r11) + float64(p.r12*p.r12) + float64(p.r22*p.r22)
	return s / (p.r11 * p.r22)
}

// cofactor is R⁻¹·R⁻ᵀ over the centre; the level, which is held, has none.
func (p *twoColumns) cofactor() (c Sym3) {
	a, b, d := 1/p.r11, -p.r12/(p.r11*p.r22), 1/p.r22
	c[1][1] = float64(a*a) + float64(b*b)
	c[1][2] = float64(b * d)
	c[2][1] = c[1][2]
	c[2][2] = float64(d * d)
	return c
}

// HeldLean returns ∂e/∂level at the fitted centre: how the centre answers to an error of the level
// that it was held at. Arguments are those of the fit.
func (r *Radial) HeldLean(t []geom.Bearing, w []float64) geom.Point {
	var sum geom.Point
	for i := range t {
		row, g := r.Row(t[i]), weight(w, i)
		sum.X += float64(g * float64(row[0]*row[1]))
		sum.Y += float64(g * float64(row[0]*row[2]))
	}
	c := &r.Cofactor
	return geom.Point{X: -(float64(c[1][1]*sum.X) + float64(c[1][2]*sum.Y)), Y: -(float64(c[2][1]*sum.X) + float64(c[2][2]*sum.Y))}
}
