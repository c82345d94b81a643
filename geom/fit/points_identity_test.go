package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// eachRandomPoints calls try with blurred random points and their fit.
func eachRandomPoints(t *testing.T, seed uint64, try func(s touched, f Points, rng *rand.Rand)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(27, seed))
	for range 300 {
		s := randomPoints(rng, math.Pi/2).blurred(rng, scatter)
		try(s, s.fit(t), rng)
	}
}

// changed returns the points put through f.
func (s touched) changed(f func(geom.Point) geom.Point) touched {
	p := make([]geom.Point, len(s.p))
	for i := range p {
		p[i] = f(s.p[i])
	}
	s.p = p
	return s
}

// sameCircle is how near fits of the same points in another guise must come: coordinates of some
// hundred millimetres are rounded anew by 3e-14, which a quarter circle magnifies some tenfold.
const sameCircle = 1e-11 // mm

func wantSamePoints(t *testing.T, what string, got Points, p [3]float64, ssr float64, c Sym3) {
	t.Helper()
	if d := farthest(got.params(), p); !(d <= sameCircle) {
		t.Errorf("%s: fit %.13g, want %.13g", what, got.params(), p)
	}
	if !(math.Abs(got.SSR-ssr) <= 1e-8*ssr+1e-20) {
		t.Errorf("%s: SSR %.13g, want %.13g", what, got.SSR, ssr)
	}
	wantCofactor(t, what, got.Cofactor, c, sameShape)
}

func TestMovingThePoints(t *testing.T) {
	eachRandomPoints(t, 21, func(s touched, f Points, rng *rand.Rand) {
		by := geom.Point{X: 100 * rng.NormFloat64(), Y: 100 * rng.NormFloat64()}
		moved := s.changed(func(p geom.Point) geom.Point { return p.Add(by) })
		wantSamePoints(t, "moved", moved.fit(t), [3]float64{f.Radius, f.Centre.X + by.X, f.Centre.Y + by.Y}, f.SSR, f.Cofactor)
	})
}

// turnedCofactor carries a cofactor over to axes turned by b.
func turnedCofactor(c Sym3, b geom.Bearing) (out Sym3) {
	sin, cos := math.Sincos(float64(b))
	rot := Sym3{{1, 0, 0}, {0, cos, -sin}, {0, sin, cos}}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				for l := range 3 {
					out[i][j] += rot[i][k] * c[k][l] * rot[j][l]
				}
			}
		}
	}
	return out
}

func TestTurningThePoints(t *testing.T) {
	eachRandomPoints(t, 22, func(s touched, f Points, rng *rand.Rand) {
		b := geom.Bearing(7 * rng.Float64())
		sin, cos := math.Sincos(float64(b))
		turn := func(p geom.Point) geom.Point { return geom.Point{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y} }
		c := turn(f.Centre)
		wantSamePoints(t, "turned", s.changed(turn).fit(t), [3]float64{f.Radius, c.X, c.Y}, f.SSR, turnedCofactor(f.Cofactor, b))
	})
}

func TestMirroringThePoints(t *testing.T) {
	eachRandomPoints(t, 23, func(s touched, f Points, _ *rand.Rand) {
		mirror := func(p geom.Point) geom.Point { return geom.Point{X: p.X, Y: -p.Y} }
		c := f.Cofactor
		for _, at := range [][2]int{{0, 2}, {1, 2}, {2, 0}, {2, 1}} {
			c[at[0]][at[1]] *= -1
		}
		wantSamePoints(t, "mirrored", s.changed(mirror).fit(t), [3]float64{f.Radius, f.Centre.X, -f.Centre.Y}, f.SSR, c)
	})
}

// Inches taken for millimetres: every length shrinks, the cofactor has no unit.
func TestPointsInAnotherUnit(t *testing.T) {
	eachRandomPoints(t, 24, func(s touched, f Points, _ *rand.Rand) {
		const k = geom.MillimetresPerInch
		small := s.changed(func(p geom.Point) geom.Point { return geom.Point{X: p.X / k, Y: p.Y / k} })
		wantSamePoints(t, "inches", small.fit(t), [3]float64{f.Radius / k, f.Centre.X / k, f.Centre.Y / k}, f.SSR/k/k, f.Cofactor)
	})
}

func TestOrderOfPoints(t *testing.T) {
	eachRandomPoints(t, 25, func(s touched, f Points, rng *rand.Rand) {
		mixed := touched{truth: s.truth}
		for _, i := range rng.Perm(len(s.p)) {
			mixed.p = append(mixed.p, s.p[i])
			if s.w != nil {
				mixed.w = append(mixed.w, s.w[i])
			}
		}
		wantSamePoints(t, "mixed", mixed.fit(t), f.params(), f.SSR, f.Cofactor)
	})
}

// A point of weight 3 is three points, and a common factor only scales what is weighted.
func TestWeightsOfPoints(t *testing.T) {
	eachRandomPoints(t, 26, func(s touched, _ Points, rng *rand.Rand) {
		const k = 7.3
		whole, heavy, repeated := touched{truth: s.truth}, touched{truth: s.truth}, touched{truth: s.truth}
		for _, p := range s.p {
			times := 1 + rng.IntN(3)
			whole.p, whole.w = append(whole.p, p), append(whole.w, float64(times))
			heavy.p, heavy.w = append(heavy.p, p), append(heavy.w, k*float64(times))
			for range times {
				repeated.p = append(repeated.p, p)
			}
		}
		wantSameStart(t, whole, repeated)
		f := whole.fit(t)
		wantSamePoints(t, "repeated", repeated.fit(t), f.params(), f.SSR, f.Cofactor)
		c := f.Cofactor
		for i := range 3 {
			for j := range 3 {
				c[i][j] /= k
			}
		}
		wantSamePoints(t, "heavier", heavy.fit(t), f.params(), k*f.SSR, c)
	})
}

// wantSameStart holds the algebraic circles of two sets together.
func wantSameStart(t *testing.T, a, b touched) {
	t.Helper()
	var k [2]float64
	for i, s := range [2]touched{a, b} {
		c, err := centred(s.p, s.w)
		if err != nil {
			t.Fatal(err)
		}
		start, err := c.algebraic()
		if err != nil {
			t.Fatal(err)
		}
		k[i] = math.Abs(start.bend) / c.size
	}
	if apart(k[0], k[1]) > 1e-10*k[0] {
		t.Errorf("the start curves by %v with weights, by %v with the points repeated", k[0], k[1])
	}
}

// Residual is the distance from the centre minus the radius, and the weighted ones add up to
// nothing (the radius is free) and to SSR.
func TestResidualsOfPoints(t *testing.T) {
	eachRandomPoints(t, 27, func(s touched, f Points, _ *rand.Rand) {
		sum, squares, all := 0.0, 0.0, 0.0
		for i, p := range s.p {
			r := f.Residual(p)
			if d := p.Sub(f.Centre).Norm() - f.Radius; apart(r, d) > 1e-12 {
				t.Errorf("residual %v, distance less radius %v", r, d)
			}
			g := weight(s.w, i)
			sum, squares, all = sum+g*r, squares+g*r*r, all+g
		}
		if math.Abs(sum) > 1e-12*all || apart(squares, f.SSR) > 1e-8*f.SSR+1e-20 {
			t.Errorf("residuals add up to %v and %v, want 0 and %v", sum, squares, f.SSR)
		}
		if r := f.Residual(f.Centre); apart(r, -f.Radius) > 1e-12 {
			t.Errorf("residual of the centre %v, want −%v", r, f.Radius)
		}
	})
}
