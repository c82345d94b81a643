package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// ringOf is n touches of a circle of radius rho about c, spread all round.
func ringOf(n int, c geom.Point, rho float64) (out []geom.Point) {
	for i := range n {
		u := geom.Bearing(2 * math.Pi * float64(i) / float64(n)).Unit()
		out = append(out, geom.Point{X: c.X + rho*u.X, Y: c.Y + rho*u.Y})
	}
	return out
}

// A tip of 6 in a bore of 30 runs on 27, round a boss of 30 on 33; the middle is the same. Evenly spread points have
// the cofactors 1/n for the radius and 2/n for either coordinate, and a stated repeatability of 0.004 is worth 8
// degrees of freedom: with n exact points s² = 8·0.004²/(8 + n − 3).
func TestTouchedTip(t *testing.T) {
	c := geom.Point{X: 512.345, Y: -73.21}
	for touch, rho := range map[indicator.Touch]float64{indicator.Bore: 27, indicator.Boss: 33} {
		const n = 8
		s := indicator.Setup{Kind: indicator.Points, Touch: touch, TipDiameter: 6}
		got, err := s.Locate(indicator.Dial{Repeatability: 0.004}, ringOf(n, c, rho))
		if err != nil {
			t.Fatal(err)
		}
		if r := got.Radius(); math.Abs(r.V-30) > 1e-9 {
			t.Errorf("%v: radius %.9f, want 30", touch, r.V)
		}
		if math.Hypot(got.Centre.X-c.X, got.Centre.Y-c.Y) > 1e-9 {
			t.Errorf("%v: centre %v, want %v", touch, got.Centre, c)
		}
		dof := 8.0 + n - 3
		u := fit.Coverage(dof) * 0.004 * math.Sqrt(8/dof)
		for name, v := range map[string][2]float64{
			"radius": {got.Radius().U, u * math.Sqrt(1.0/n)}, "x": {got.CentreX().U, u * math.Sqrt(2.0/n)},
			"y": {got.CentreY().U, u * math.Sqrt(2.0/n)},
		} {
			if math.Abs(v[0]-v[1]) > 1e-9 {
				t.Errorf("%v: U of %s is %.9f, want %.9f", touch, name, v[0], v[1])
			}
		}
	}
}

// On a part of the circle, and with scatter, the covariance is that of the orthogonal fit, which is found in other
// unknowns.
func TestTouchedCovariance(t *testing.T) {
	var p []geom.Point
	for i, deg := range []float64{10, 41, 77, 95, 130, 148} {
		u, rho := geom.FromDegrees(deg).Unit(), 27+[]float64{0.002, -0.003, 0.001, 0.004, -0.002, 0}[i]
		p = append(p, geom.Point{X: 100 + rho*u.X, Y: 50 + rho*u.Y})
	}
	got, err := indicator.Setup{Kind: indicator.Points}.Locate(indicator.Dial{}, p)
	if err != nil {
		t.Fatal(err)
	}
	want, err := fit.Orthogonal(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		for j := range 3 {
			a, b := got.Found.Circle.Cofactor[i][j], want.Cofactor[i][j]
			// The two differ by the residuals over the radius, which the rows leave out.
			if math.Abs(a-b) > 1e-3*math.Sqrt(want.Cofactor[i][i]*want.Cofactor[j][j]) {
				t.Errorf("cofactor %d,%d is %.6g, want %.6g", i, j, a, b)
			}
		}
	}
	if math.Abs(got.Found.Circle.SSR-want.SSR) > 1e-6*want.SSR {
		t.Errorf("squares %.9g, want %.9g", got.Found.Circle.SSR, want.SSR)
	}
	at := got.From(geom.Point{X: got.Centre.X - 3, Y: got.Centre.Y + 4}, geom.Point{X: 0.003, Y: 0.004})
	if x, y := at.CentreX(), at.CentreY(); math.Abs(x.V-3) > 1e-12 || math.Abs(y.V+4) > 1e-12 || !(x.U > got.CentreX().U) ||
		!(y.U > got.CentreY().U) {
		t.Errorf("from 3 to the left and 4 above there is %v, %v to go", x, y)
	}
}

// A slip of 1 mm in one of four touches makes the radius 0.25 too large, and its doubt as large as itself: all four residuals are 0.25,
// on one degree of freedom beside the repeatability's eight, 0.083·2.26 of standard uncertainty at 95 % and 0.27 at 99 %. Of that no more
// than 0.1 is counted, so that it does not excuse itself; a slip that its repeatability does explain is excused.
func TestFarPointIsNoExcuse(t *testing.T) {
	s := indicator.Setup{Kind: indicator.Points, Touch: indicator.Bore}
	for _, c := range []struct {
		repeat, slip, limit float64
		want                bool
	}{
		{0.004, 1, 0, true}, {0.004, 1, 0.14, true}, {0.004, 1, 0.16, false}, // within 0.1 and the limit of 30.25
		{0.2, 1, 0, false},     // 0.2·√(1/4)·2.58 is more than 0.25 by itself
		{0.004, 0.3, 0, false}, // out by 0.075, which a drilled hole may be
	} {
		at := ringOf(4, geom.Point{X: 12, Y: 7}, 30)
		at[1].Y += c.slip
		got, err := s.Locate(indicator.Dial{Repeatability: c.repeat}, at)
		if err != nil {
			t.Fatal(err)
		}
		if r := got.Radius(); math.Abs(r.V-30-c.slip/4) > 0.005 {
			t.Fatalf("radius %v, want %v", r.V, 30+c.slip/4)
		}
		if is := got.Contradicts(30, c.limit); is != c.want {
			t.Errorf("%+v: %v ± %v contradicts 30: %v, want %v", c, got.Radius().V, got.Radius().U, is, c.want)
		}
	}
}

// Of touches that contradict the stated radius the one is named without which the others agree with it, and none where two would
// do. Circles through A and B of 30 mm are two, mirror images about AB: with C on the one and D on the other either may have slipped.
func TestSlippedWhereOneMayHave(t *testing.T) {
	s := indicator.Setup{Kind: indicator.Points, Touch: indicator.Bore}
	d := indicator.Dial{Repeatability: 0.004}
	on := func(c geom.Point, deg float64) geom.Point { return c.Along(geom.FromDegrees(deg), 30) }
	one, other := geom.Point{}, geom.Point{X: 36} // they meet at (18, ±24): 18² + 24² = 30²
	a, b := geom.Point{X: 18, Y: 24}, geom.Point{X: 18, Y: -24}
	far := func(p geom.Point, by float64) geom.Point { return p.Add(p.Times(by / p.Norm())) }
	for name, c := range map[string]struct {
		at    []geom.Point
		which int
		ok    bool
	}{
		"either may have":     {[]geom.Point{a, b, on(one, 170), on(other, 20)}, 0, false},
		"the third of five":   {[]geom.Point{on(one, 0), on(one, 80), far(on(one, 150), 1), on(one, 220), on(one, 300)}, 2, true},
		"the first of four":   {[]geom.Point{far(on(one, 0), 1), on(one, 60), on(one, 120), on(one, 200)}, 0, true},
		"three say nothing":   {[]geom.Point{far(on(one, 0), 1), on(one, 120), on(one, 240)}, 0, false},
		"none has by himself": {[]geom.Point{far(on(one, 0), 1), far(on(one, 80), 2), on(one, 150), on(one, 220), on(one, 300)}, 0, false},
	} {
		if which, ok := s.Slipped(d, c.at, 30, 0.01); ok != c.ok || ok && which != c.which {
			t.Errorf("%s: touch %d, named %v; want %d, %v", name, which, ok, c.which, c.ok)
		}
	}
}
