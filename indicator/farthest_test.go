package indicator

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// farthest must never be short of the farthest point of an ellipse, and hardly beyond it. The
// ellipse is walked here in very small steps of its own; the walk can only be short, by less
// than half the square of its step.
func TestFarthestIsAnUpperBound(t *testing.T) {
	const steps = 20000
	const walk = (2 * math.Pi / steps) * (2 * math.Pi / steps) / 2 // of the longer axis
	rng := rand.New(rand.NewPCG(11, 7))
	for range 300 {
		centre := geom.Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
		major := math.Exp(2 * rng.NormFloat64())
		minor := major * math.Pow(rng.Float64(), 3)
		along := geom.Bearing(2 * math.Pi * rng.Float64())
		s, c := math.Sincos(float64(along))
		most := 0.0
		for i := range steps {
			q, p := math.Sincos(2 * math.Pi * float64(i) / steps)
			x, y := major*p, minor*q
			most = max(most, math.Hypot(centre.X+x*c-y*s, centre.Y+x*s+y*c))
		}
		got := farthest(centre, major, minor, along)
		if got < most {
			t.Fatalf("farthest(%v, %v, %v, %v) = %v, short of a point at %v", centre, major, minor, along, got, most)
		}
		if got > most+(4e-5+walk)*major {
			t.Fatalf("farthest(%v, %v, %v, %v) = %v, more than 4e-5 of %v beyond %v", centre, major, minor, along, got, major, most)
		}
	}
}

// The prior of a sweep, in travel of the tip: with cos α = 0.8 a needle's 0.003 is 0.0024, and
// the rounding of 0.002/√12 = 0.00057735 joins it by squares (0.0030550 of reading, 0.0024440 of
// travel).
func TestPrior(t *testing.T) {
	d := Dial{Graduation: 0.01, ReadsTo: 0.2, LeverAngle: math.Atan2(3, 4), Repeatability: 0.003}
	p := d.prior()
	if math.Abs(p.Sigma-0.0024440) > 5e-8 || p.Dof != 8 || math.Abs(p.Floor-0.8*0.00057735) > 5e-9 {
		t.Errorf("prior %+v, want sigma 0.0024440 with 8 degrees of freedom, floor 0.00046188", p)
	}
	d.Repeatability = 0
	if p := d.prior(); p.Sigma != 0 || p.Dof != 0 || math.Abs(p.Floor-0.8*0.00057735) > 5e-9 {
		t.Errorf("prior %+v without a repeatability, want the floor alone: rounding is no measure of spread", p)
	}
}
