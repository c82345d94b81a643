package fit

import (
	"math"
	"testing"

	"example.org/trammel/geom"
)

// A centre 3 from the axis of a circle of radius 5: along the offset the surface lies at 5 ± 3,
// across it at √(5² − 3²) = 4. Nothing but the 3-4-5 triangle is needed to know the answer.
func TestThreeFourFive(t *testing.T) {
	at := []geom.Bearing{0, 90 * geom.Degree, 180 * geom.Degree, 270 * geom.Degree}
	for _, c := range []struct {
		name  string
		model Model
		y     []float64
		want  [3]float64
	}{
		{"towards +X", Model{Sought: SurfaceRadius}, []float64{8, 4, 2, 4}, [3]float64{5, 3, 0}},
		{"towards −Y", Model{Sought: SurfaceRadius}, []float64{4, 2, 4, 8}, [3]float64{5, 0, -3}},
		{"ball in a bore", Model{Sought: SurfaceRadius, Ball: 1}, []float64{9, 5, 3, 5}, [3]float64{6, 3, 0}},
		{"ball round a boss", Model{Sought: SurfaceRadius, Ball: -1}, []float64{7, 3, 1, 3}, [3]float64{4, 3, 0}},
		{"zero at 6", Model{Sought: ZeroDistance, Surface: 5}, []float64{2, -2, -4, -2}, [3]float64{6, 3, 0}},
		{"zero at 2, ball in a bore", Model{Sought: ZeroDistance, Surface: 6, Ball: 1}, []float64{7, 3, 1, 3}, [3]float64{2, 3, 0}},
		{"mean reading", Model{Sought: MeanReading}, []float64{4, 2, -2, 0}, [3]float64{1, 3, 1}},
	} {
		f, err := c.model.Fit(at, c.y, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if farthest(f.params(), c.want) > rounding {
			t.Errorf("%s: fit %v, want %v", c.name, f.params(), c.want)
		}
		if f.N != 4 || f.Model != c.model || !(f.SSR <= rounding*rounding) {
			t.Errorf("%s: N %d, model %+v, SSR %g, want 4, %+v, 0", c.name, f.N, f.Model, f.SSR, c.model)
		}
		for i, b := range at {
			if apart(f.At(b), c.y[i]) > rounding {
				t.Errorf("%s: At(%v°) = %v, want %v", c.name, b.Degrees(), f.At(b), c.y[i])
			}
		}
	}
}

// exactness is how near the truth a fit of exact data must come: the readings themselves are
// rounded to 7e-15 mm, which a centre nine tenths out magnifies a few times.
const exactness = 1e-12 // mm

func TestFitRecoversExactData(t *testing.T) {
	for _, sought := range []Sought{ZeroDistance, SurfaceRadius, MeanReading} {
		for _, out := range []float64{0, 0.001, 0.1, 0.3, 0.5, 0.7, 0.8, 0.9} {
			for _, ball := range []float64{-2, 0, 2} {
				for _, n := range []int{3, 4, 5, 6, 7, 8, 12, 16, 31, 64} {
					for way := range 7 {
						wantRecovered(t, sought, out, ball, n, geom.FromDegrees(1.3+float64(way)*360/7))
					}
				}
			}
		}
	}
}

// wantRecovered fits n exact readings of a centre that is out by the given share of the circle that
// the ball's centre runs on.
func wantRecovered(t *testing.T, sought Sought, out, ball float64, n int, way geom.Bearing) {
	t.Helper()
	const radius, zero = 30.0, 27.5
	m := Model{Sought: sought, Surface: radius, Ball: ball}
	u, level := way.Unit(), radius
	if sought == ZeroDistance {
		level = zero
	}
	e := out * (radius - ball)
	s := exactly(m, [3]float64{level, e * u.X, e * u.Y}, evenly(n, 0.1, 2*math.Pi))
	f, err := m.Fit(s.t, s.y, nil)
	if err != nil {
		t.Errorf("sought %v, e/ρ %v, ball %v, %d stations, towards %.0f°: %v", sought, out, ball, n, way.Degrees(), err)
		return
	}
	if d := farthest(f.params(), s.truth); d > exactness {
		t.Errorf("sought %v, e/ρ %v, ball %v, %d stations: fit %v, want %v", sought, out, ball, n, f.params(), s.truth)
	}
	if !(f.SSR <= float64(n)*exactness*exactness) {
		t.Errorf("sought %v, e/ρ %v, ball %v, %d stations: SSR %g left", sought, out, ball, n, f.SSR)
	}
	if f.Iterations > 10 {
		t.Errorf("sought %v, e/ρ %v, ball %v, %d stations: %d steps, want quadratic convergence", sought, out, ball, n, f.Iterations)
	}
}

// Whole steps overshoot for a centre close to the edge. These two are lost unless a step that
// makes the sum of squares worse is halved.
func TestHalvedSteps(t *testing.T) {
	for out, way := range map[float64]float64{0.96: 29, 0.98: 9.5} {
		u := geom.FromDegrees(way).Unit()
		s := exactly(Model{Sought: SurfaceRadius}, [3]float64{30, out * 30 * u.X, out * 30 * u.Y}, degrees(0, 120, 240))
		if f := s.fit(t); farthest(f.params(), s.truth) > exactness {
			t.Errorf("e/ρ %v: fit %v, want %v", out, f.params(), s.truth)
		}
	}
}

// A centre close to the edge must be found too. Three readings with the zero distance sought are three equations that two centres
// can satisfy when both lie beyond nine tenths of the radius: which one is found cannot be known;
// that it satisfies the readings can.
func TestVeryFarOut(t *testing.T) {
	const radius, zero = 30.0, 27.0
	twins := 0
	for _, c := range []struct {
		sought Sought
		level  float64
	}{{ZeroDistance, zero}, {SurfaceRadius, radius}} {
		sought, level := c.sought, c.level
		for _, out := range []float64{0.92, 0.95, 0.97, 0.98} {
			least := MinStations
			if sought == SurfaceRadius && out > 0.95 {
				least++ // three stations so far out may be refused as outside
			}
			for n := least; n <= 12; n++ {
				for way := range 72 {
					u := geom.FromDegrees(1.3 + 5*float64(way)).Unit()
					e := out * radius
					s := exactly(Model{Sought: sought, Surface: radius}, [3]float64{level, e * u.X, e * u.Y}, evenly(n, 0.1, 2*math.Pi))
					f := s.fit(t)
					if !(f.SSR <= float64(n)*exactness*exactness) {
						t.Errorf("sought %v, e/ρ %v, %d stations: SSR %g left", sought, out, n, f.SSR)
					}
					if farthest(f.params(), s.truth) <= 1e-9 {
						continue
					}
					twins++
					if n > MinStations || sought == SurfaceRadius {
						t.Errorf("sought %v, e/ρ %v, %d stations: fit %v, want %v", sought, out, n, f.params(), s.truth)
					}
				}
			}
		}
	}
	if twins == 0 {
		t.Error("no second solution was met, so this test shows nothing")
	}
}

// A reading of weight k counts as k readings.
func TestWeightsCountStations(t *testing.T) {
	weights := []float64{1, 3, 2, 1, 5, 1, 2}
	for _, m := range []Model{
		{Sought: ZeroDistance, Surface: 12.5, Ball: 0.5}, {Sought: SurfaceRadius, Ball: -1}, {Sought: MeanReading},
	} {
		s := exactly(m, [3]float64{12, 0.4, -0.9}, evenly(len(weights), 0.3, 2*math.Pi))
		for i := range s.y {
			s.y[i] += 0.01 * math.Sin(float64(5*i*i)) // any scatter
		}
		s.w = weights
		weighted := s.fit(t)
		repeated := sweep{model: m, truth: s.truth}
		for i, k := range weights {
			for range int(k) {
				repeated.t = append(repeated.t, s.t[i])
				repeated.y = append(repeated.y, s.y[i])
			}
		}
		r := repeated.fit(t)
		if d := farthest(weighted.params(), r.params()); d > exactness {
			t.Errorf("%+v: weighted %v, repeated %v", m, weighted.params(), r.params())
		}
		if apart(weighted.SSR, r.SSR) > 1e-12*r.SSR {
			t.Errorf("%+v: SSR weighted %v, repeated %v", m, weighted.SSR, r.SSR)
		}
		wantCofactor(t, "weighted against repeated", weighted.Cofactor, r.Cofactor, 1e-12)
		if weighted.N != len(weights) || r.N != 15 {
			t.Errorf("%+v: %d and %d readings counted, want %d and 15", m, weighted.N, r.N, len(weights))
		}
		plain := sweep{model: m, t: s.t, y: s.y}.fit(t)
		if farthest(plain.params(), weighted.params()) < 1e-4 {
			t.Errorf("%+v: the weights moved nothing", m)
		}
	}
}

// wantCofactor compares element by element, relative to the standard deviations of its row and
// column.
func wantCofactor(t *testing.T, what string, got, want Sym3, tolerance float64) {
	t.Helper()
	for i := range 3 {
		for j := range 3 {
			if d := math.Abs(got[i][j] - want[i][j]); !(d <= tolerance*math.Sqrt(want[i][i]*want[j][j])) {
				t.Errorf("%s: cofactor [%d][%d] = %.12g, want %.12g", what, i, j, got[i][j], want[i][j])
			}
		}
	}
}
