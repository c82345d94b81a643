package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Printed quantiles of Student's t, two-sided 95 %: NIST/SEMATECH e-Handbook of Statistical
// Methods, 1.3.6.7.2. They are printed to 0.0005.
const (
	t1, t2, t8, t9, t10 = 12.706, 4.303, 2.306, 2.262, 2.228
	printed             = 0.0005
)

// ring is a concentric ring of 30 with the tip turned in by 12: the dial reads about zero.
var ring = indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}

// nearU compares an uncertainty k·u with one worked out from a printed k.
func nearU(t *testing.T, what string, got, k, u float64) {
	t.Helper()
	near(t, what, got, k*u, printed*u+1e-12)
}

// The readings +δ, −δ, +δ, −δ at the four quarters, δ = 0.004, have nothing that a circle could
// take up: their mean is 0 and so is each half difference of opposites. All of it is residual.
//
//	Σr² = 4·0.004² = 64e-6      n − 3 = 1      s = √64e-6 = 0.008
//
// The mean of four has the variance s²/4, a half difference of two s²/2:
//
//	u(R) = 0.008/2 = 0.004      u(eₓ) = u(e_y) = 0.008/√2 = 0.0056569
func TestSpreadWithoutPrior(t *testing.T) {
	m := []float64{0.004, -0.004, 0.004, -0.004}
	f := mustFit(t, indicator.Dial{}, ring, quarters, m)
	near(t, "sigma", f.Sigma, 0.008, exactMM)
	near(t, "degrees of freedom", f.Dof, 1, 0)
	nearU(t, "U of the swing radius", f.Swing().U, t1, 0.004)
	nearU(t, "U of x", f.CentreX().U, t1, 0.008/math.Sqrt2)
	nearU(t, "U of y", f.CentreY().U, t1, 0.008/math.Sqrt2)
	// One new reading midway has its own spread besides: u² = s²(1 + 1/4 + 1/2).
	nearU(t, "U of a new reading", f.Expect(quarters[1]).U, t1, 0.008*math.Sqrt(1.75))

	// A surface's radius has the same doubt as the swing radius.
	f = mustFit(t, indicator.Dial{}, indicator.Setup{Touch: indicator.Boss, ZeroRadius: 30}, quarters, m)
	nearU(t, "U of the surface radius", f.Radius().U, t1, 0.004)
}

// The same readings on a dial that is known to repeat to 0.003, which counts as eight degrees of
// freedom:
//
//	s² = (8·0.003² + 4·0.004²)/(8 + 1) = (72e-6 + 64e-6)/9 = 15.1111e-6     s = 0.0038873
func TestSpreadWithPrior(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.003}
	s := math.Sqrt(136e-6 / 9)
	f := mustFit(t, d, ring, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	near(t, "sigma", f.Sigma, s, exactMM)
	near(t, "degrees of freedom", f.Dof, 9, 0)
	nearU(t, "U of the swing radius", f.Swing().U, t9, s/2)
	nearU(t, "U of x", f.CentreX().U, t9, s/math.Sqrt2)

	// A graduation of 0.01 read to a fifth joins the repeatability: 0.003² + 0.002²/12 =
	// 9.33333e-6 in place of 9e-6.
	d.Graduation, d.ReadsTo = 0.01, 0.2
	s = math.Sqrt((8*(9e-6+4e-6/12) + 64e-6) / 9)
	f = mustFit(t, d, ring, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	near(t, "sigma with rounding", f.Sigma, s, exactMM)

	// Readings without any spread of their own leave the prior: s² = 8·9.33333e-6/9.
	f = mustFit(t, d, ring, quarters, []float64{0, 0, 0, 0})
	near(t, "sigma of clean readings", f.Sigma, math.Sqrt(8*(9e-6+4e-6/12)/9), exactMM)
}

// Three readings: a circle goes through them whatever they are. Without a prior nothing is known
// of the doubt; with one it is the prior's alone. At 0°, 120° and 240° the variances are s²/3 of
// the radius and 2s²/3 of each component (the sum of cos² over equal stations is n/2).
func TestThreeReadings(t *testing.T) {
	b, m := degrees(0, 120, 240), []float64{0.01, -0.02, 0.015}
	f := mustFit(t, indicator.Dial{Graduation: 0.01, ReadsTo: 0.2}, ring, b, m)
	if !math.IsNaN(f.Sigma) || f.Dof != 0 {
		t.Errorf("sigma %v, dof %v, want NaN and 0: a graduation is no repeatability", f.Sigma, f.Dof)
	}
	for name, v := range map[string]indicator.Value{"swing": f.Swing(), "x": f.CentreX(), "y": f.CentreY(), "offset": f.Offset(),
		"expected": f.Expect(0)} {
		if !v.Known() || v.Sure() {
			t.Errorf("%s = %v, want a number without an uncertainty", name, v)
		}
	}
	if e, ok := f.Ellipse(); ok {
		t.Errorf("ellipse %v claimed of three readings", e)
	}

	centred := []float64{0, 0, 0}
	f = mustFit(t, indicator.Dial{Repeatability: 0.003}, ring, b, centred)
	near(t, "sigma", f.Sigma, 0.003, exactMM)
	near(t, "degrees of freedom", f.Dof, 8, 0)
	nearU(t, "U of the swing radius", f.Swing().U, t8, 0.003/math.Sqrt(3))
	nearU(t, "U of x", f.CentreX().U, t8, 0.003*math.Sqrt(2.0/3))
	if v := f.Offset(); v.V != 0 {
		t.Errorf("offset %v, want 0", v.V)
	}
	nearU(t, "U of an offset of zero", f.Offset().U, t8, 0.003*math.Sqrt(2.0/3))
}

// Readings that agree better than they can be read: the spread is not below the rounding, here
// 0.002/√12. Five stations leave two degrees of freedom.
func TestSpreadFloor(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, ReadsTo: 0.2}
	b := degrees(0, 72, 144, 216, 288)
	f := mustFit(t, d, ring, b, []float64{0, 0, 0, 0, 0})
	floor := 0.002 / math.Sqrt(12)
	near(t, "sigma", f.Sigma, floor, exactMM)
	nearU(t, "U of the swing radius", f.Swing().U, t2, floor/math.Sqrt(5))
	// A larger spread stands as it is: s² = 4·0.004²/1 as in TestSpreadWithoutPrior.
	f = mustFit(t, d, ring, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	near(t, "sigma above the floor", f.Sigma, 0.008, exactMM)
}

// With a lever at cos α = 0.8 the needle's spread is the dial's, and a radius has 0.8 of it: the
// tip travels less than the needle shows.
func TestSpreadOfALever(t *testing.T) {
	d := indicator.Dial{LeverAngle: math.Atan2(3, 4)}
	f := mustFit(t, d, ring, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	near(t, "sigma, of a reading", f.Sigma, 0.008, exactMM)
	nearU(t, "U of the swing radius", f.Swing().U, t1, 0.8*0.004)
	nearU(t, "U of a new reading", f.Expect(quarters[1]).U, t1, 0.008*math.Sqrt(1.75))

	d.Repeatability = 0.003
	f = mustFit(t, d, ring, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	near(t, "sigma with a prior, of a reading", f.Sigma, math.Sqrt(136e-6/9), exactMM)
	nearU(t, "U of x with a prior", f.CentreX().U, t9, 0.8*math.Sqrt(136e-6/9)/math.Sqrt2)
}

// The offset's doubt is that along e. At 0°, 90°, 180° and once more at 90° and 270°, x is known
// from one pair and y from three readings: the normal equations of (mean, x, y) are
//
//	n = 5    Σu = (0, 1)    Σuₓ² = 2    Σu_y² = 3
//
// so var(x) = s²/2, and var(y) = s²/(3 − 1²/5) = s²/2.8. With e along y (a centre 0.01 away, so
// near that the exact model is the linear one to 1e-7) the offset has y's doubt.
func TestOffsetAlongE(t *testing.T) {
	const linear = 1e-8 // e²/(2ρ) = 1.7 µm in the radius, and its slope e/ρ = 3e-4 squared in U
	d := indicator.Dial{Repeatability: 0.003}
	b := degrees(0, 90, 180, 90, 270)
	f := mustFit(t, d, ring, b, []float64{0, -0.01, 0, -0.01, 0.01})
	s := f.Sigma
	near(t, "degrees of freedom", f.Dof, 10, 0)
	near(t, "y", f.CentreY().V, 0.01, 1e-6)
	near(t, "U of x", f.CentreX().U, t10*s/math.Sqrt2, printed*s+linear)
	near(t, "U of y", f.CentreY().U, t10*s/math.Sqrt(2.8), printed*s+linear)
	near(t, "U of the offset", f.Offset().U, f.CentreY().U, linear)
}

// An offset of nothing points nowhere: its doubt is that of the direction known least, which on an
// arc from 20° to 110° is the arc's middle line. Every direction is tried here in turn.
func TestOffsetOfZero(t *testing.T) {
	b := degrees(20, 42.5, 65, 87.5, 110)
	f := mustFit(t, indicator.Dial{Repeatability: 0.003}, ring, b, make([]float64, len(b)))
	if e := f.Circle.Centre; e.X != 0 || e.Y != 0 {
		t.Fatalf("centre %v, want exactly zero", e)
	}
	most, at := 0.0, 0.0
	for deg := 0.0; deg < 180; deg += 0.5 {
		u := geom.FromDegrees(deg).Unit()
		if q := f.Circle.Cofactor.Quadratic([3]float64{0, u.X, u.Y}); q > most {
			most, at = q, deg
		}
	}
	near(t, "direction known least, degrees", at, 65, 0.5)
	nearU(t, "U of the offset", f.Offset().U, t10, 0.003*math.Sqrt(8.0/10)*math.Sqrt(most))
}

// Value tells apart a number, a number without a doubt, and none.
func TestValue(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		v           indicator.Value
		known, sure bool
	}{
		{indicator.Value{V: 1, U: 0.1}, true, true},
		{indicator.Value{V: 0, U: 0}, true, true},
		{indicator.Value{V: 1, U: nan}, true, false},
		{indicator.Value{V: nan, U: nan}, false, false},
	} {
		if c.v.Known() != c.known || c.v.Sure() != c.sure {
			t.Errorf("%v: known %v, sure %v, want %v and %v", c.v, c.v.Known(), c.v.Sure(), c.known, c.sure)
		}
	}
}
