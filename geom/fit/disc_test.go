package fit

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/trammel/geom"
)

// TestLegendre holds the quadrature to the exact integrals of x^k, which eight points give up to
// degree 15.
func TestLegendre(t *testing.T) {
	for k := 0; k <= 15; k++ {
		got := 0.0
		for i, x := range legendreNodes {
			got += legendreWeights[i] * math.Pow(x, float64(k))
		}
		want := 0.0
		if k%2 == 0 {
			want = 2 / float64(k+1)
		}
		if math.Abs(got-want) > 1e-14 {
			t.Errorf("integral of x^%d = %v, want %v", k, got, want)
		}
	}
}

// TestBeyondNormalCentred has a closed form: a circular normal law about the axis lies beyond
// radius q·σ with probability exp(−q²/2) (Rayleigh distribution).
func TestBeyondNormalCentred(t *testing.T) {
	r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 0.25, 0}, {0, 0, 0.25}}}
	for _, q := range []float64{0.5, 1, 2, 3} {
		got, want := r.Beyond(q*0.5*0.003, 0.003, math.Inf(1)), math.Exp(-q*q/2)
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("beyond %v sigma = %v, want %v", q, got, want)
		}
	}
}

// TestBeyondStudentCentred: for a circular bivariate t, P(|e| > q·s) = (1 + q²/ν)^(−ν/2), since
// q²/2 then follows F with 2 and ν degrees of freedom, whose distribution function is closed.
func TestBeyondStudentCentred(t *testing.T) {
	r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	for _, dof := range []float64{1, 3, 8, 11} {
		for _, q := range []float64{0.5, 2, 4} {
			got, want := r.Beyond(q, 1, dof), math.Pow(1+q*q/dof, -dof/2)
			if math.Abs(got-want) > 2e-6 {
				t.Errorf("dof %v beyond %v = %v, want %v", dof, q, got, want)
			}
		}
	}
}

// TestBeyondSimulated compares an off-centre, long and tilted ellipse with drawing it.
func TestBeyondSimulated(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 7))
	c := Sym3{{1, 0, 0}, {0, 2, 1.2}, {0, 1.2, 1}}
	r := Radial{Cofactor: c, Centre: geom.Point{X: 0.8, Y: -0.4}}
	const dof, s, radius, draws = 6.0, 0.7, 1.5, 400_000
	far := 0
	l11 := math.Sqrt(c[1][1])
	l21 := c[1][2] / l11
	l22 := math.Sqrt(c[2][2] - l21*l21)
	for range draws {
		chi := 0.0
		for range int(dof) {
			z := rng.NormFloat64()
			chi += z * z
		}
		k := s / math.Sqrt(chi/dof)
		a, b := rng.NormFloat64(), rng.NormFloat64()
		if math.Hypot(r.Centre.X+k*l11*a, r.Centre.Y+k*(l21*a+l22*b)) > radius {
			far++
		}
	}
	want := float64(far) / draws
	sd := math.Sqrt(want * (1 - want) / draws)
	begin := time.Now()
	got := r.Beyond(radius, s, dof)
	t.Logf("beyond %v, drawn %v ± %v, %v", got, want, sd, time.Since(begin))
	if math.Abs(got-want) > 4*sd { // four standard deviations of the drawing
		t.Errorf("beyond = %v, drawn %v ± %v", got, want, sd)
	}
}
