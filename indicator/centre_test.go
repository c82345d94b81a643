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
func known(centre geom.Point, a, b float64) indicator.Estimate {
	k := math.Sqrt(-2 * math.Log(0.05))
	return indicator.Estimate{
		Sigma: 1, Dof: math.Inf(1),
		Circle: fit.Radial{Centre: centre, Cofactor: fit.Sym3{{1, 0, 0}, {0, a * a / (k * k), 0}, {0, 0, b * b / (k * k)}}},
	}
}

// A long thin ellipse across the centre error, by hand. The centre lies at (0, 3), and the 95 %
// half axes are 4 along X and 1 along Y. Along e itself the doubt is only 1: the rule |e| + U ≤
// tolerance would call it inside 4 and be wrong for most of the ellipse. Its nearest height above X
// is 3 − 1 = 2: below a tolerance of 2 it is outside.
func TestJudgeCentreByHand(t *testing.T) {
	f := known(geom.Point{Y: 3}, 4, 1)
	near(t, "U along e", f.Offset().U, 1.959964/2.447747, 5e-6) // 95 % of one, not of two
	for _, c := range []struct {
		tolerance float64
		want      indicator.Verdict
	}{{1.99, indicator.Outside}, {2.01, indicator.Undecided}, {4, indicator.Undecided}} {
		if got := f.JudgeCentre(c.tolerance, 0.025); got != c.want {
			t.Errorf("tolerance %v: %v, want %v", c.tolerance, got, c.want)
		}
	}
}

// Where P(|e| > tolerance) = tail has an answer in closed form, 'inside' begins right there:
//
//   - a circular normal law about the axis: P = exp(−T²/2σ²), T = σ√(−2 ln tail);
//   - no doubt along e, a standard deviation of 1 across, the centre 3 away: the chord of the disc
//     is 2√(T² − 9) long, so T = √(9 + z²) with z the quantile at 1 − tail/2;
//   - no doubt across e, a standard deviation of 1 along, the centre 30 away: T = 30 + z with z the
//     quantile at 1 − tail (the disc's other side is 60 standard deviations away);
//   - a circular t with ν degrees of freedom about the axis: T = s√(ν(tail^(−2/ν) − 1)).
//
// Normal quantiles as printed in the NIST/SEMATECH e-Handbook, 1.3.6.7.1, and from memory beyond
// its four digits: 0.9875: 2.24140, 0.975: 1.95996, 0.9975: 2.80703.
func TestJudgeCentreClosedForms(t *testing.T) {
	law := func(centre geom.Point, sx, sy, dof float64) indicator.Estimate {
		return indicator.Estimate{Sigma: 1, Dof: dof,
			Circle: fit.Radial{Centre: centre, Cofactor: fit.Sym3{{1, 0, 0}, {0, sx * sx, 0}, {0, 0, sy * sy}}}}
	}
	inf := math.Inf(1)
	for _, c := range []struct {
		name  string
		f     indicator.Estimate
		tail  float64
		begin float64
	}{
		{"circular, centred", law(geom.Point{}, 1, 1, inf), 0.025, math.Sqrt(-2 * math.Log(0.025))},
		{"circular, centred, strict", law(geom.Point{}, 1, 1, inf), 0.001, math.Sqrt(-2 * math.Log(0.001))},
		{"across", law(geom.Point{Y: 3}, 1, 0, inf), 0.025, math.Sqrt(9 + 2.24140*2.24140)},
		{"across, strict", law(geom.Point{Y: 3}, 1, 0, inf), 0.005, math.Sqrt(9 + 2.80703*2.80703)},
		{"along", law(geom.Point{X: 30}, 1, 0, inf), 0.025, 30 + 1.95996},
		{"circular t", law(geom.Point{}, 1, 1, 8), 0.025, math.Sqrt(8 * (math.Pow(0.025, -0.25) - 1))},
		{"circular t of one reading too many", law(geom.Point{}, 1, 1, 1), 0.0125, math.Sqrt(math.Pow(0.0125, -2) - 1)},
	} {
		if got := c.f.JudgeCentre(c.begin*(1-1e-4), c.tail); got == indicator.Inside {
			t.Errorf("%s: inside a tolerance of %.5f, want it to begin at %.5f", c.name, c.begin*(1-1e-4), c.begin)
		}
		if got := c.f.JudgeCentre(c.begin*(1+1e-4), c.tail); got != indicator.Inside {
			t.Errorf("%s: %v in a tolerance of %.5f, want inside from %.5f on", c.name, got, c.begin*(1+1e-4), c.begin)
		}
	}
}

// Without an uncertainty nothing is proven of the centre.
func TestJudgeCentreWithoutSpread(t *testing.T) {
	f := mustFit(t, indicator.Dial{}, ring, degrees(0, 120, 240), []float64{0.5, 0, -0.5})
	for _, tolerance := range []float64{1e-9, 0.02, 100} {
		if got := f.JudgeCentre(tolerance, 0.025); got != indicator.Undecided {
			t.Errorf("three readings without a prior, tolerance %v: %v, want undecided", tolerance, got)
		}
	}
	g := known(geom.Point{}, 1, 1)
	g.Sigma = math.NaN()
	if got := g.JudgeCentre(100, 0.025); got != indicator.Undecided {
		t.Errorf("sigma NaN: %v, want undecided", got)
	}
}

// sweeps returns sweeps of all sorts: whole rounds and arcs, with and without a prior, centred and
// not, so that their ellipses are round, and long and thin.
func sweeps(t *testing.T, each func(name string, f indicator.Estimate)) {
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
func boundary(t *testing.T, f *indicator.Estimate, each func(geom.Point)) {
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

// beyond is the probability that the centre lies farther than tolerance from the axis, written out
// from the covariance's Cholesky factor, without the ellipse's axes: in coordinates where the law
// is circular, a ray holds more than q with probability (1 + q²/ν)^(−ν/2), and leaves the disc once
// where it begins inside. (The law itself is held to drawing and to chords in geom/fit.)
func beyond(f *indicator.Estimate, tolerance float64) float64 {
	e := f.Circle.Centre
	if e.Norm() >= tolerance {
		return 1 // not a probability, but more than any tail
	}
	c := &f.Circle.Cofactor
	l11 := math.Sqrt(c[1][1])
	l21 := c[1][2] / l11
	l22 := math.Sqrt(c[2][2] - l21*l21)
	sum := 0.0
	const rays = 500
	for i := range rays {
		q, p := math.Sincos(2 * math.Pi * float64(i) / rays)
		d := geom.Point{X: f.Sigma * l11 * p, Y: f.Sigma * (l21*p + l22*q)}
		// |e + k·d| = tolerance
		a, b, g := d.Dot(d), e.Dot(d), e.Dot(e)-tolerance*tolerance
		k := (math.Sqrt(b*b-a*g) - b) / a
		sum += math.Pow(1+k*k/f.Dof, -f.Dof/2)
	}
	return sum / rays
}

// begins is the tolerance at which P(|e| > tolerance) falls to tail, by bisection.
func begins(f *indicator.Estimate, tail float64) float64 {
	lo, hi := f.Circle.Centre.Norm(), f.Circle.Centre.Norm()+1
	for beyond(f, hi) > tail {
		hi *= 2
	}
	for range 40 {
		if mid := (lo + hi) / 2; beyond(f, mid) > tail {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// 'Inside' is said exactly where the probability of lying beyond is at most tail, whatever the
// ellipse; 'outside' never where a part of the 95 % region is in.
func TestJudgeCentreAgainstTheLaw(t *testing.T) {
	// Printed digits of F: 0.0005 in 4; the bisection and the sums are finer.
	const doubt = 2e-4
	verdicts := make(map[indicator.Verdict]int)
	sweeps(t, func(name string, f indicator.Estimate) {
		nearest := math.Inf(1)
		boundary(t, &f, func(p geom.Point) { nearest = min(nearest, p.Norm()) })
		for _, tail := range []float64{0.025, 0.005, 0.001} {
			begin := begins(&f, tail)
			for _, tolerance := range []float64{0.25 * begin, 0.5 * begin, 0.9 * begin, (1 - doubt) * begin, (1 + doubt) * begin, 2 * begin,
				0.5 * nearest} {
				got := f.JudgeCentre(tolerance, tail)
				verdicts[got]++
				if (got == indicator.Inside) != (tolerance >= begin) {
					t.Errorf("%s: centre %v, tolerance %.6f is inside from %.6f on (P %.5f beyond, tail %v): %v",
						name, f.Circle.Centre, tolerance, begin, beyond(&f, tolerance), tail, got)
				}
				if got == indicator.Outside && nearest*(1+doubt) < tolerance {
					t.Errorf("%s: a point of the region at %.5f, tolerance %.5f: outside", name, nearest, tolerance)
				}
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

func inEllipse(t *testing.T, f *indicator.Estimate, p geom.Point) bool {
	ell, ok := f.Ellipse()
	if !ok {
		t.Fatal("no ellipse")
	}
	d := p.Sub(f.Circle.Centre)
	u := ell.Along.Unit()
	return math.Hypot(d.Dot(u)/ell.Major, d.Dot(geom.Point{X: -u.Y, Y: u.X})/ell.Minor) <= 1
}

// A centre just beyond the tolerance is called inside in at most tail of the sweeps, wherever it
// lies against a quarter arc, whose ellipse is long, and one just within it outside in fewer than 5
// of 100. The bounds are the promises plus three binomial standard deviations.
func TestJudgeCentreIsSeldomWrong(t *testing.T) {
	const runs, sigma, tolerance = 400, 0.003, 0.15
	d := indicator.Dial{Repeatability: sigma}
	b := stations(6, 0, 90)
	m, clean := make([]float64, len(b)), make([]float64, len(b))
	most := func(p, n float64) float64 { return p*n + 3*math.Sqrt(p*(1-p)*n) }
	for _, tail := range []float64{0.025, 0.005} {
		rng := rand.New(rand.NewPCG(8, 1))
		inside, all := 0, 0
		for at := 0; at < 360; at += 15 {
			for _, r := range []float64{tolerance * 1.0001, tolerance * 0.9999} {
				u := geom.FromDegrees(float64(at)).Unit()
				e := geom.Point{X: r * u.X, Y: r * u.Y}
				for i := range b {
					clean[i] = seen(e, b[i])
				}
				in, out := 0, 0
				for range runs {
					// The repeatability in the job is itself the find of nine readings.
					d.Repeatability = drawn(rng, sigma)
					for i := range m {
						m[i] = clean[i] + sigma*rng.NormFloat64()
					}
					f := mustFit(t, d, ring, b, m)
					switch f.JudgeCentre(tolerance, tail) {
					case indicator.Inside:
						in++
					case indicator.Outside:
						out++
					case indicator.Undecided, indicator.NoVerdict:
					}
				}
				if r > tolerance {
					inside, all = inside+in, all+runs
					if float64(in) > most(tail, runs) {
						t.Errorf("centre at %.4f towards %d°: %d of %d called inside, want at most %v of them", r, at, in, runs, tail)
					}
				} else if float64(out) > most(0.05, runs) {
					t.Errorf("centre at %.4f towards %d°: %d of %d called outside, want at most 5 in 100", r, at, out, runs)
				}
			}
		}
		t.Logf("tail %v: %.4f called inside at the limit", tail, float64(inside)/float64(all))
		if float64(inside) > most(tail, float64(all)) {
			t.Errorf("tail %v: %d of %d called inside, want at most %v of them", tail, inside, all, tail)
		}
		if inside == 0 {
			t.Errorf("tail %v: not one wrong verdict: the test stands too far from the limit to see one", tail)
		}
	}
}

// drawn is a repeatability as nine readings of one spot would give it: σ·√(χ²/8).
func drawn(rng *rand.Rand, sigma float64) float64 {
	sum := 0.0
	for range 8 {
		z := rng.NormFloat64()
		sum += z * z
	}
	return sigma * math.Sqrt(sum/8)
}
