package fit

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

var soughts = []Sought{ZeroDistance, SurfaceRadius, MeanReading}

// degrees turns degrees into bearings.
func degrees(deg ...float64) []geom.Bearing {
	t := make([]geom.Bearing, len(deg))
	for i, d := range deg {
		t[i] = geom.FromDegrees(d)
	}
	return t
}

func TestTooFewStations(t *testing.T) {
	for _, c := range []struct {
		name string
		at   []geom.Bearing
		have int
	}{
		{"none", nil, 0},
		{"one", degrees(30), 1},
		{"two", degrees(0, 180), 2},
		{"twelve readings at two bearings", degrees(0, 90, 0, 90, 0, 90, 0, 90, 0, 90, 0, 90), 2},
		{"0° is 360°", degrees(0, 360, 720, -360), 1},
		{"a closing reading is no new station", degrees(0, 120, 360), 2},
		{"−90° is 270°", degrees(-90, 270, 90, 450), 2},
		{"closer than a millionth of a degree", degrees(10, 10+9e-7, 200), 2},
		{"the same across 0°", degrees(359.9999999, 0, 0.0000001, 45), 2},
	} {
		for _, sought := range soughts {
			y := make([]float64, len(c.at))
			_, err := Model{Sought: sought, Surface: 30}.Fit(c.at, y, nil)
			var few *TooFewError
			if !errors.As(err, &few) || few.Have != c.have || few.Need != MinStations {
				t.Errorf("%s, sought %v: error %v, want %d of 3 stations", c.name, sought, err, c.have)
			}
		}
	}
	_, err := Model{}.Fit(nil, nil, nil)
	if !errors.As(err, new(*OutsideError)) {
		t.Errorf("no readings and no radius: %v, want an outside error", err)
	}
	err = &TooFewError{Have: 2, Need: 3}
	if got, want := err.Error(), "2 distinct stations, need at least 3"; got != want {
		t.Errorf("message %q, want %q", got, want)
	}
}

// Three bearings within a hair are distinct, and still no answer; a tenth of a degree is one, with
// exact readings.
func TestSingularStations(t *testing.T) {
	for _, sought := range soughts {
		m := Model{Sought: sought, Surface: 30}
		for _, gap := range []float64{2e-6, 1e-5, 1e-4} {
			s := exactly(m, [3]float64{30, 0.1, 0.2}, degrees(77, 77+gap, 77+2*gap))
			_, err := m.Fit(s.t, s.y, nil)
			var singular *SingularError
			if !errors.As(err, &singular) || !(singular.Condition >= maxCondition) {
				t.Errorf("sought %v, %v° apart: error %v, want a singular one", sought, gap, err)
			}
		}
		s := exactly(m, [3]float64{30, 0.1, 0.2}, degrees(77, 77.1, 77.2))
		f := s.fit(t)
		// Rounding of 4e-15 mm times a condition of a few million.
		if d := farthest(f.params(), s.truth); d > 1e-7 || f.Condition < 1e5 {
			t.Errorf("sought %v, 0.1° apart: fit %v, condition %.2g, want %v", sought, f.params(), f.Condition, s.truth)
		}
	}
	// The rows of a far-off centre can be worse than those of the start, which were sound: half the
	// radius out, and away from the stations.
	late, away := 0, geom.FromDegrees(77).Unit()
	for _, sought := range []Sought{ZeroDistance, SurfaceRadius} {
		m := Model{Sought: sought, Surface: 30}
		for gap := 1e-4; gap < 2e-3; gap *= 1.002 {
			s := exactly(m, [3]float64{30, -15 * away.X, -15 * away.Y}, degrees(77, 77+gap, 77+2*gap))
			f, err := m.Fit(s.t, s.y, nil)
			if err == nil && !(f.Condition < maxCondition) {
				t.Errorf("sought %v, %v° apart: condition %.3g and no error", sought, gap, f.Condition)
			}
			if errors.As(err, new(*SingularError)) && f.Iterations > 0 {
				late++
			}
		}
	}
	if late == 0 {
		t.Error("no rows became singular on the way, so this test shows nothing")
	}
	err := &SingularError{Condition: 3e12}
	if got := err.Error(); !strings.Contains(got, "condition 3e+12, need below 1e+11") {
		t.Errorf("message %q lacks the condition seen and needed", got)
	}
}

func TestAxisOutside(t *testing.T) {
	ring := evenly(8, 0, 2*math.Pi)
	wave := func(mean, by float64) []float64 {
		y := make([]float64, len(ring))
		for i, b := range ring {
			y[i] = mean + by*math.Cos(float64(b))
		}
		return y
	}
	for _, c := range []struct {
		name  string
		model Model
		y     []float64
	}{
		{"a swing of a metre in a bore of 20", Model{Sought: ZeroDistance, Surface: 10}, wave(0, 500)},
		{"a swing of a kilometre", Model{Sought: ZeroDistance, Surface: 10}, wave(0, 1e6)},
		{"no radius", Model{Sought: ZeroDistance}, wave(0, 0.1)},
		{"a radius below zero", Model{Sought: ZeroDistance, Surface: -30}, wave(0, 0.1)},
		{"a radius that is no number", Model{Sought: ZeroDistance, Surface: math.NaN()}, wave(0, 0.1)},
		{"an endless radius", Model{Sought: ZeroDistance, Surface: math.Inf(1)}, wave(0, 0.1)},
		{"a ball as large as the bore", Model{Sought: ZeroDistance, Surface: 3, Ball: 3}, wave(0, 0.1)},
		{"a ball that is no number", Model{Sought: ZeroDistance, Surface: 3, Ball: math.NaN()}, wave(0, 0.1)},
		{"an endless ball", Model{Sought: ZeroDistance, Surface: 3, Ball: math.Inf(-1)}, wave(0, 0.1)},
		{"distances below zero", Model{Sought: SurfaceRadius}, wave(-5, 0)},
		{"distances of zero", Model{Sought: SurfaceRadius}, wave(0, 0)},
		{"distances less than the ball", Model{Sought: SurfaceRadius, Ball: 6}, wave(5, 0.1)},
		{"an endless ball, radius sought", Model{Sought: SurfaceRadius, Ball: math.Inf(-1)}, wave(5, 0.1)},
		{"no ball, radius sought", Model{Sought: SurfaceRadius, Ball: math.NaN()}, wave(5, 0.1)},
	} {
		_, err := c.model.Fit(ring, c.y, nil)
		if !errors.As(err, new(*OutsideError)) {
			t.Errorf("%s: error %v, want an outside error", c.name, err)
		}
	}
	err := &OutsideError{Offset: 15.25, Radius: 10}
	want := "no circle fits these readings with the axis inside it"
	if got := err.Error(); got != want {
		t.Errorf("message %q, want %q", got, want)
	}
}

// Readings that swing by more than the surface is across are of no circle that the axis lies in.
// Where a least sum of squares is found all the same, its scatter tells.
func TestReadingsOfNoCircle(t *testing.T) {
	ring := evenly(8, 0, 2*math.Pi)
	for _, c := range []struct {
		model Model
		mean  float64
	}{{Model{Sought: ZeroDistance, Surface: 10}, 0}, {Model{Sought: SurfaceRadius}, 10}} {
		for _, swing := range []float64{11, 15, 20, 50} {
			y := make([]float64, len(ring))
			for i, b := range ring {
				y[i] = c.mean + swing*math.Cos(float64(b))
			}
			f, err := c.model.Fit(ring, y, nil)
			if err != nil {
				if !errors.As(err, new(*OutsideError)) {
					t.Errorf("swing %v: error %v, want an outside error", swing, err)
				}
				continue
			}
			if s, _, _ := f.Spread(Prior{}); s < 1 || !(f.Centre.Norm() < f.inner()) {
				t.Errorf("swing %v: centre %v in a circle of %v with a scatter of %v", swing, f.Centre, f.inner(), s)
			}
		}
	}
}

func TestUnusableNumbers(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, sought := range soughts {
		for index := range 4 {
			for _, c := range []struct {
				what  string
				spoil func(s sweep)
			}{
				{"reading NaN", func(s sweep) { s.y[index] = nan }},
				{"reading Inf", func(s sweep) { s.y[index] = inf }},
				{"reading −Inf", func(s sweep) { s.y[index] = -inf }},
				{"a reading whose square is no number", func(s sweep) { s.y[index] = 1e200 }},
				{"bearing NaN", func(s sweep) { s.t[index] = geom.Bearing(nan) }},
				{"bearing Inf", func(s sweep) { s.t[index] = geom.Bearing(-inf) }},
				{"weight NaN", func(s sweep) { s.w[index] = nan }},
				{"weight Inf", func(s sweep) { s.w[index] = inf }},
				{"weight 0", func(s sweep) { s.w[index] = 0 }},
				{"weight −1", func(s sweep) { s.w[index] = -1 }},
				{"a weight that is hardly any", func(s sweep) { s.w[index] = 1e-300 }},
			} {
				s := exactly(Model{Sought: sought, Surface: 30}, [3]float64{30, 0.1, 0.2}, degrees(0, 90, 180, 270))
				s.w = []float64{1, 1, 1, 1}
				c.spoil(s)
				_, err := s.model.Fit(s.t, s.y, s.w)
				var value *ValueError
				if !errors.As(err, &value) || value.Index != index {
					t.Errorf("sought %v, %s at %d: error %v", sought, c.what, index, err)
				}
			}
		}
	}
	if got, want := (&ValueError{Index: 2}).Error(), "reading 3 is not finite, or too large, or has no weight"; got != want {
		t.Errorf("message %q, want %q", got, want)
	}
}

// Lists of different lengths are a mistake in the program, not in the data.
func TestListsOfDifferentLength(t *testing.T) {
	for _, c := range []struct {
		name string
		at   []geom.Bearing
		y, w []float64
	}{
		{"bearings", degrees(0, 90, 180, 270), make([]float64, 3), nil},
		{"readings", degrees(0, 90, 180), make([]float64, 4), nil},
		{"weights", degrees(0, 90, 180), make([]float64, 3), []float64{1, 1}},
		{"no weights, but a list of them", degrees(0, 90, 180), make([]float64, 3), []float64{}},
	} {
		func() {
			defer func() {
				if said, ok := recover().(string); !ok || !strings.Contains(said, "differ in number") {
					t.Errorf("%s: panic %q, want that the lists differ in number", c.name, said)
				}
			}()
			_, _ = Model{Sought: MeanReading}.Fit(c.at, c.y, c.w)
		}()
	}
}
