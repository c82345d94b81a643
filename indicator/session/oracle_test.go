package session_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// deciding is the variance that decides, for a reading's variance of 1, of readings taken at the
// given bearings: of the radius, or along the long axis of the centre's ellipse. It goes another
// way than the program does: normal equations of the linear model m = a − e·u, inverted and
// decomposed by gonum.
func deciding(bearings []float64, radius bool) float64 {
	rows := mat.NewDense(len(bearings), 3, nil)
	for i, b := range bearings {
		rows.SetRow(i, []float64{1, -math.Cos(b), -math.Sin(b)})
	}
	var normal mat.SymDense
	normal.SymOuterK(1, rows.T())
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		return math.Inf(1)
	}
	var c mat.SymDense
	if err := chol.InverseTo(&c); err != nil {
		return math.Inf(1)
	}
	if radius {
		return c.At(0, 0)
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(mat.NewSymDense(2, []float64{c.At(1, 1), c.At(1, 2), c.At(2, 1), c.At(2, 2)}), false) {
		return math.Inf(1)
	}
	return eigen.Values(nil)[1]
}

// Evenly round, the variances are 1/n for the radius and 2/n for each component of the centre.
func TestOracle(t *testing.T) {
	var at []float64
	for i := range 8 {
		at = append(at, float64(i)*math.Pi/4)
	}
	for _, c := range []struct {
		radius bool
		want   float64
	}{{true, 1.0 / 8}, {false, 2.0 / 8}} {
		if got := deciding(at, c.radius); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("radius %v: %v, want %v", c.radius, got, c.want)
		}
	}
}
