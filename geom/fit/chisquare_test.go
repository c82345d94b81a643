package fit_test

import (
	"math"
	"testing"

	"example.org/trammel/geom/fit"
)

// Upper critical values of the chi-square distribution, to three places: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4
// (from memory). With two degrees of freedom the probability is exp(−x/2).
func TestChiSquareTable(t *testing.T) {
	const printed = 0.0005 // half of the last place of a table's value
	for _, tt := range []struct{ dof, above, x float64 }{
		{1, 0.05, 3.841}, {1, 0.001, 10.828}, {5, 0.05, 11.070}, {10, 0.05, 18.307}, {10, 0.01, 23.209}, {10, 0.001, 29.588},
		{30, 0.05, 43.773}, {30, 0.001, 59.703}, {100, 0.05, 124.342}, {100, 0.001, 149.449},
	} {
		low, high := fit.ChiSquareAbove(tt.x+printed, tt.dof), fit.ChiSquareAbove(tt.x-printed, tt.dof)
		if !(low <= tt.above && tt.above <= high) {
			t.Errorf("dof %v, %v: between %v and %v, want %v", tt.dof, tt.x, low, high, tt.above)
		}
	}
	for _, x := range []float64{0, 0.1, 3, 50} {
		if got := fit.ChiSquareAbove(x, 2); math.Abs(got-math.Exp(-x/2)) > 1e-14 {
			t.Errorf("dof 2, %v: %v, want %v", x, got, math.Exp(-x/2))
		}
	}
	for _, bad := range [][2]float64{{-1, 3}, {1, 0}, {1, -2}, {math.NaN(), 3}, {1, math.Inf(1)}} {
		if got := fit.ChiSquareAbove(bad[0], bad[1]); !math.IsNaN(got) {
			t.Errorf("%v: %v, want NaN", bad, got)
		}
	}
}
