package advice_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
)

// learnt is what parts have shown of the fixture, one behind the other.
func learnt(all ...advice.Lain) (f advice.Fixture) {
	for _, p := range all {
		f = f.And(p)
	}
	return f
}

// The first of F. J. Anscombe's four sets (The American Statistician 27, 1973, 17–21; from memory): the line of least squares is
// y = 3.00 + 0.500 x, its slope's standard error 0.118, the residual sum of squares 13.76 on 9 degrees of freedom. Along X the same
// figures stand, so that the spread is pooled of two equal ones, on 18.
func TestFixtureFollowsRegression(t *testing.T) {
	xs := []int{10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5}
	ys := []float64{8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68}
	var all []advice.Lain
	for i, n := range xs {
		all = append(all, advice.Lain{N: n, At: geom.Point{X: ys[i], Y: ys[i]}})
	}
	f := learnt(all...)
	at, _ := f.Place(0)
	if math.Abs(f.Slope.X-0.5) > 5e-4 || math.Abs(f.Slope.Y-0.5) > 5e-4 || !f.Walks || math.Abs(at.X-3) > 5e-3 {
		t.Errorf("slope %v, walks %v, at 0 %v; want 0.500, and 3.00", f.Slope, f.Walks, at)
	}
	if s := math.Sqrt(13.76 / 9); math.Abs(f.Spread-s) > 1e-3 || f.Dof != 18 {
		t.Errorf("spread %v on %v, want %v on 18", f.Spread, f.Dof, s)
	}
	const t18 = 2.101 // Student's t, 97.5 %, 18 degrees of freedom: any table
	if math.Abs(f.SlopeU-t18*0.118) > 5e-4 {
		t.Errorf("slope known to %v, want %v", f.SlopeU, t18*0.118)
	}
}

// A fixture that stands still, however widely it lays its parts, is seldom said to walk: in a batch of ten that is asked behind every
// part, in one of twenty at most; and to seem so, which claims less, in one of nine
// or so: the count's own three standard deviations beside.
func TestFixtureRarelyCriesWolf(t *testing.T) {
	const batches, parts, tolerance = 4000, 10, 0.02
	rng := rand.New(rand.NewPCG(3, 3))
	for _, spread := range []float64{0.002, 0.005, 0.02} {
		walks, may := 0, 0
		for range batches {
			var all []advice.Lain
			var cried, seemed bool
			for n := 1; n <= parts; n++ {
				all = append(all, advice.Lain{N: n, U: 0.0015, At: geom.Point{X: math.Hypot(spread, 0.0015) * rng.NormFloat64(),
					Y: math.Hypot(spread, 0.0015) * rng.NormFloat64()}})
				f := learnt(all...)
				_, m := f.MayBeOut(geom.Point{}, tolerance)
				cried, seemed = cried || f.Walks, seemed || m
			}
			if cried {
				walks++
			}
			if seemed {
				may++
			}
		}
		t.Logf("spread %v: %.3f of batches walk, %.3f seem to", spread, float64(walks)/batches, float64(may)/batches)
		if walks > batches/20 {
			t.Errorf("spread %v: %d of %d batches that stand still are said to walk", spread, walks, batches)
		}
		if float64(may) > batches/9.0+3*math.Sqrt(batches/9.0*8/9) {
			t.Errorf("spread %v: %d of %d batches that stand still are said to seem to walk", spread, may, batches)
		}
	}
}

// How far the next part lies from where it is expected stays within what is said in 95 of 100 cases, whatever was learnt from.
func TestFixtureFarAsSaid(t *testing.T) {
	const batches = 4000
	rng := rand.New(rand.NewPCG(4, 4))
	for _, parts := range []int{2, 3, 6} {
		beyond := 0
		place := func() geom.Point { return geom.Point{X: 0.01 * rng.NormFloat64(), Y: 0.01 * rng.NormFloat64()} }
		for range batches {
			var all []advice.Lain
			for n := 1; n <= parts; n++ {
				all = append(all, advice.Lain{N: n, At: place()})
			}
			f := learnt(all...)
			if f.Walks {
				continue // one in a hundred: it follows a line that is none
			}
			if at, u := f.Place(parts + 1); place().Sub(at).Norm() > u {
				beyond++
			}
		}
		// Three standard errors of 5 % of so many.
		if off := math.Abs(float64(beyond)/batches - 0.05); off > 3*math.Sqrt(0.05*0.95/batches) {
			t.Errorf("of %d parts the next lies beyond in %d of %d cases, want 5 %%", parts, beyond, batches)
		}
	}
}

// Two parts within 0.004 of one place lie 0.008 apart at most; nothing is trusted of a single part whose fixture nobody has stated.
func TestTrustedAsStated(t *testing.T) {
	f := learnt(advice.Lain{N: 1})
	if far := f.Trusted(2, geom.Point{}, 0.004); far != 0.008 {
		t.Errorf("trusted to %v, want 0.008", far)
	}
	if far := f.Trusted(2, geom.Point{}, 0); !math.IsInf(far, 1) {
		t.Errorf("trusted to %v, want nothing known", far)
	}
	if n := f.Every(geom.Point{}, 0.02, 0); n != 1 {
		t.Errorf("swept every %d, want each", n)
	}
	if n := f.Every(geom.Point{}, 0.02, 0.004); n != 5 {
		t.Errorf("swept every %d, want every fifth", n)
	}
}

// A fixture that walks is followed ahead: the part after the next ones lies as far from where it is expected as is said in 95 of 100
// cases, however far ahead it is, the doubt of the slope growing with it.
func TestWalkingFixtureFarAsSaid(t *testing.T) {
	const batches = 3000
	rng := rand.New(rand.NewPCG(5, 5))
	for _, c := range []struct{ parts, ahead int }{{4, 1}, {5, 3}, {6, 10}} {
		beyond := 0
		place := func(n int) geom.Point {
			return geom.Point{X: 0.2*float64(n) + 0.005*rng.NormFloat64(), Y: -0.1*float64(n) + 0.005*rng.NormFloat64()}
		}
		for range batches {
			var all []advice.Lain
			for n := 1; n <= c.parts; n++ {
				all = append(all, advice.Lain{N: n, At: place(n)})
			}
			f := learnt(all...)
			if !f.Walks {
				t.Fatalf("parts that lie 0.2 apart do not walk: %+v", f)
			}
			if at, u := f.Place(c.parts + c.ahead); place(c.parts+c.ahead).Sub(at).Norm() > u {
				beyond++
			}
		}
		if off := math.Abs(float64(beyond)/batches - 0.05); off > 4*math.Sqrt(0.05*0.95/batches) {
			t.Errorf("%d parts, %d ahead: beyond in %d of %d cases, want 5 %%", c.parts, c.ahead, beyond, batches)
		}
	}
}
