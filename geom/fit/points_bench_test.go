package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// twelvePoints are a dozen points round half a circle of 30.
func twelvePoints() touched {
	return shortPointArc(180).blurred(rand.New(rand.NewPCG(27, 41)), scatter)
}

func BenchmarkOrthogonal12(b *testing.B) {
	s := twelvePoints()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Orthogonal(s.p, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOrthogonal12Gonum is the same fit by the oracle of the tests, begun at the truth.
func BenchmarkOrthogonal12Gonum(b *testing.B) {
	s := twelvePoints()
	b.ReportAllocs()
	for b.Loop() {
		orthogonalOracle(s)
	}
}

func TestOrthogonalAllocatesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 42))
	for _, n := range []int{3, 12, 64, 1000} {
		s := onCircle([3]float64{30, 1, 2}, evenly(n, 0, math.Pi)).blurred(rng, scatter)
		weights := make([]float64, n)
		for i := range weights {
			weights[i] = 1 + rng.Float64()
		}
		for _, w := range [][]float64{nil, weights} {
			allocs := testing.AllocsPerRun(50, func() {
				f, err := Orthogonal(s.p, w)
				if err != nil {
					t.Fatal(err)
				}
				f.Residual(s.p[0])
				f.Spread(Prior{})
				f.Cofactor.Ellipse()
			})
			if allocs != 0 {
				t.Errorf("%d points, weights %v: %v allocations, want 0", n, w != nil, allocs)
			}
		}
	}
}
