package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

const (
	// agreement is how near the two independent solvers must come on sweeps over half a circle
	// or more: a hundred times what rounding leaves (the worst of the cases below differ by
	// 2e-13 mm).
	agreement = 2e-11 // mm
	// sameLeft is how near they must come in what the readings leave: residuals, and the root of
	// their sum of squares. Both are differences of distances of a hundred millimetres, which are
	// rounded to 1.4e-14 mm, and up to 64 of them add up.
	sameLeft = 1e-12 // mm
	// scatter is the noise laid on the readings of the random sweeps.
	scatter = 0.002 // mm
	// sameShape is the same for cofactors, and for the sums of squares of points, relative.
	sameShape = 1e-9
)

// Ten thousand random sweeps: the answer, what it leaves, its covariance and its condition.
func TestFitAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 1))
	off := 0.0
	for i := range 10000 {
		s := random(rng, soughts[i%len(soughts)]).blurred(rng, scatter)
		f, want := s.fit(t), oracle(s.model, s.truth, s.t, s.y, s.w)
		d := farthest(f.params(), want.p)
		if off = max(off, d); d > agreement {
			t.Errorf("%+v, %d stations: fit %.13g, oracle %.13g", s.model, len(s.t), f.params(), want.p)
		}
		for j, b := range s.t {
			v, _ := modelled(s.model, want.p, b)
			if apart(f.At(b), v) > sameLeft {
				t.Errorf("%+v, %d stations: residual %d is %.13g mm, oracle %.13g", s.model, len(s.t), j, s.y[j]-f.At(b), s.y[j]-v)
			}
		}
		if apart(math.Sqrt(f.SSR), math.Sqrt(want.ssr)) > sameLeft {
			t.Errorf("%+v, %d stations: SSR %.13g, oracle %.13g", s.model, len(s.t), f.SSR, want.ssr)
		}
		wantCofactor(t, "against the oracle", f.Cofactor, want.cofactor, sameShape)
		wantCondition(t, s, f)
	}
	t.Logf("farthest from the oracle: %.2e mm", off)
}

// wantCondition holds the condition's bound against singular values. A Frobenius norm of a matrix
// of rank three lies between its largest singular value and √3 times it, so the bound lies between
// the condition number and three times it.
func wantCondition(t *testing.T, s sweep, f Radial) {
	t.Helper()
	jac := mat.NewDense(len(s.t), 3, nil)
	for i := range s.t {
		_, row := modelled(s.model, f.params(), s.t[i])
		for j := range 3 {
			jac.Set(i, j, math.Sqrt(weight(s.w, i))*row[j])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(jac, mat.SVDNone) {
		t.Fatal("no singular values")
	}
	if c := svd.Cond(); !(f.Condition >= c*(1-sameShape) && f.Condition <= 3*c*(1+sameShape)) {
		t.Errorf("%+v: condition %v, want between %v and %v", s.model, f.Condition, c, 3*c)
	}
}

// A sweep must converge in a few steps, whatever rounding does to the last digits of the sum of
// squares, which steps near the answer change by less than that: six stations, read to a
// micrometre, a centre out by up to a tenth of the radius; and arcs of 2° and less, where even a
// large step changes it little.
func TestFitNeverStalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 2))
	for _, m := range []Model{{Sought: ZeroDistance, Surface: 30}, {Sought: SurfaceRadius}} {
		for _, e := range []float64{0.02, 0.05, 0.3, 1, 3} {
			clean := exactly(m, [3]float64{30, e, e / 2}, evenly(6, 0.1, 2*math.Pi))
			for range 2000 {
				s := clean.blurred(rng, scatter)
				for i := range s.y {
					s.y[i] = math.Round(s.y[i]*1000) / 1000
				}
				if f := s.fit(t); f.Iterations > 6 {
					t.Fatalf("%+v, e %v: %d steps, readings %v", m, e, f.Iterations, s.y)
				}
			}
		}
		for i, span := range []geom.Bearing{2, 1, 0.5} {
			noise := []float64{2e-4, 1e-5, 1e-6}[i]
			for range 2000 {
				arc := evenly(12, geom.Bearing(2*math.Pi*rng.Float64()), span*geom.Degree)
				s := exactly(m, [3]float64{30, 0.3, -0.2}, arc).blurred(rng, noise)
				if f := s.fit(t); f.Iterations > 12 {
					t.Fatalf("%+v, %v° arc: %d steps, readings %v", m, span, f.Iterations, s.y)
				}
			}
		}
	}
}

// shortArcs are sweeps over a part of the circle only. The noise is what keeps the estimate's
// spread below a hundredth of the radius, so that it follows the linear law its covariance
// comes from; tolerance is what the condition makes of rounding.
var shortArcs = []struct {
	degrees   float64
	noise     float64 // mm
	tolerance float64 // mm
}{
	{180, 0.002, 1e-12},
	{60, 0.002, 1e-12},
	{20, 0.001, 1e-11},
	{5, 0.0001, 1e-9},
	{2, 0.00001, 1e-8},
	{1, 0.000002, 3e-8},
}

// shortArc is twelve stations over an arc, both ends included.
func shortArc(sought Sought, degrees float64) sweep {
	m, level := Model{Sought: sought, Surface: 30}, 30.0
	if sought == ZeroDistance {
		level = 42
	}
	return exactly(m, [3]float64{level, 0.3, -0.2}, evenly(12, 40*geom.Degree, geom.FromDegrees(degrees)))
}

func TestShortArcsAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 3))
	for _, arc := range shortArcs {
		for _, sought := range []Sought{ZeroDistance, SurfaceRadius, MeanReading} {
			clean := shortArc(sought, arc.degrees)
			for range 200 {
				// The solvers must agree beyond the linear law too: ten times the noise.
				s := clean.blurred(rng, 10*arc.noise)
				f, want := s.fit(t), oracle(s.model, s.truth, s.t, s.y, nil)
				if d := farthest(f.params(), want.p); d > arc.tolerance {
					t.Errorf("%v° arc, sought %v: fit %.13g, oracle %.13g, apart by %.2g mm", arc.degrees, sought, f.params(), want.p, d)
				}
				wantCofactor(t, "short arc", f.Cofactor, want.cofactor, sameShape)
			}
			if f := clean.fit(t); farthest(f.params(), clean.truth) > arc.tolerance {
				t.Errorf("%v° arc, exact data, sought %v: fit %v, want %v", arc.degrees, sought, f.params(), clean.truth)
			}
		}
	}
}

// wantSpread fits many blurred copies of a sweep and holds the scatter of the answers against
// noise²·Cofactor. Bounds are four standard errors: of a mean σ/√N, of a covariance
// √((cᵢᵢcⱼⱼ + cᵢⱼ²)/N); a right program would miss one with one seed in 16 000.
func wantSpread(t *testing.T, what string, clean sweep, rng *rand.Rand, noise float64) {
	t.Helper()
	const runs = 8000
	cofactor := clean.fit(t).Cofactor
	var sum [3]float64
	var products Sym3
	for range runs {
		s := clean.blurred(rng, noise)
		if s.w != nil {
			for i := range s.y {
				s.y[i] = clean.y[i] + (s.y[i]-clean.y[i])/math.Sqrt(s.w[i])
			}
		}
		f := s.fit(t)
		p := f.params()
		for i := range 3 {
			sum[i] += p[i] - clean.truth[i]
			for j := range 3 {
				products[i][j] += (p[i] - clean.truth[i]) * (p[j] - clean.truth[j])
			}
		}
	}
	for i := range 3 {
		sd := noise * math.Sqrt(cofactor[i][i])
		t.Logf("%s: unknown %d scatters %.3f times as far as said", what, i, math.Sqrt(products[i][i]/runs)/sd)
		if mean := sum[i] / runs; !(math.Abs(mean) <= 4*sd/math.Sqrt(runs)) {
			t.Errorf("%s: unknown %d is off by %.3g mm in the mean, sd %.3g mm", what, i, mean, sd)
		}
		for j := range 3 {
			want := noise * noise * cofactor[i][j]
			both := noise * noise * math.Sqrt(cofactor[i][i]*cofactor[j][j])
			bound := 4 * math.Sqrt((both*both+want*want)/runs)
			if got := products[i][j] / runs; apart(got, want) > bound {
				t.Errorf("%s: covariance [%d][%d] = %.4g mm², want %.4g ±%.2g", what, i, j, got, want, bound)
			}
		}
	}
}

func TestCovarianceByMonteCarlo(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 4))
	for _, arc := range shortArcs {
		for _, sought := range []Sought{ZeroDistance, SurfaceRadius} {
			wantSpread(t, "arc", shortArc(sought, arc.degrees), rng, arc.noise)
		}
	}
	// A centre far out, a ball, and weights that say what the noise is.
	s := exactly(Model{Sought: ZeroDistance, Surface: 10, Ball: 1}, [3]float64{8, 4, -3}, evenly(9, 0.2, 2*math.Pi))
	s.w = []float64{1, 2, 0.5, 4, 1, 1, 0.25, 3, 1}
	wantSpread(t, "weighted", s, rng, 0.002)
}
