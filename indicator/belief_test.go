package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// The own covariance of radius and centre is Σ (∂x/∂m)(∂x/∂m)ᵀ·σ² over the readings, with the derivatives
// taken by moving one reading after the other by a micrometre and fitting anew. A third of the circle leaves
// radius and centre strongly correlated. σ is the sweep's, of 8 + 7 − 3 = 12 degrees of freedom, and widened by
// t₀.₉₇₅,₁₂ = 2.1788 over 1.9600 (NIST/SEMATECH e-Handbook, 1.3.6.7.2 and 1.3.6.7.1, from memory). What is the setups' in common
// does not enter, nor do leaning axes; the dial does, in the radius.
func TestOwnCovariance(t *testing.T) {
	const h = 1e-3
	d := indicator.Dial{Repeatability: 0.003}
	s := indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 20, Reach: -22, ReachKnown: true, ReachLimit: 0.1, ReferenceLimit: 0.2}
	var at []geom.Bearing
	readings := []float64{0.02, 0.011, 0.03, 0.024, 0.017, 0.026, 0.02}
	for i := range readings {
		at = append(at, geom.FromDegrees(float64(20*i)))
	}
	unknowns := func(by int, how float64) [3]float64 {
		m := append([]float64(nil), readings...)
		if by >= 0 {
			m[by] += how
		}
		f, err := indicator.Fit(d, s, at, m)
		if err != nil {
			t.Fatal(err)
		}
		return [3]float64{f.Swing().V, f.CentreX().V, f.CentreY().V}
	}
	known, err := indicator.Fit(d, s, at, readings)
	if err != nil || known.Dof != 12 {
		t.Fatal(err, known.Dof)
	}
	sigma := known.Sigma * 2.178813 / 1.959964
	var want [3][3]float64
	for k := range readings {
		up, down := unknowns(k, h), unknowns(k, -h)
		for i := range 3 {
			for j := range 3 {
				want[i][j] += (up[i] - down[i]) * (up[j] - down[j]) / (4 * h * h) * sigma * sigma
			}
		}
	}
	own := func(how string) [3][3]float64 {
		t.Helper()
		f, err := indicator.Fit(d, s, at, readings)
		if err != nil {
			t.Fatal(err)
		}
		c, ok := f.Own()
		if !ok {
			t.Fatal(how + ": not known")
		}
		return c
	}
	check := func(how string, c [3][3]float64) {
		t.Helper()
		for i := range 3 {
			for j := range 3 {
				if math.Abs(c[i][j]-want[i][j]) > 1e-4*math.Sqrt(want[i][i]*want[j][j]) {
					t.Errorf("%s: covariance [%d][%d] %.4g, want %.4g", how, i, j, c[i][j], want[i][j])
				}
			}
		}
	}
	check("readings", own("readings"))
	s.TiltLimit, s.SweepHeight, d.ErrorLimit = 0.001, 10, 0.006
	if f, err := indicator.Fit(d, s, at, readings); err != nil || math.Abs(f.Lean()-0.01/math.Sqrt(3)) > 1e-15 {
		t.Errorf("leaning by 0.001 over 10 makes %v (%v), want 0.01/√3", f.Lean(), err)
	}
	want[0][0] += 0.006 * 0.006 / 3
	check("tilt and dial", own("tilt and dial"))
	// Without the reach there is no radius; three readings without a repeatability tell no spread.
	s.ReachKnown = false
	if c := own("no reach"); c[0] != [3]float64{} || c[1][0] != 0 || c[1][1] < want[1][1]/2 {
		t.Errorf("without the reach: %v, want no radius and the centre as it was", c)
	}
	f, err := indicator.Fit(indicator.Dial{}, s, at[:3], readings[:3])
	if _, ok := f.Own(); err != nil || ok {
		t.Errorf("three readings: a covariance, %v, want none", err)
	}
}

// A held radius is as sure as it is held, and drags the centre with it: by the derivative of the centre by it,
// taken here by holding it at other figures. The arc is short.
func TestOwnCovarianceHeld(t *testing.T) {
	d := indicator.Dial{Repeatability: 1e-9}
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true, HeldRadius: 42, HeldLimit: 0.03}
	at := []geom.Bearing{geom.FromDegrees(70), geom.FromDegrees(80), geom.FromDegrees(90), geom.FromDegrees(105), geom.FromDegrees(120)}
	readings := make([]float64, len(at))
	centre := func(held float64) geom.Point {
		s.HeldRadius = held
		f, err := indicator.Fit(d, s, at, readings)
		if err != nil {
			t.Fatal(err)
		}
		return f.Circle.Centre
	}
	lean := centre(42.001).Sub(centre(41.999)).Times(1 / 0.002)
	s.HeldRadius = 42
	f, err := indicator.Fit(d, s, at, readings)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := f.Own()
	if !ok {
		t.Fatal("not known")
	}
	v := 0.03 * 0.03 / 3
	x := [3]float64{1, lean.X, lean.Y}
	for i := range 3 {
		for j := range 3 {
			if want := v * x[i] * x[j]; math.Abs(c[i][j]-want) > 1e-3*v {
				t.Errorf("covariance [%d][%d] %.4g, want %.4g", i, j, c[i][j], want)
			}
		}
	}
}
