package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// exactMM is how far a figure worked out by hand with all its digits may be missed: a few
// roundings of numbers about 100 mm large.
const exactMM = 1e-12

// quarters are the four stations of the worked examples: right, away, left, towards the operator.
var quarters = []geom.Bearing{0, 90 * geom.Degree, 180 * geom.Degree, 270 * geom.Degree}

// degrees turns degrees into bearings.
func degrees(deg ...float64) []geom.Bearing {
	out := make([]geom.Bearing, len(deg))
	for i, d := range deg {
		out[i] = geom.FromDegrees(d)
	}
	return out
}

// mustFit fits and stops the test where that fails.
func mustFit(t testing.TB, d indicator.Dial, s indicator.Setup, b []geom.Bearing, m []float64) indicator.Estimate {
	t.Helper()
	f, err := indicator.Fit(d, s, b, m)
	if err != nil {
		t.Fatalf("Fit(%v): %v", m, err)
	}
	return f
}

// near compares two lengths; NaN equals NaN.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(want) != math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.15g, want %.15g ± %.1g", what, got, want, tol)
	}
}
