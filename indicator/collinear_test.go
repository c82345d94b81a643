package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// arc is a sweep of n stations on so many degrees, begun at 20°.
func arc(n int, degrees float64) []geom.Bearing {
	return stations(n, float64(20*geom.Degree), degrees)
}

// On 60° radius and centre are known together and not alone, in setup carried as radius less
// centre along the arc's middle; on 200° they are told apart. The figures are those of a linear model
// of the level and the part along the middle, m = level − part·cos: two unknowns, for the part across
// is apart by symmetry.
func TestCollinear(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.003}
	at := arc(7, 60)
	var m []float64
	var n, c, cc float64
	for _, b := range at {
		m = append(m, seen(geom.Point{}, b))
		x := math.Cos(float64(b - 50*geom.Degree))
		n, c, cc = n+1, c+x, cc+x*x
	}
	f := mustFit(t, d, ring, at, m)
	got, ok := f.Collinear()
	if !ok || !got.Difference || got.Along.Apart(50*geom.Degree) > 1e-6 {
		t.Fatalf("%+v, %v, want a difference along 50°", got, ok)
	}
	det := n*cc - c*c
	u := fit.Coverage(f.Dof) * f.Sigma
	near(t, "radius", got.Radius/u, math.Sqrt(cc/det), 1e-6)
	near(t, "part", got.Part/u, math.Sqrt(n/det), 1e-6)
	near(t, "together", got.Together/u, math.Sqrt((cc+n-2*c)/det), 1e-6)
	near(t, "held", got.Held/u, 1/math.Sqrt(cc), 1e-6)

	at, m = arc(7, 200), nil
	for _, b := range at {
		m = append(m, seen(geom.Point{}, b))
	}
	f = mustFit(t, d, ring, at, m)
	if got, ok := f.Collinear(); ok {
		t.Errorf("200°: %+v, want them told apart", got)
	}
	// Of a surface of unknown radius the sum is known.
	s := indicator.Setup{ZeroRadius: 30}
	at, m = arc(7, 60), make([]float64, 7)
	f = mustFit(t, d, s, at, m)
	if got, ok := f.Collinear(); !ok || got.Difference || got.Along.Apart(50*geom.Degree) > 1e-6 {
		t.Errorf("a surface: %+v, %v, want a sum along 50°", got, ok)
	}
}

// A swing radius that is held within its limits makes a 60° sweep as good as it says: the centre's
// intervals hold 95 ± 1.5 % of sweeps whose held radius is off by anything within ± its limit. (A
// rectangular error beside a small normal one is held a little more often than 95 %.)
func TestHeldCoverage(t *testing.T) {
	const runs = 4000
	rng := rand.New(rand.NewPCG(64, 1))
	s := ring
	s.HeldLimit = 0.004
	at := arc(7, 60)
	truth := geom.Point{X: 0.04, Y: -0.03}
	held, widest := [2]int{}, 0.0
	for range runs {
		s.HeldRadius = 42 + s.HeldLimit*(2*rng.Float64()-1)
		d := indicator.Dial{Repeatability: drawn(rng, sceneSigma)}
		var m []float64
		for _, b := range at {
			m = append(m, seen(truth, b)+sceneSigma*rng.NormFloat64())
		}
		f := mustFit(t, d, s, at, m)
		if r := f.Swing(); r.V != s.HeldRadius || math.Abs(r.U-1.959964*0.004/math.Sqrt(3)) > 1e-8 {
			t.Fatalf("swing %+v, want what is held", r)
		}
		for i, x := range [2]float64{f.CentreX().V - truth.X, f.CentreY().V - truth.Y} {
			u := [2]float64{f.CentreX().U, f.CentreY().U}[i]
			widest = max(widest, u)
			if math.Abs(x) <= u {
				held[i]++
			}
		}
	}
	for i, what := range [2]string{"x", "y"} {
		share := float64(held[i]) / runs
		t.Logf("%s: %.2f %%, U up to %.4f", what, 100*share, widest)
		if math.Abs(share-0.955) > 0.015 {
			t.Errorf("the interval of %s held the truth in %.2f %%, want about 95 %%", what, 100*share)
		}
	}
	if widest > 0.02 {
		t.Errorf("U of the centre up to %v, want it held to some 0.01", widest)
	}
}

// A held radius that the readings contradict shows.
func TestHeldOff(t *testing.T) {
	s := ring
	s.HeldRadius, s.HeldLimit = 42.05, 0.004
	at := arc(9, 300)
	var m []float64
	for _, b := range at {
		m = append(m, seen(geom.Point{X: 0.02}, b))
	}
	f := mustFit(t, indicator.Dial{Repeatability: 0.003}, s, at, m)
	off := f.HeldOff(at, m)
	near(t, "off by", off.V, -0.05, 1e-9)
	if !(off.U < 0.01) {
		t.Errorf("its doubt is %v", off.U)
	}
	if off := mustHeldOff(t, ring, at, m); off.Known() {
		t.Errorf("nothing is held, and yet it is off by %v", off)
	}
}

func mustHeldOff(t *testing.T, s indicator.Setup, at []geom.Bearing, m []float64) indicator.Value {
	f := mustFit(t, indicator.Dial{Repeatability: 0.003}, s, at, m)
	return f.HeldOff(at, m)
}

// What the readings' own radius is off the held one by is as sure as both together: the free fit's U, and the limit of the held one.
func TestHeldOffIsAsSureAsBoth(t *testing.T) {
	s, d, at := ring, indicator.Dial{Repeatability: 0.003}, arc(9, 300)
	m := make([]float64, len(at))
	free := mustFit(t, d, s, at, m)
	s.HeldRadius, s.HeldLimit = 42, 0.02
	f := mustFit(t, d, s, at, m)
	off := f.HeldOff(at, m)
	near(t, "U", off.U, math.Hypot(free.Swing().U, 0.02), 1e-12)
}
