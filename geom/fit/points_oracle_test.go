package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// touched is points made for a test, with the circle (radius, x, y) they were made from.
type touched struct {
	truth [3]float64
	p     []geom.Point
	w     []float64
}

// onCircle puts points at the bearings t.
func onCircle(truth [3]float64, t []geom.Bearing) touched {
	s := touched{truth: truth}
	for _, b := range t {
		u := b.Unit()
		s.p = append(s.p, geom.Point{X: truth[1] + truth[0]*u.X, Y: truth[2] + truth[0]*u.Y})
	}
	return s
}

// blurred moves each point by normal noise of sigma/√w in both directions, in millimetres.
func (s touched) blurred(rng *rand.Rand, sigma float64) touched {
	p := make([]geom.Point, len(s.p))
	for i := range p {
		g := sigma / math.Sqrt(weight(s.w, i))
		p[i] = s.p[i].Add(geom.Point{X: g * rng.NormFloat64(), Y: g * rng.NormFloat64()})
	}
	s.p = p
	return s
}

func (s touched) fit(t testing.TB) Points {
	t.Helper()
	f, err := Orthogonal(s.p, s.w)
	if err != nil {
		t.Fatalf("truth %v, %d points: %v", s.truth, len(s.p), err)
	}
	return f
}

func (f *Points) params() [3]float64 { return [3]float64{f.Radius, f.Centre.X, f.Centre.Y} }

// randomPoints draws points over an arc of at least span, weighted every other time.
func randomPoints(rng *rand.Rand, span float64) touched {
	rho := 5 + 95*rng.Float64()
	n := 4 + rng.IntN(61)
	span += (2*math.Pi - span) * rng.Float64()
	t := evenly(n, geom.Bearing(2*math.Pi*rng.Float64()), geom.Bearing(span))
	for i := range t { // not quite evenly
		t[i] += geom.Bearing(span / float64(n) * 0.4 * (rng.Float64() - 0.5))
	}
	s := onCircle([3]float64{rho, 50 * rng.NormFloat64(), 50 * rng.NormFloat64()}, t)
	if rng.IntN(2) == 0 {
		s.w = make([]float64, n)
		for i := range s.w {
			s.w[i] = math.Exp(4 * (rng.Float64() - 0.5)) // 0.14 … 7.4
		}
	}
	return s
}

// orthogonalOracle fits radius and centre as they are, by Gauss–Newton on gonum's Householder QR
// from the truth: r = |P − C| − ρ, whose derivatives are −1 and the unit vector towards the
// centre. It shares nothing with the code under test.
func orthogonalOracle(s touched) answer {
	a := answer{p: s.truth}
	n := len(s.p)
	jac, rhs := mat.NewDense(n, 3, nil), mat.NewVecDense(n, nil)
	var step mat.VecDense
	var qr mat.QR
	for range 60 {
		a.ssr = 0
		for i, v := range s.p {
			root := math.Sqrt(weight(s.w, i))
			dx, dy := v.X-a.p[1], v.Y-a.p[2]
			far := math.Hypot(dx, dy)
			jac.SetRow(i, []float64{-root, -root * dx / far, -root * dy / far})
			rhs.SetVec(i, -root*(far-a.p[0]))
			a.ssr += root * root * (far - a.p[0]) * (far - a.p[0])
		}
		qr.Factorize(jac)
		// An error here is only a warning of the condition, which short arcs are meant to have.
		_ = qr.SolveVecTo(&step, false, rhs)
		for j := range 3 {
			a.p[j] += step.AtVec(j)
		}
		if mat.Norm(&step, math.Inf(1)) < 1e-15*a.p[0] {
			break
		}
	}
	a.cofactor = gonumCofactor(&qr)
	return a
}

func TestOrthogonalAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 11))
	for range 10000 {
		s := randomPoints(rng, math.Pi).blurred(rng, scatter)
		f, want := s.fit(t), orthogonalOracle(s)
		if d := farthest(f.params(), want.p); d > agreement {
			t.Errorf("%d points: fit %.13g, oracle %.13g", len(s.p), f.params(), want.p)
		}
		// Coordinates of a few hundred millimetres are rounded to 3e-14, residuals are micrometres.
		if apart(f.SSR, want.ssr) > sameShape*want.ssr+1e-20 {
			t.Errorf("%d points: SSR %.13g, oracle %.13g", len(s.p), f.SSR, want.ssr)
		}
		wantCofactor(t, "against the oracle", f.Cofactor, want.cofactor, sameShape)
		wantPointsCondition(t, s, f)
	}
}

// wantPointsCondition holds the condition's bound against singular values, as wantCondition does.
func wantPointsCondition(t *testing.T, s touched, f Points) {
	t.Helper()
	jac := mat.NewDense(len(s.p), 3, nil)
	for i, v := range s.p {
		u, root := v.Sub(f.Centre), math.Sqrt(weight(s.w, i))
		jac.SetRow(i, []float64{root, root * u.X / u.Norm(), root * u.Y / u.Norm()})
	}
	var svd mat.SVD
	if !svd.Factorize(jac, mat.SVDNone) {
		t.Fatal("no singular values")
	}
	if c := svd.Cond(); !(f.Condition >= c*(1-sameShape) && f.Condition <= 3*c*(1+sameShape)) {
		t.Errorf("condition %v, want between %v and %v", f.Condition, c, 3*c)
	}
}

// shortPointArcs are twelve points on a part of a circle of radius 30; tolerance is what the
// condition makes of the oracle's rounding.
var shortPointArcs = []struct{ degrees, noise, tolerance float64 }{
	{180, 0.002, 1e-11}, {90, 0.002, 1e-11}, {30, 0.002, 1e-10}, {10, 0.0005, 1e-9}, {3, 0.00002, 1e-7},
}

func shortPointArc(degrees float64) touched {
	return onCircle([3]float64{30, 12, -7}, evenly(12, 40*geom.Degree, geom.FromDegrees(degrees)))
}

func TestShortPointArcsAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 12))
	for _, arc := range shortPointArcs {
		for range 200 {
			s := shortPointArc(arc.degrees).blurred(rng, 5*arc.noise)
			f, want := s.fit(t), orthogonalOracle(s)
			if d := farthest(f.params(), want.p); d > arc.tolerance {
				t.Errorf("%v° arc: fit %.13g, oracle %.13g, apart by %.2g mm", arc.degrees, f.params(), want.p, d)
			}
			// Beside the normal tolerance, the Jacobian is a thousand times more sensitive to the
			// last digits of the centre on the shortest arc.
			wantCofactor(t, "short arc", f.Cofactor, want.cofactor, 10*sameShape)
			if f.Iterations > 6 {
				t.Errorf("%v° arc: %d steps", arc.degrees, f.Iterations)
			}
		}
		if f := shortPointArc(arc.degrees).fit(t); farthest(f.params(), [3]float64{30, 12, -7}) > arc.tolerance {
			t.Errorf("%v° arc, exact points: fit %v", arc.degrees, f.params())
		}
	}
}

// The rows against differences: central ones of step h are off by h² of the third derivative and
// by rounding over h, about 1e-9 for the first and 1e-8 for the second at h = 1e-5.
func TestArcDerivatives(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 13))
	for range 500 {
		a := arc{at: geom.Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}, to: geom.Bearing(7 * rng.Float64()).Unit(),
			bend: 1.5 * rng.NormFloat64()}
		if rng.IntN(5) == 0 {
			a.bend = 1e-9 * rng.NormFloat64()
		}
		p := geom.Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
		_, first, second := a.rows(a.local(p))
		// Near the very centre the distance is a cone, and differences say nothing.
		if _, far := a.depth(a.local(p)); far < 0.1 {
			continue
		}
		const h = 1e-5
		value := func(step [3]float64) float64 {
			b := a.moved(step, 1)
			d, _ := b.depth(b.local(p))
			return d
		}
		at := func(i int, f float64) (s [3]float64) { s[i] = f; return s }
		for i := range 3 {
			if d := (value(at(i, h)) - value(at(i, -h))) / (2 * h); apart(d, first[i]) > 1e-7 {
				t.Errorf("bend %v, point %v: derivative %d = %v, differences say %v", a.bend, p, i, first[i], d)
			}
			for j := range 3 {
				up, down := at(i, h), at(i, -h)
				pp, pm, mp, mm := up, up, down, down
				pp[j] += h
				pm[j] -= h
				mp[j] += h
				mm[j] -= h
				if d := (value(pp) - value(pm) - value(mp) + value(mm)) / (4 * h * h); apart(d, second[i][j]) > 2e-4 {
					t.Errorf("bend %v, point %v: second derivative %d %d = %v, differences say %v", a.bend, p, i, j, second[i][j], d)
				}
			}
		}
	}
}
