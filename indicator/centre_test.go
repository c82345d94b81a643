package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Upper 5 % points of F with 2 and ν degrees of freedom, the 95 % ellipse's radius being
// √(2F): NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.3, from memory. Printed to
// 0.0005.
var fTable = map[float64]float64{1: 199.500, 2: 19.000, 3: 9.552, 4: 6.944, 8: 4.459, 9: 4.256, 10: 4.103, 11: 3.982}

// known returns a sweep with a given centre and a 95 % ellipse of given half axes a along X and b
// along Y, by way of an infinite number of degrees of freedom: there the ellipse is √(−2 ln 0.05)
// = 2.4477 standard deviations large (chi-square, 2 degrees of freedom: 5.991).
func known(centre geom.Point, a, b float64) indicator.Found {
	k := math.Sqrt(-2 * math.Log(0.05))
	return indicator.Found{
		Sigma: 1, Dof: math.Inf(1),
		Circle: fit.Radial{Centre: centre, Cofactor: fit.Sym3{{1, 0, 0}, {0, a * a / (k * k), 0}, {0, 0, b * b / (k * k)}}},
	}
}

// A long thin ellipse across the centre error, by hand. The centre lies at (0, 3), the half axes
// are 4 along X and 1 along Y. A point of it, (4 cos φ, 3 + sin φ), lies at
//
//	d² = 16 cos²φ + 9 + 6 sin φ + sin²φ = 25 + 6 sin φ − 15 sin²φ
//
// from the axis, most where sin φ = 0.2: d² = 25 + 1.2 − 0.6 = 25.6, d = 5.0596. Along e itself the
// doubt is only 1: the rule |e| + U ≤ tolerance would call it inside 4 and be wrong for most of
// the ellipse. Its nearest height above X is 3 − 1 = 2: below a tolerance of 2 it is outside.
func TestJudgeCentreByHand(t *testing.T) {
	f := known(geom.Point{Y: 3}, 4, 1)
	near(t, "U along e", f.Offset().U, 1.959964/2.447747, 5e-6) // 95 % of one, not of two
	for _, c := range []struct {
		tolerance float64
		want      indicator.Verdict
	}{
		{1.99, indicator.Outside},
		{2.01, indicator.Undecided},
		{4, indicator.Undecided},
		{5.059, indicator.Undecided},
		{5.060, indicator.Inside},
	} {
		if got := f.JudgeCentre(c.tolerance); got != c.want {
			t.Errorf("tolerance %v: %v, want %v", c.tolerance, got, c.want)
		}
	}
	// A centre that seems right on the axis: the ellipse's longer half axis decides.
	f = known(geom.Point{}, 4, 1)
	if got := f.JudgeCentre(3.99); got != indicator.Undecided {
		t.Errorf("centred, half axis 4, tolerance 3.99: %v, want undecided", got)
	}
	if got := f.JudgeCentre(4.001); got != indicator.Inside {
		t.Errorf("centred, half axis 4, tolerance 4.001: %v, want inside", got)
	}
}

// Without an uncertainty nothing is proven of the centre.
func TestJudgeCentreWithoutSpread(t *testing.T) {
	f := mustFit(t, indicator.Dial{}, ring, degrees(0, 120, 240), []float64{0.5, 0, -0.5})
	for _, tolerance := range []float64{1e-9, 0.02, 100} {
		if got := f.JudgeCentre(tolerance); got != indicator.Undecided {
			t.Errorf("three readings without a prior, tolerance %v: %v, want undecided", tolerance, got)
		}
	}
	g := known(geom.Point{}, 1, 1)
	g.Sigma = math.NaN()
	if got := g.JudgeCentre(100); got != indicator.Undecided {
		t.Errorf("sigma NaN: %v, want undecided", got)
	}
}

// sweeps returns sweeps of all sorts: whole rounds and arcs, with and without a prior, centred and
// not, so that their ellipses are round, and long and thin.
func sweeps(t *testing.T, each func(name string, f indicator.Found)) {
	rng := rand.New(rand.NewPCG(5, 3))
	for _, arc := range []float64{360, 270, 180, 120, 90, 60} {
		for _, n := range []int{4, 5, 6} {
			for _, d := range []indicator.Dial{{}, {Repeatability: 0.003}} {
				for range 6 {
					e := geom.Point{X: 0.05 * rng.NormFloat64(), Y: 0.05 * rng.NormFloat64()}
					from := 2 * math.Pi * rng.Float64()
					b, m := stations(n, from, arc), make([]float64, n)
					for i := range m {
						m[i] = seen(e, b[i]) + 0.003*rng.NormFloat64()
					}
					each(arcName(arc, n, d), mustFit(t, d, ring, b, m))
				}
			}
		}
	}
}

func arcName(arc float64, n int, d indicator.Dial) string {
	prior := "no prior"
	if d.Repeatability > 0 {
		prior = "prior"
	}
	return prior + ", " + string(rune('0'+n)) + " stations on " + geom.FormatFixed(arc, 0) + "°"
}

// stations spreads n stations over an arc, one at either end; evenly over a whole round.
func stations(n int, from, arcDeg float64) []geom.Bearing {
	gaps := n - 1
	if arcDeg == 360 {
		gaps = n
	}
	b := make([]geom.Bearing, n)
	for i := range b {
		b[i] = geom.Bearing(from) + geom.FromDegrees(arcDeg*float64(i)/float64(gaps))
	}
	return b
}

// seen is what the dial shows of the ring of 30 with the tip's zero at 30: the wall's distance is
// found by walking out along the line of sight until the ring is met (bisection), so that no root
// of the program's model is used.
func seen(e geom.Point, b geom.Bearing) float64 {
	u := b.Unit()
	lo, hi := 0.0, 60.0
	for range 60 {
		mid := (lo + hi) / 2
		if math.Hypot(mid*u.X-e.X, mid*u.Y-e.Y) < 30 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 30 - lo
}

// boundary walks the 95 % region's edge of a sweep: the covariance by its Cholesky factor, the
// size from the printed F table.
func boundary(t *testing.T, f *indicator.Found, each func(geom.Point)) {
	F, ok := fTable[f.Dof]
	if !ok {
		t.Fatalf("no F value for %v degrees of freedom", f.Dof)
	}
	c := &f.Circle.Cofactor
	r := f.Sigma * math.Sqrt(2*F)
	l11 := math.Sqrt(c[1][1])
	l21 := c[1][2] / l11
	l22 := math.Sqrt(c[2][2] - l21*l21)
	for i := range 3600 {
		q, p := math.Sincos(2 * math.Pi * float64(i) / 3600)
		each(geom.Point{X: f.Circle.Centre.X + r*l11*p, Y: f.Circle.Centre.Y + r*(l21*p+l22*q)})
	}
}

// 'Inside' is never said when a part of the 95 % region is out, nor 'outside' when a part of it is
// in; and 'inside' is not withheld when all of it is well in.
func TestJudgeCentreAgainstTheRegion(t *testing.T) {
	// Printed digits of F (0.0005 in 4), and the bound's 4e-5 of an axis.
	const doubt = 2e-4
	verdicts := map[indicator.Verdict]int{}
	sweeps(t, func(name string, f indicator.Found) {
		nearest, farthest := math.Inf(1), 0.0
		boundary(t, &f, func(p geom.Point) {
			nearest, farthest = min(nearest, p.Norm()), max(farthest, p.Norm())
		})
		for _, tolerance := range []float64{0.25 * farthest, 0.5 * farthest, 0.9 * farthest, (1 - doubt) * farthest, (1 + doubt) * farthest, 2 * farthest, 0.5 * nearest} {
			got := f.JudgeCentre(tolerance)
			verdicts[got]++
			if allIn := farthest*(1+doubt) <= tolerance*(1+1e-9); allIn != (got == indicator.Inside) {
				t.Errorf("%s: centre %v, farthest point of the region %.5f, tolerance %.5f: %v", name, f.Circle.Centre, farthest, tolerance, got)
			}
			if got == indicator.Outside && nearest*(1+doubt) < tolerance {
				t.Errorf("%s: a point of the region at %.5f, tolerance %.5f: outside", name, nearest, tolerance)
			}
		}
	})
	for _, v := range []indicator.Verdict{indicator.Inside, indicator.Outside, indicator.Undecided} {
		if verdicts[v] < 50 {
			t.Errorf("%v was said %d times, too seldom to have tested it", v, verdicts[v])
		}
	}
}

// The 95 % ellipse holds the true centre in 95 of 100 sweeps, on a whole round and on a quarter
// of one. Of 4000 sweeps the share's own standard deviation is √(0.95·0.05/4000) = 0.34 %; three
// of them are allowed, and the seed is fixed.
func TestEllipseCoverage(t *testing.T) {
	const runs, sigma = 4000, 0.003
	for _, arc := range []float64{360, 90} {
		rng := rand.New(rand.NewPCG(20, 26))
		e := geom.Point{X: 0.03, Y: -0.04}
		b := stations(6, 0.4, arc)
		clean := make([]float64, len(b))
		for i := range b {
			clean[i] = seen(e, b[i])
		}
		held := 0
		m := make([]float64, len(b))
		for range runs {
			for i := range m {
				m[i] = clean[i] + sigma*rng.NormFloat64()
			}
			f := mustFit(t, indicator.Dial{}, ring, b, m)
			if inEllipse(t, &f, e) {
				held++
			}
		}
		share := float64(held) / runs
		if math.Abs(share-0.95) > 3*0.0034 {
			t.Errorf("arc %v°: the ellipse holds the centre in %.4f of sweeps, want 0.95", arc, share)
		}
	}
}

func inEllipse(t *testing.T, f *indicator.Found, p geom.Point) bool {
	ell, ok := f.Ellipse()
	if !ok {
		t.Fatal("no ellipse")
	}
	d := p.Sub(f.Circle.Centre)
	u := ell.Along.Unit()
	return math.Hypot(d.Dot(u)/ell.Major, d.Dot(geom.Point{X: -u.Y, Y: u.X})/ell.Minor) <= 1
}

// A centre just beyond the tolerance is called inside in fewer than 5 of 100 sweeps, and one just
// within it outside as seldom, wherever it lies against a quarter arc, whose ellipse is long.
func TestJudgeCentreIsSeldomWrong(t *testing.T) {
	const runs, sigma, tolerance = 400, 0.003, 0.15
	d := indicator.Dial{Repeatability: sigma}
	b := stations(6, 0, 90)
	rng := rand.New(rand.NewPCG(8, 1))
	inside, outside, said := 0, 0, 0
	m := make([]float64, len(b))
	for at := 0; at < 360; at += 15 {
		for _, r := range []float64{tolerance * 1.0001, tolerance * 0.9999} {
			u := geom.FromDegrees(float64(at)).Unit()
			e := geom.Point{X: r * u.X, Y: r * u.Y}
			wrong, clean := 0, make([]float64, len(b))
			for i := range b {
				clean[i] = seen(e, b[i])
			}
			for range runs {
				for i := range m {
					m[i] = clean[i] + sigma*rng.NormFloat64()
				}
				f := mustFit(t, d, ring, b, m)
				v := f.JudgeCentre(tolerance)
				if v != indicator.Undecided {
					said++
				}
				if v == indicator.Inside && r > tolerance {
					wrong++
					inside++
				}
				if v == indicator.Outside && r < tolerance {
					wrong++
					outside++
				}
			}
			if wrong > runs*5/100 {
				t.Errorf("centre at %.4f towards %d°: %d of %d verdicts wrong, want at most 5 in 100", r, at, wrong, runs)
			}
		}
	}
	if inside+outside == 0 {
		t.Errorf("not one wrong verdict in %d decided: the test stands too far from the limit to see one", said)
	}
}
