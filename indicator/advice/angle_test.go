package advice_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/advice"
)

// Weighed least squares by hand: a = h·W·off ÷ h·W·h and u = 1/√(h·W·h), with W the inverse of the noise. [[2 1] [1 1]]
// has the inverse [[1 −1] [−1 2]].
func TestAngle(t *testing.T) {
	skew := [2][2]float64{{2, 1}, {1, 1}}
	for _, c := range []struct {
		name     string
		h, other [2]float64
		doubt    float64
		noise    [2][2]float64
		off      [2]float64
		a, u     float64
	}{
		{"what is across says nothing", [2]float64{2, 0}, [2]float64{}, 0, [2][2]float64{{1, 0}, {0, 1}}, [2]float64{0.01,
			5}, 0.005, 0.5},
		{"the surer part counts more", [2]float64{1, 1}, [2]float64{}, 0, [2][2]float64{{4, 0}, {0, 1}}, [2]float64{1, 0},
			0.2, 1 / math.Sqrt(1.25)},
		{"noise of both, along X", [2]float64{1, 0}, [2]float64{}, 0, skew, [2]float64{3, 1}, 2, 1},
		{"noise of both, along Y", [2]float64{0, 1}, [2]float64{}, 0, skew, [2]float64{3, 1}, -0.5, 1 / math.Sqrt2},
		// 40 mm a radian times a thousandth is 0.04 beside 0.03: 0.05 in all.
		{"the other slide's doubt", [2]float64{30, 0}, [2]float64{40, 0}, 0.001, [2][2]float64{{0.0009, 0}, {0, 0.0009}},
			[2]float64{0.06, 0}, 0.002, 0.05 / 30},
		// Across its own line it adds none.
		{"the other slide across", [2]float64{30, 0}, [2]float64{0, 40}, 0.001, [2][2]float64{{0.0009, 0}, {0, 0.0009}},
			[2]float64{0.06, 0}, 0.002, 0.001},
	} {
		if a, u := advice.Angle(c.h, c.other, c.doubt, c.noise, c.off); math.Abs(a-c.a) > 1e-12 || math.Abs(u-c.u) > 1e-12 {
			t.Errorf("%s: %v ±%v, want %v ±%v", c.name, a, u, c.a, c.u)
		}
	}
}
