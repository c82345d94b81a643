package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A ring of 20.05 whose middle lies 2 mm to the right: 2² + 19.95² = 20.05² (4 + 398.0025 =
// 402.0025), so the wall is met at 22.05, 19.95, 18.05 and 19.95. Zero radius 20 (swing 30,
// reach −10): the readings are 20 less each.
var (
	farRing     = indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 20.05, Reach: -10, ReachKnown: true}
	farReadings = []float64{-2.05, 0.05, 1.95, 0.05}
)

// At 90° the middle lies 2 mm to the side of the line of sight. Setting the head 1° off there
// slides the tip along a wall that is not square to it, by 2·tan 1° or 2·(π/180) = 0.034907: the
// 35 µm that a whole degree makes, against 3 µm of the dial's own. At 0° and 180° the wall is
// square to the line of sight and a degree does nothing.
//
// So with a station's angle known to 1° (standard uncertainty), the readings at 90° and 270° have
// the variance σ²(1 + a²), a = 0.034907/0.003 = 11.636, a² = 135.4. Only they tell of y, as half
// their difference; x comes from the other two, and all four carry the radius:
//
//	var(y) = σ²(1 + a²)/2
//	var(R) = 1/(2 + 2w)·σ², w = 1/(1 + a²), as far as x does not join in (it does by
//	2/19.95 of y's slope, which the test leaves to a tolerance of 1 %)
//	var(x) = σ²/2, less a trace for the same reason
//
// The readings are exact, so Σwr² = 0 and s² = 8·0.003²/(8 + 1).
func TestAngleErrorWeighs(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.003, AngleError: float64(geom.Degree)}
	f := mustFit(t, d, farRing, quarters, farReadings)
	near(t, "swing radius", f.Swing().V, 30, exactMM)
	near(t, "centre error x", f.CentreX().V, 2, exactMM)
	near(t, "centre error y", f.CentreY().V, 0, exactMM)

	s := 0.003 * math.Sqrt(8.0/9)
	a2 := 135.395 // (2·π/180/0.003)² = (0.0349066/0.003)² = 11.63553²
	near(t, "2 mm at 1°", 2*math.Pi/180, 0.035, 0.0005)
	// a² above has six figures.
	near(t, "U of y", f.CentreY().U, t9*s*math.Sqrt((1+a2)/2), 1e-3*f.CentreY().U)
	w := 1 / (1 + a2)
	near(t, "U of the swing radius", f.Swing().U, t9*s/math.Sqrt(2+2*w), 1e-2*f.Swing().U)
	near(t, "U of x", f.CentreX().U, t9*s/math.Sqrt2, 1e-2*f.CentreX().U)

	// Without an angle error y is known as well as x.
	d.AngleError = 0
	f = mustFit(t, d, farRing, quarters, farReadings)
	near(t, "without: U of y", f.CentreY().U, t9*s/math.Sqrt2, 1e-3*f.CentreY().U)
}

// Clean readings of a coarse first sweep, one station of which was set a whole degree off, are
// no misread: the new reading's own angle belongs to its doubt. At 91° instead of 90° the wall
// of the far ring is met at
//
//	2·cos 91° + √(20.05² − (2·sin 91°)²) = −0.034905 + 19.950031 = 19.915126
//
// and the dial shows 20 − 19.915126 = 0.084874 in place of 0.05: 34.9 µm more.
func TestAngleErrorIsNoMisread(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.003, AngleError: float64(geom.Degree)}
	f := mustFit(t, d, farRing, quarters, farReadings)
	x := f.Expect(90 * geom.Degree)
	const oneDegreeOff = 0.084874
	if math.Abs(oneDegreeOff-x.V) > x.U {
		t.Errorf("reading %v one degree off, expected %.4f ± %.4f: a clean reading is called a surprise", oneDegreeOff, x.V, x.U)
	}
	// By hand: the fit gives the reading at 90° from that station and its opposite, with the
	// variance var(mean) + var(y) ≈ σ²(1/2 + (1 + a²)/2); the new one adds σ²(1 + a²).
	s, a2 := 0.003*math.Sqrt(8.0/9), 135.395
	near(t, "U of a new reading at 90°", x.U, t9*s*math.Sqrt(0.5+1.5*(1+a2)), 1e-2*x.U)
	// Straight ahead a degree does nothing: σ²(1 + 1/2 + 1/2).
	near(t, "U of a new reading at 0°", f.Expect(0).U, t9*s*math.Sqrt2, 1e-2*x.U)
}

// Where nothing is known of a reading's spread there is nothing to weigh an angle against, and
// the answer is that of equal weights.
func TestAngleErrorWithoutSpread(t *testing.T) {
	d := indicator.Dial{AngleError: float64(geom.Degree)}
	b, m := degrees(0, 120, 240), []float64{0.3, -0.2, 0.1}
	f := mustFit(t, d, ring, b, m)
	plain := mustFit(t, indicator.Dial{}, ring, b, m)
	near(t, "swing radius", f.Swing().V, plain.Swing().V, 0)
	near(t, "centre error x", f.CentreX().V, plain.CentreX().V, 0)
	if f.Dof != 0 || !math.IsNaN(f.Sigma) {
		t.Errorf("sigma %v, dof %v, want NaN and 0", f.Sigma, f.Dof)
	}
}

// Five readings, no prior: the spread is judged by the residuals and the angle is weighed against
// that. The station across, 40 µm off as a degree and a bit would make it, must pull the answer
// less than it does with equal weights.
func TestAngleErrorWithoutPrior(t *testing.T) {
	b := degrees(0, 45, 90, 180, 270)
	// The far ring at 45°: 2·cos 45° + √(20.05² − 2) = 1.414214 + 20.000063 = 21.414276, so the
	// reading is −1.414276; the one at 90° is 0.04 more than the clean 0.05.
	m := []float64{-2.05, -1.414276, 0.09, 1.95, 0.05}
	plain := mustFit(t, indicator.Dial{}, farRing, b, m)
	weighed := mustFit(t, indicator.Dial{AngleError: float64(geom.Degree)}, farRing, b, m)
	if p, w := math.Abs(plain.CentreX().V-2), math.Abs(weighed.CentreX().V-2); !(w < p) {
		t.Errorf("x is off by %.4f with the angle weighed and %.4f without, want less", w, p)
	}
	if !(weighed.CentreY().U > weighed.CentreX().U) {
		t.Errorf("U of y %.4f, of x %.4f: y hangs on the stations across and must be the less sure", weighed.CentreY().U,
			weighed.CentreX().U)
	}
}

// Stations set with an angle error, dials of which more or less is known: the stated 95 % hold
// for either component and the radius where the repeatability is known, and 92.5 % where the weights
// themselves are judged from eight readings. Of 3000 sweeps a share's standard deviation is 0.48 % at
// most; three of them are allowed.
func TestAngleErrorCoverage(t *testing.T) {
	const runs, sigma = 3000, 0.003
	for _, c := range []struct {
		name  string
		dial  indicator.Dial
		angle float64 // degrees
		off   float64
		want  float64
	}{
		{"repeatability known", indicator.Dial{Repeatability: sigma}, 0.1, 2, 0.95},
		{"graduation known", indicator.Dial{Graduation: 0.01, ReadsTo: 0.2}, 0.1, 2, 0.925},
		{"graduation known, coarse angles", indicator.Dial{Graduation: 0.01, ReadsTo: 0.2}, 1, 0.3, 0.925},
		{"nothing known", indicator.Dial{}, 0.1, 2, 0.925},
	} {
		c.dial.AngleError = float64(geom.FromDegrees(c.angle))
		rng := rand.New(rand.NewPCG(3, 14))
		e := geom.Point{X: c.off}
		b, m := stations(8, 0.2, 360), make([]float64, 8)
		var x, y, r int
		for range runs {
			for i := range m {
				m[i] = seen(e, b[i]+geom.Bearing(rng.NormFloat64()*c.dial.AngleError)) + sigma*rng.NormFloat64()
			}
			f := mustFit(t, c.dial, ring, b, m)
			x += holds(f.CentreX(), e.X)
			y += holds(f.CentreY(), e.Y)
			r += holds(f.Swing(), 42)
		}
		for what, n := range map[string]int{"x": x, "y": y, "swing": r} {
			if share := float64(n) / runs; share < c.want-3*math.Sqrt(c.want*(1-c.want)/runs) {
				t.Errorf("%s: the interval of %s holds the truth in %.3f of sweeps, want %v", c.name, what, share, c.want)
			}
		}
	}
}

// holds is 1 where the interval of v holds the truth.
func holds(v indicator.Value, truth float64) int {
	if math.Abs(v.V-truth) <= v.U {
		return 1
	}
	return 0
}
