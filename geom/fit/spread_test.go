package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// Four stations a quarter turn apart, readings 1, 2, 3, 6: a = 3, e_x = (1 − 3)/2 = −1,
// e_y = (2 − 6)/2 = −2, fitted 2, 1, 4, 5, residuals −1, +1, −1, +1, so Σ r² = 4.
func TestSumOfSquaresByHand(t *testing.T) {
	f, err := Model{Sought: MeanReading}.Fit(degrees(0, 90, 180, 270), []float64{1, 2, 3, 6}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(f.params(), [3]float64{3, -1, -2}); d > rounding || apart(f.SSR, 4) > rounding {
		t.Errorf("fit %v, SSR %v, want [3 −1 −2] and 4", f.params(), f.SSR)
	}
	wantCofactor(t, "quarter turns", f.Cofactor, Sym3{{0.25, 0, 0}, {0, 0.5, 0}, {0, 0, 0.5}}, rounding)
	if s, dof, ok := f.Spread(Prior{}); apart(s, 2) > rounding || dof != 1 || !ok {
		t.Errorf("spread %v with %v degrees of freedom, %v, want 2 with 1, true", s, dof, ok)
	}
}

// By hand, in µm²: six readings that leave Σ r² = 12 say s² = 12/3 = 4; a prior of 3 µm worth
// eight degrees of freedom pools to s² = (8·9 + 12)/(8 + 3) = 84/11.
func TestSpreadByHand(t *testing.T) {
	const um = 0.001
	for _, c := range []struct {
		name   string
		n      int
		ssr    float64 // µm²
		prior  Prior
		s, dof float64 // s in µm
		ok     bool
	}{
		{"no prior", 6, 12, Prior{}, 2, 3, true},
		{"a floor below", 6, 12, Prior{Floor: 1 * um}, 2, 3, true},
		{"a floor above", 6, 12, Prior{Floor: 3 * um}, 3, 3, true},
		{"pooled", 6, 12, Prior{Sigma: 3 * um, Dof: 8}, math.Sqrt(84. / 11), 11, true},
		{"pooled knows no floor", 6, 12, Prior{Sigma: 3 * um, Dof: 8, Floor: 9 * um}, math.Sqrt(84. / 11), 11, true},
		{"three readings, prior", 3, 0, Prior{Sigma: 3 * um, Dof: 8}, 3, 8, true},
		{"three readings, no prior", 3, 0, Prior{}, math.NaN(), 0, false},
		{"three readings, floor only", 3, 0, Prior{Floor: 3 * um}, math.NaN(), 0, false},
		{"a prior worth nothing", 6, 12, Prior{Sigma: 3 * um}, 2, 3, true},
		{"a prior worth nothing, three readings", 3, 0, Prior{Sigma: 3 * um}, math.NaN(), 0, false},
		{"a certain prior", 6, 12, Prior{Sigma: 3 * um, Dof: math.Inf(1)}, 3, math.Inf(1), true},
		{"half a degree of freedom", 4, 2.25, Prior{Sigma: 3 * um, Dof: 0.5}, math.Sqrt(6.75 / 1.5), 1.5, true},
	} {
		r := Radial{N: c.n, SSR: c.ssr * um * um}
		s, dof, ok := r.Spread(c.prior)
		same := math.Abs(s-c.s*um) <= 1e-12*um || (math.IsNaN(s) && math.IsNaN(c.s))
		if !same || dof != c.dof || ok != c.ok {
			t.Errorf("%s: %v mm, %v, %v, want %v mm, %v, %v", c.name, s, dof, ok, c.s*um, c.dof, c.ok)
		}
	}
}

// One more station must do to the cofactor what the refit with it does. Its reading is the one
// the fit gives there, so that the unknowns, and with them the other rows, stay.
func TestAfterIsTheRefit(t *testing.T) {
	eachRandom(t, 21, func(s sweep, f Radial, rng *rand.Rand) {
		b := geom.Bearing(2 * math.Pi * rng.Float64())
		more := sweep{model: s.model, truth: s.truth}
		more.t = append(append(more.t, s.t...), b)
		more.y = append(append(more.y, s.y...), f.At(b))
		if s.w != nil {
			more.w = append(append(more.w, s.w...), 1)
		}
		refit := more.fit(t)
		if d := farthest(refit.params(), f.params()); d > identity {
			t.Fatalf("the new station moved the fit by %v", d)
		}
		wantCofactor(t, "one more station", f.Cofactor.After(f.Row(b)), refit.Cofactor, sameShape)
		before, after := f.Cofactor.Quadratic(f.Row(b)), refit.Cofactor.Quadratic(f.Row(b))
		// Known from Sherman–Morrison as well: q falls to q/(1 + q).
		if want := before / (1 + before); apart(after, want) > sameShape*want {
			t.Errorf("variance there %v, was %v, want %v", after, before, want)
		}
	})
}

// randomSym3 is a covariance: A·Aᵀ of a random A, from round to a thousand times as long as wide.
func randomSym3(rng *rand.Rand) (Sym3, *mat.SymDense) {
	a := mat.NewDense(3, 3, nil)
	for i := range 3 {
		stretch := math.Exp(7 * (rng.Float64() - 0.5))
		for j := range 3 {
			a.Set(i, j, stretch*rng.NormFloat64())
		}
	}
	var s mat.SymDense
	s.SymOuterK(1, a)
	var c Sym3
	for i := range 3 {
		for j := range 3 {
			c[i][j] = s.At(i, j)
		}
	}
	return c, &s
}

func TestEllipseAgainstEigenvalues(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 22))
	for range 500 {
		c, _ := randomSym3(rng)
		var eigen mat.EigenSym
		if !eigen.Factorize(mat.NewSymDense(2, []float64{c[1][1], c[1][2], c[2][1], c[2][2]}), true) {
			t.Fatal("no eigenvalues")
		}
		values := eigen.Values(nil) // rising
		var vectors mat.Dense
		eigen.VectorsTo(&vectors)
		e := c.Ellipse()
		// The smaller eigenvalue is a difference: its error is a rounding of the larger one.
		const tolerance = 1e-14
		if apart(e.Major*e.Major, values[1]) > tolerance*values[1] || apart(e.Minor*e.Minor, values[0]) > tolerance*values[1] {
			t.Errorf("%v: axes² %v and %v, want %v", c, e.Major*e.Major, e.Minor*e.Minor, values)
		}
		u := e.Along.Unit()
		gap := (values[1] - values[0]) / values[1]
		if off := math.Abs(u.X*vectors.At(1, 1) - u.Y*vectors.At(0, 1)); !(off <= 1e-13/gap) {
			t.Errorf("%v: long axis along %v°, eigenvector %v %v", c, e.Along.Degrees(), vectors.At(0, 1), vectors.At(1, 1))
		}
		if e.Along < 0 || e.Along >= 2*math.Pi {
			t.Errorf("long axis along %v, want [0, 2π)", e.Along)
		}
	}
	for _, c := range []struct {
		name                string
		xx, xy, yy          float64
		major, minor, along float64 // the last in degrees
	}{
		{"along X", 9, 0, 4, 3, 2, 0},
		{"along Y", 4, 0, 9, 3, 2, 90},
		{"along +45°", 2.5, 1.5, 2.5, 2, 1, 45},
		{"along −45°", 2.5, -1.5, 2.5, 2, 1, 315},
		{"a line", 1, 1, 1, math.Sqrt2, 0, 45},
		{"round", 4, 0, 4, 2, 2, 0},
		{"no doubt", 0, 0, 0, 0, 0, 0},
	} {
		e := (&Sym3{1: {0, c.xx, c.xy}, 2: {0, c.xy, c.yy}}).Ellipse()
		if apart(e.Major, c.major) > rounding || apart(e.Minor, c.minor) > rounding || apart(e.Along.Degrees(), c.along) > 1e-10 {
			t.Errorf("%s: %v, %v along %v°, want %v, %v along %v°", c.name, e.Major, e.Minor, e.Along.Degrees(), c.major, c.minor, c.along)
		}
	}
}

func TestQuadraticAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 23))
	for range 200 {
		c, s := randomSym3(rng)
		row := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		v := mat.NewVecDense(3, row[:])
		want, got := mat.Inner(v, s, v), c.Quadratic(row)
		scale := c[0][0]*row[0]*row[0] + c[1][1]*row[1]*row[1] + c[2][2]*row[2]*row[2]
		if apart(got, want) > 1e-14*scale || got < 0 {
			t.Errorf("Quadratic(%v) of %v = %v, want %v", row, c, got, want)
		}
	}
	c := Sym3{{1, 2, 3}, {2, 5, 7}, {3, 7, 11}}
	if got := c.Quadratic([3]float64{1, -1, 2}); got != 30 { // 1 + 5 + 44 + 2·(−2 + 6 − 14)
		t.Errorf("Quadratic by hand = %v, want 30", got)
	}
}

// Row is the slope of At in the three unknowns, and Across, to the first order in e, the slope in
// the bearing: exactly ∂d/∂θ = (e·v)(1 + (e·u)/√((ρ−b)² − (e·v)²)).
func TestSlopes(t *testing.T) {
	eachRandom(t, 24, func(s sweep, f Radial, rng *rand.Rand) {
		const h = 1e-4         // mm: the third derivative leaves h²/ρ², the difference loses 1e-14/h
		const tolerance = 1e-8 // dimensionless
		b := geom.Bearing(2 * math.Pi * rng.Float64())
		row := f.Row(b)
		for i, name := range []string{"level", "e_x", "e_y"} {
			up, down := f, f
			*[]*float64{&up.Level, &up.Centre.X, &up.Centre.Y}[i] += h
			*[]*float64{&down.Level, &down.Centre.X, &down.Centre.Y}[i] -= h
			if slope := (up.At(b) - down.At(b)) / (2 * h); apart(slope, row[i]) > tolerance {
				t.Errorf("%+v: slope in %s %.10g, row %.10g", s.model, name, slope, row[i])
			}
		}
		u := b.Unit()
		along, across := f.Centre.Dot(u), f.Centre.Dot(geom.Point{X: -u.Y, Y: u.X})
		if apart(f.Across(b), across) > rounding {
			t.Errorf("across %v, want %v", f.Across(b), across)
		}
		want := across
		if f.Sought != MeanReading {
			want *= 1 + along/math.Sqrt(f.inner()*f.inner()-across*across)
		}
		const dt = 1e-5 // rad
		if slope := (f.At(b+dt) - f.At(b-dt)) / (2 * dt); apart(slope, want) > 1e-7 {
			t.Errorf("%+v: slope in the bearing %.10g, want %.10g mm", s.model, slope, want)
		}
	})
	f := Radial{Model: Model{Surface: 5}, Centre: geom.Point{X: 0.3, Y: 0.4}}
	for at, want := range map[float64]float64{0: 0.4, 90: -0.3, 180: -0.4, 270: 0.3} {
		if got := f.Across(geom.FromDegrees(at)); apart(got, want) > rounding {
			t.Errorf("across at %v° = %v, want %v", at, got, want)
		}
	}
}
