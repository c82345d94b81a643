package fit

import (
	"math"

	"example.org/trammel/geom"
)

// Drift is a circle that was fitted together with a steady drift of the readings.
type Drift struct {
	// Radial is the circle as it stood where the place in time is 0. Its Cofactor holds what the
	// drift, being unknown itself, costs; SSR is what circle and drift together leave.
	Radial
	// Change is by how much y drifts over one unit of time, in the terms of y, and Var its variance
	// for a reading's variance of 1.
	Change, Var float64
}

// driftSteps bounds the alternation of circle and drift; the first step is exact but for the
// second order of the circle's model, and each further one squares what is left.
const driftSteps = 20

// FitDrift is [Model.Fit] with one unknown more:
//
//	yᵢ = model(θᵢ) + c·τᵢ
//
// with τᵢ the place of reading i in time, in any unit. The drift c is found from what the circle
// cannot take up of τ: with A the rows of the circle,
//
//	τ⊥ = τ − A(AᵀWA)⁻¹AᵀWτ        c ← c + τ⊥ᵀW·r / τ⊥ᵀWτ⊥
//
// and the circle again from y − c·τ, until c stands. It returns the errors of [Model.Fit], and a
// *[SingularError] where the bearings' order lets the circle take up all of the drift.
//
// All readings are asked, for the difference of the first station's two alone would find a drift with half the power.
//
// Source: partial regression, Frisch–Waugh–Lovell theorem (from memory).
func (m Model) FitDrift(t []geom.Bearing, y, w, tau []float64) (Drift, error) {
	if len(tau) != len(y) {
		panic("fit: readings and places in time differ in number")
	}
	d := Drift{}
	even := make([]float64, len(y))
	last := math.Inf(1)
	for range driftSteps {
		for i := range y {
			even[i] = y[i] - float64(d.Change*tau[i])
		}
		var err error
		if d.Radial, err = m.Fit(t, even, w); err != nil {
			return d, err
		}
		g, left, along := d.across(t, even, w, tau)
		if !(left > leastLeft*sumSquares(tau, w)) {
			return d, &SingularError{Condition: math.Inf(1)}
		}
		step := along / left
		if done := math.Abs(step) <= 1e-13*math.Abs(d.Change) || math.Abs(step) >= last; done {
			d.Var = 1 / left
			for i := range 3 {
				for j := range 3 {
					d.Cofactor[i][j] += float64(g[i]*g[j]) / left
				}
			}
			return d, nil
		}
		d.Change, last = d.Change+step, math.Abs(step)
	}
	return d, &SingularError{Condition: math.Inf(1)}
}

// across returns g = (AᵀWA)⁻¹AᵀWτ, what the circle's unknowns take up of the drift, the weighted
// square of τ⊥, and its product with the residuals.
func (r *Radial) across(t []geom.Bearing, y, w, tau []float64) (g [3]float64, left, along float64) {
	var sum [3]float64
	for i := range t {
		row := r.Row(t[i])
		for j := range 3 {
			sum[j] += float64(float64(weight(w, i)*row[j]) * tau[i])
		}
	}
	for i := range 3 {
		for j := range 3 {
			g[i] += float64(r.Cofactor[i][j] * sum[j])
		}
	}
	for i := range t {
		row := r.Row(t[i])
		open := tau[i] - (float64(row[0]*g[0]) + float64(row[1]*g[1]) + float64(row[2]*g[2]))
		left += float64(weight(w, i) * float64(open*open))
		along += float64(float64(weight(w, i)*open) * (y[i] - r.At(t[i])))
	}
	return g, left, along
}

func sumSquares(x, w []float64) float64 {
	sum := 0.0
	for i := range x {
		sum += float64(weight(w, i) * float64(x[i]*x[i]))
	}
	return sum
}

// Spread is [Radial.Spread] with the drift counted among the unknowns.
func (d *Drift) Spread(p Prior) (s, dof float64, ok bool) { return p.spread(d.N-1+d.known(), d.SSR) }

// driftAlarm is the rate at which a clean sweep with a closing reading is called drifting (TestDriftAlarmIsItsRate); rounded readings
// are called so more seldom.
const driftAlarm = 0.002

// Drifts reports whether the drift is more than the readings' scatter makes (Student's t, two-sided,
// at driftAlarm). y are the readings that were fitted: the spread is not believed to be less than the
// rounding they show, for residuals of rounded readings can come out exactly zero.
func (d *Drift) Drifts(y []float64, p Prior) bool {
	p.Floor = max(p.Floor, commonStep(y)/math.Sqrt(12))
	s, dof, ok := d.Spread(p)
	if !ok {
		return false
	}
	s = max(s, p.Floor)
	return math.Abs(d.Change) > Student(1-driftAlarm/2, dof)*s*math.Sqrt(d.Var)
}
