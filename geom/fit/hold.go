package fit

import (
	"math"

	"example.org/trammel/geom"
)

// hold fits the centre alone, the level standing at Model.Held: Gauss–Newton with the factorisation of
// the free fit, whose first column is that of a level no reading says anything of. e is the room for
// the equations of a step, as in [Radial.equations].
func (r *Radial) hold(t []geom.Bearing, y, w []float64, e []equation) error {
	r.Level = r.Held
	if !r.inside() {
		return r.outside()
	}
	last := math.Inf(1)
	for r.Iterations = 1; r.Iterations <= maxSteps; r.Iterations++ {
		rows := e[:0]
		for i := range y {
			if len(rows) == len(e) {
				rows = fold(rows)
			}
			g, row := math.Sqrt(weight(w, i)), r.Row(t[i])
			rows = append(rows, equation{0, g * row[1], g * row[2], g * (y[i] - r.At(t[i]))})
		}
		q := products{aa: 1}.factor(rows)
		if err := singular(q.condition()); err != nil {
			return err
		}
		p := q.solve()
		step := geom.Point{X: p[1], Y: p[2]}
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
		r.Cofactor, r.Condition = q.cofactor(), q.condition()
		r.Cofactor[0][0] = 0 // the level is held
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

// HeldLean returns ∂e/∂level at the fitted centre: how the centre answers to an error of the level
// that it was held at. A held level is no observation of the sweep, so its error has to enter the
// centre's covariance by this. Arguments are those of the fit.
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
