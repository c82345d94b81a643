package indicator_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// round are n bearings at equal angles.
func round(n int) []geom.Bearing {
	out := make([]geom.Bearing, n)
	for i := range out {
		out[i] = geom.FromDegrees(360 * float64(i) / float64(n))
	}
	return out
}

// mustRound fits readings and judges the form they show.
func mustRound(t *testing.T, d indicator.Dial, s indicator.Setup, b []geom.Bearing, m []float64) indicator.Roundness {
	t.Helper()
	f := mustFit(t, d, s, b, m)
	r, err := f.Roundness(b, m)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// An oval ring, worked out by hand. Eight stations on a concentric ring of 30 whose radius is
// 30 + 0.004·cos 2θ: +4, 0, −4, 0, +4, 0, −4, 0 µm. By its symmetry three of the four circles stand in
// the middle, and the departure is 8 µm. The inscribed one slips along the oval, growing by e²/2R, until
// the stations at 45° stop it: 4 = e·cos 45°; it departs by 8 + 4·√2 µm. The metal of a bore stands
// proud by 4 at 90° or 270° and lies back by 4 at 0° or 180°.
// The tip reads m = z − d with z = 30, so m = −0.004·cos 2θ.
func TestRoundnessOfAnOval(t *testing.T) {
	const second = 1e-6 // a centre's own place moves the departure by e²/2R only
	b := round(8)
	m := make([]float64, len(b))
	for i := range b {
		m[i] = -0.004 * math.Cos(2*float64(b[i]))
	}
	s := ring
	r := mustRound(t, indicator.Dial{Repeatability: 0.001}, s, b, m)
	for name, c := range map[string]indicator.FormCircle{"least squares": r.LeastSquares, "minimum zone": r.MinimumZone,
		"smallest outside": r.MinimumCircumscribed} {
		near(t, name+": departure", c.Departure, 0.008, second)
		near(t, name+": x", c.Centre.X, 0, second)
		near(t, name+": y", c.Centre.Y, 0, second)
	}
	near(t, "largest inside: departure", r.MaximumInscribed.Departure, 0.008+0.004*math.Sqrt2, second)
	near(t, "largest inside: off the middle", r.MaximumInscribed.Centre.Norm(), 0.004*math.Sqrt2, second)
	near(t, "least-squares radius", r.LeastSquares.Radius, 30, second)
	near(t, "smallest outside, radius", r.MinimumCircumscribed.Radius, 30.004, second)
	near(t, "largest inside, radius", r.MaximumInscribed.Radius, 29.996, second)
	near(t, "peak", r.Peak.Departure, 0.004, second)
	near(t, "valley", r.Valley.Departure, 0.004, second)
	if d := math.Mod(r.Peak.At.Degrees360(), 180); math.Abs(d-90) > 1e-9 {
		t.Errorf("the bore's metal stands proud at %v°, want 90 or 270", r.Peak.At.Degrees360())
	}
	if d := math.Mod(r.Valley.At.Degrees360(), 180); d > 1e-9 {
		t.Errorf("the bore's metal lies back at %v°, want 0 or 180", r.Valley.At.Degrees360())
	}
	for i, p := range r.Profile {
		near(t, "profile", p.Departure, 0.004*math.Cos(2*float64(b[i])), second)
		if p.Index != i || p.At.Apart(b[i]) > 1e-9 {
			t.Errorf("profile %d: reading %d at %v°", i, p.Index, p.At.Degrees360())
		}
	}
	if r.Places != 8 || r.Lobes != 3 {
		t.Errorf("%d places, %d lobes; want 8 and 3", r.Places, r.Lobes)
	}
	// The same wall felt as a boss: m = d − z. Proud is outwards now.
	for i := range m {
		m[i] = -m[i]
	}
	s.Touch = indicator.Boss
	r = mustRound(t, indicator.Dial{}, s, b, m)
	if d := math.Mod(r.Peak.At.Degrees360(), 180); d > 1e-9 {
		t.Errorf("the boss's metal stands proud at %v°, want 0 or 180", r.Peak.At.Degrees360())
	}
	near(t, "boss: departure", r.MinimumZone.Departure, 0.008, second)
	if !math.IsNaN(r.MinimumZone.Noise) {
		t.Errorf("noise %v without a stated repeatability, want none", r.MinimumZone.Noise)
	}
}

// A true ring far off the axis is true whatever the setup: the profile is made of whole radii, and
// a ball's centre runs on a circle of its own. The readings are those of the exact model (m = z − d
// in a bore, d − z round a boss; DEVELOPERS.md, "Signs and frames"), at unequal stations.
func TestRoundnessOfATrueCircle(t *testing.T) {
	const rho, ex, ey, none = 30.0, 1.2, -0.7, 1e-9
	b := degrees(3, 50, 111, 160, 200, 262, 330)
	for _, touch := range []indicator.Touch{indicator.Bore, indicator.Boss} {
		for _, known := range []bool{true, false} {
			for _, ball := range []float64{0, 4} {
				s := indicator.Setup{Touch: touch, ReferenceRadius: rho, TipDiameter: ball}
				if !known {
					s.ReferenceRadius, s.ZeroRadius = 0, 31
				}
				way := -1.0
				if touch == indicator.Boss {
					way = 1
				}
				m := make([]float64, len(b))
				for i, t := range b {
					u := t.Unit()
					c := rho + way*ball/2 // of the ball's centre: inside a bore, outside a boss
					across := -ex*u.Y + ey*u.X
					d := ex*u.X + ey*u.Y + math.Sqrt(c*c-across*across) - way*ball/2
					m[i] = way * (d - 31)
				}
				r := mustRound(t, indicator.Dial{}, s, b, m)
				for i, c := range []indicator.FormCircle{r.LeastSquares, r.MinimumZone, r.MinimumCircumscribed, r.MaximumInscribed} {
					near(t, "departure", c.Departure, 0, none)
					near(t, "radius", c.Radius, rho, none)
					near(t, "x", c.Centre.X, ex, none)
					near(t, "y", c.Centre.Y, ey, none)
					if t.Failed() {
						t.Fatalf("%v, reference known %v, ball %v, circle %d", touch, known, ball, i)
					}
				}
			}
		}
	}
}

// What cannot be judged says what it has and what it needs.
func TestRoundnessNeedsStations(t *testing.T) {
	b := append(round(5), round(5)...) // ten readings at five stations
	m := make([]float64, len(b))
	f := mustFit(t, indicator.Dial{}, ring, b, m)
	_, err := f.Roundness(b, m)
	var few *fit.TooFewError
	if !errors.As(err, &few) || few.Have != 5 || few.Need != 6 {
		t.Errorf("five stations: %v", err)
	}
	b = degrees(0, 30, 60, 90, 120, 150)
	f = mustFit(t, indicator.Dial{}, ring, b, m[:6])
	var gap *fit.GapError
	if _, err = f.Roundness(b, m[:6]); !errors.As(err, &gap) {
		t.Errorf("six stations on 150°: %v, want a gap", err)
	}
	f = mustFit(t, indicator.Dial{}, indicator.Setup{}, round(6), m[:6])
	if _, err = f.Roundness(round(6), m[:6]); !errors.Is(err, indicator.ErrNoRadius) {
		t.Errorf("no radius known: %v", err)
	}
	p := fit.ProfilePoints(round(5), []float64{10, 10, 10, 10, 10})
	l, err := indicator.Locate(indicator.Dial{}, p)
	if err != nil {
		t.Fatal(err)
	}
	var places *fit.CoincidentError
	if _, err = l.Roundness(p, indicator.Bore); !errors.As(err, &places) || places.Have != 5 || places.Need != 6 {
		t.Errorf("five points: %v", err)
	}
}

// The widest gap says how many lobes are sure to show: fewer than 180° over it. With three lobes on six
// stations, sin 3θ is nought at each of them.
func TestLobesThatCanBeSeen(t *testing.T) {
	for _, c := range []struct {
		b             []geom.Bearing
		places, lobes int
	}{
		{round(6), 6, 2}, {round(7), 7, 3}, {round(12), 12, 5},
		{append(round(6), geom.FromDegrees(30)), 7, 2},  // one more between two leaves 60° elsewhere
		{degrees(0, 20, 40, 60, 80, 100, 240), 7, 1},    // 140° are open
		{append(round(6), round(6)...), 6, 2},           // each station twice
		{append(round(6), geom.FromDegrees(360)), 6, 2}, // the first again at the end
		{degrees(-30, 30, 90, 150, 210, 270), 6, 2},     // counted from elsewhere
		{degrees(10, 70.001, 130, 190, 250, 310), 6, 2}, // a hand's error counts: 60.001°
		{degrees(0, 45, 90, 135, 180, 225, 270, 315), 8, 3},
	} {
		m := make([]float64, len(c.b))
		r := mustRound(t, indicator.Dial{}, ring, c.b, m)
		if r.Places != c.places || r.Lobes != c.lobes {
			t.Errorf("%v: %d places, %d lobes; want %d and %d", c.b, r.Places, r.Lobes, c.places, c.lobes)
		}
	}
}

// What noise alone makes of a true circle, simulated anew with another seed and another dial: the
// mean of the departures is the Noise that is told, within four standard errors of the mean and
// the table's own rounding.
func TestNoiseFactors(t *testing.T) {
	const sigma = 0.002
	for _, c := range []struct{ n, draws int }{{6, 3000}, {7, 3000}, {12, 1500}, {14, 1000}, {40, 150}} {
		r := rand.New(rand.NewPCG(20, uint64(c.n)))
		b, m := round(c.n), make([]float64, c.n)
		var sum, square, told [4]float64
		for range c.draws {
			for i := range m {
				m[i] = 0.1 + sigma*r.NormFloat64()
			}
			q := mustRound(t, indicator.Dial{Repeatability: sigma}, ring, b, m)
			for i, x := range []indicator.FormCircle{q.LeastSquares, q.MinimumZone, q.MinimumCircumscribed, q.MaximumInscribed} {
				sum[i], square[i], told[i] = sum[i]+x.Departure, square[i]+x.Departure*x.Departure, x.Noise
			}
		}
		for i := range sum {
			mean := sum[i] / float64(c.draws)
			se := math.Sqrt((square[i]/float64(c.draws) - mean*mean) / float64(c.draws))
			if math.Abs(told[i]-mean) > 4*se+0.01*mean {
				t.Errorf("%d stations, circle %d: noise %.5f told, %.5f ± %.5f simulated", c.n, i, told[i], mean, se)
			}
		}
	}
}

// Against the statistics of ranges. Of n independent normal deviates the expected range is d₂(n)
// = ∫ 1 − Φⁿ − (1 − Φ)ⁿ (L. H. C. Tippett, Biometrika 17 (1925) 364–387; d₂(5) = 2.3259289473 as
// printed in the manual of a statistics package). The residuals of a circle lie nearer one another: the mean
// square of their differences is smaller by (n − 3)/(n − 1). The product is the range of the
// residuals but for their shape, which matters less the more there are.
func TestNoiseIsTheRangeOfResiduals(t *testing.T) {
	d2 := func(n float64) float64 {
		const step, end = 1e-3, 9
		sum := 0.0
		for x := -float64(end); x < end; x += step {
			p := math.Erfc(-x/math.Sqrt2) / 2
			sum += step * (1 - math.Pow(p, n) - math.Pow(1-p, n))
		}
		return sum
	}
	near(t, "d2 of 5", d2(5), 2.3259289473, 1e-9)
	for n, within := range map[int]float64{6: 0.07, 8: 0.04, 12: 0.02, 24: 0.01, 64: 0.01} {
		b, m := round(n), make([]float64, n)
		m[0] = 0.001
		r := mustRound(t, indicator.Dial{Repeatability: 1}, ring, b, m)
		want := d2(float64(n)) * math.Sqrt(float64(n-3)/float64(n-1))
		near(t, "noise of the least-squares circle", r.LeastSquares.Noise, want, within*want)
		// No centre makes less of it than the minimum zone's.
		for _, c := range []indicator.FormCircle{r.LeastSquares, r.MinimumCircumscribed, r.MaximumInscribed} {
			if c.Noise < r.MinimumZone.Noise || c.Departure < r.MinimumZone.Departure-1e-12 {
				t.Errorf("%d stations: a departure below the minimum zone's: %+v, %+v", n, c, r.MinimumZone)
			}
		}
	}
}

// A station's angle adds to what noise makes, once the reference stands off the axis: 2 mm out,
// 0.01 rad strays by 0.02 mm across the offset and not along it, on average by half its square.
func TestNoiseOfTheAngle(t *testing.T) {
	b := round(8)
	s := indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 30}
	m := make([]float64, len(b))
	for i, t := range b {
		u := t.Unit()
		m[i] = 2*u.X + math.Sqrt(900-4*u.Y*u.Y) - 30
	}
	still := mustRound(t, indicator.Dial{Repeatability: 0.003}, s, b, m)
	stray := mustRound(t, indicator.Dial{Repeatability: 0.003, AngleError: 0.01}, s, b, m)
	want := math.Sqrt(1 + 0.5*math.Pow(0.02/0.003, 2))
	near(t, "noise with the angle, over noise without", stray.MinimumZone.Noise/still.MinimumZone.Noise, want, 0.01*want)
}

// Points: their own frame, and the same circles.
func TestRoundnessOfPoints(t *testing.T) {
	// A square of side 2 and a rhombus of diagonal 2.2 about (5, −3): circles about the middle
	// through four points each.
	c := geom.Point{X: 5, Y: -3}
	var p []geom.Point
	for _, q := range []geom.Point{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1.5}, {X: -1.5}, {Y: 1.5}, {Y: -1.5}} {
		p = append(p, c.Add(q))
	}
	l, err := indicator.Locate(indicator.Dial{Repeatability: 0.01}, p)
	if err != nil {
		t.Fatal(err)
	}
	r, err := l.Roundness(p, indicator.Boss)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "departure", r.MinimumZone.Departure, 1.5-math.Sqrt2, 1e-9)
	near(t, "x", r.MinimumZone.Centre.X, 5, 1e-9)
	near(t, "y", r.MinimumZone.Centre.Y, -3, 1e-9)
	near(t, "smallest outside", r.MinimumCircumscribed.Radius, 1.5, 1e-9)
	near(t, "noise", r.MinimumZone.Noise, 0.0205, 0.0001)
	if at := math.Mod(r.Peak.At.Degrees360(), 90); at > 1e-6 && at < 90-1e-6 || p[r.Peak.Index].Sub(c).Norm() < 1.49 {
		t.Errorf("peak at %v°, point %d", r.Peak.At.Degrees360(), r.Peak.Index)
	}
	if r.Peak.Departure+r.Valley.Departure-r.LeastSquares.Departure > 1e-12 {
		t.Errorf("peak %v and valley %v do not make %v", r.Peak.Departure, r.Valley.Departure, r.LeastSquares.Departure)
	}
}
