package fit

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// pts makes points of x, y, x, y …
func pts(xy ...float64) []geom.Point {
	var p []geom.Point
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, geom.Point{X: xy[i], Y: xy[i+1]})
	}
	return p
}

func TestTooFewPlaces(t *testing.T) {
	for _, c := range []struct {
		name string
		p    []geom.Point
		have int
	}{
		{"none", nil, 0},
		{"one", pts(1, 2), 1},
		{"two", pts(1, 2, 3, 4), 2},
		{"one place, five times", pts(7, 7, 7, 7, 7, 7, 7, 7, 7, 7), 1},
		{"two places, in turn", pts(0, 0, 5, 1, 0, 0, 5, 1, 0, 0), 2},
		{"two places but for rounding", pts(1000.1, 1000.1, 1000.1+1e-13, 1000.1, 900, 900), 2},
		{"all in the origin", pts(0, 0, 0, 0, 0, 0), 1},
		{"smaller than any number's square", pts(0, 0, 1e-200, 0, 0, 1e-200), 1},
	} {
		_, err := Orthogonal(c.p, nil)
		var few *CoincidentError
		if !errors.As(err, &few) || few.Have != c.have || few.Need != 3 {
			t.Errorf("%s: %v, want %d of 3 places", c.name, err, c.have)
		}
	}
	err := &CoincidentError{Have: 2, Need: 3}
	if got, want := err.Error(), "points in 2 distinct places, need at least 3"; got != want {
		t.Errorf("message %q, want %q", got, want)
	}
}

func TestStraightPoints(t *testing.T) {
	for _, c := range []struct {
		name string
		p    []geom.Point
	}{
		{"along X", pts(0, 0, 1, 0, 5, 0, 9, 0)},
		{"along Y, far from the datum", pts(1e4, 0, 1e4, 3, 1e4, 4)},
		{"askew, with rounding", pts(0.1, 0.3, 0.2, 0.6, 0.3, 0.9, 0.7, 2.1)},
		{"askew, far from the datum", pts(1000.1, 1000.3, 1000.2, 1000.6, 1000.7, 1002.1)},
		{"a cross: no side is better", pts(10, 0, -10, 0, 0, 1, 0, -1)},
		{"two rows and a middle", pts(5, 1, -5, 1, -5, -1, 5, -1, 0, 0)},
	} {
		_, err := Orthogonal(c.p, nil)
		var straight *StraightError
		if !errors.As(err, &straight) || !(straight.Bow <= straight.Need && straight.Need > 0) {
			t.Errorf("%s: error %v, want a straight one", c.name, err)
		}
	}
	err := &StraightError{Bow: 2e-17, Need: 1e-13}
	if got, want := err.Error(), "the points lie on a straight line (they bow by 2e-17 mm, need more than 1e-13 mm)"; got != want {
		t.Errorf("message %q, want %q", got, want)
	}
	// Random lines through the whole plane, computed with rounding.
	rng := rand.New(rand.NewPCG(27, 1))
	for range 2000 {
		u, from := geom.Bearing(7*rng.Float64()).Unit(), geom.Point{X: 200 * rng.NormFloat64(), Y: 200 * rng.NormFloat64()}
		var p []geom.Point
		for range 3 + rng.IntN(9) {
			l := 20 * rng.NormFloat64()
			p = append(p, from.Add(geom.Point{X: l * u.X, Y: l * u.Y}))
		}
		if _, err := Orthogonal(p, nil); !errors.As(err, new(*StraightError)) {
			t.Fatalf("%v on a line: %v", p, err)
		}
	}
}

func TestUnusablePoints(t *testing.T) {
	good := pts(0, 0, 5, 1, 9, 0, 4, 2)
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e101} {
		for i := range good {
			p := append([]geom.Point(nil), good...)
			p[i].Y = bad
			var value *ValueError
			if _, err := Orthogonal(p, nil); !errors.As(err, &value) || value.Index != i {
				t.Errorf("point %d is %v: error %v", i, bad, err)
			}
		}
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e-101} {
		var value *ValueError
		if _, err := Orthogonal(good, []float64{1, 1, bad, 1}); !errors.As(err, &value) || value.Index != 2 {
			t.Errorf("weight %v: error %v", bad, err)
		}
	}
	// Weights that leave two points only.
	for _, w := range [][]float64{{1e30, 1e30, 1e-30, 1e-30}, {1e90, 1, 1, 1}} {
		if _, err := Orthogonal(good, w); !errors.As(err, new(*SingularError)) {
			t.Errorf("weights %v: error %v, want a singular one", w, err)
		}
	}
	err := &UnsettledError{Steps: 100, Step: 0.3, Need: 1e-7}
	if got, want := err.Error(), "no circle is best for these points (after 100 steps still moving by 0.3 of their extent, need "+
		"below 1e-07)"; got != want {
		t.Errorf("message %q, want %q", got, want)
	}
}

// through is the circle through three points in 300 bits, by the determinants of the school book.
func through(p []geom.Point) (x, y, r float64) {
	num := func(v float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(v) }
	op := func() *big.Float { return new(big.Float).SetPrec(300) }
	bx, by := op().Sub(num(p[1].X), num(p[0].X)), op().Sub(num(p[1].Y), num(p[0].Y))
	cx, cy := op().Sub(num(p[2].X), num(p[0].X)), op().Sub(num(p[2].Y), num(p[0].Y))
	square := func(x, y *big.Float) *big.Float { return op().Add(op().Mul(x, x), op().Mul(y, y)) }
	det := op().Sub(op().Mul(bx, cy), op().Mul(by, cx))
	det.Add(det, det)
	b, c := square(bx, by), square(cx, cy)
	ux := op().Quo(op().Sub(op().Mul(cy, b), op().Mul(by, c)), det)
	uy := op().Quo(op().Sub(op().Mul(bx, c), op().Mul(cx, b)), det)
	r, _ = op().Sqrt(square(ux, uy)).Float64()
	x, _ = op().Add(ux, num(p[0].X)).Float64()
	y, _ = op().Add(uy, num(p[0].Y)).Float64()
	return x, y, r
}

// Three points on 20 mm that bow by a tenth of a millimetre down to a femtometre's ten: each has
// its circle, up to millions of kilometres, and only what rounding cannot tell from straight is
// refused. The relative error of the radius is that of the bow, whose rounding is 1e-15 mm or so.
func TestNearlyStraight(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 2))
	for e := 1; e <= 11; e++ {
		bow := math.Pow(10, -float64(e))
		for range 100 {
			at := 0.2 + 0.6*rng.Float64()
			turn := geom.Bearing(7 * rng.Float64()).Unit()
			var p []geom.Point
			for _, v := range [][2]float64{{0, 0}, {20 * at, 4 * at * (1 - at) * bow}, {20, 0}} {
				p = append(p, geom.Point{X: v[0]*turn.X - v[1]*turn.Y + 3, Y: v[0]*turn.Y + v[1]*turn.X - 7})
			}
			x, y, r := through(p)
			f, err := Orthogonal(p, nil)
			if err != nil {
				t.Fatalf("bow %v: %v", bow, err)
			}
			const rounding = 1e-14 // mm
			if tol := r * (1e-14 + rounding/bow); farthest([3]float64{f.Radius, f.Centre.X, f.Centre.Y}, [3]float64{r, x, y}) > tol {
				t.Errorf("bow %v: radius %.12g about %v, want %.12g about (%.12g, %.12g) ±%.2g", bow, f.Radius, f.Centre, r, x, y, tol)
			}
			for _, v := range p {
				if !(math.Abs(f.Residual(v)) < rounding) {
					t.Errorf("bow %v: the circle misses a point by %v", bow, f.Residual(v))
				}
			}
		}
	}
}

// Heaps of points suit no circle, and the residuals are as large as the radius: the search must still
// end, where the sum of squares has no slope: Σ r = 0 and Σ r·u = 0.
func TestHeapsOfPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 3))
	for range 1000 {
		var p []geom.Point
		for range 4 + rng.IntN(9) {
			p = append(p, geom.Point{X: 10 * rng.NormFloat64(), Y: 10 * rng.NormFloat64()})
		}
		f, err := Orthogonal(p, nil)
		if err != nil {
			t.Fatalf("%v: %v", p, err)
		}
		var sum float64
		var slope geom.Point
		nearest := math.Inf(1)
		for _, v := range p {
			u := v.Sub(f.Centre)
			nearest = min(nearest, u.Norm())
			r := f.Residual(v)
			sum += r
			slope = slope.Add(geom.Point{X: r * u.X / u.Norm(), Y: r * u.Y / u.Norm()})
		}
		// In the very centre the distance of a point has no slope.
		if nearest > 1e-3 && (math.Abs(sum) > 1e-9 || slope.Norm() > 1e-9) {
			t.Errorf("%v: slopes %v and %v in %d steps, want none", p, sum, slope, f.Iterations)
		}
	}
}
