package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Where one of the four slips has happened, the station is named and the value proposed is the one
// that the needle stood at, in 97 of 100: six to twelve stations, repeatability known from nine
// readings, readings rounded to 0.002, levels of ±0.3 and centre errors of up to 0.2. A slip that
// changes a reading by less than 15 standard deviations is none that could be seen; such draws of
// sign and swap are drawn again.
func TestProposedValue(t *testing.T) {
	const draws, sigma = 10000, 0.003
	rng := rand.New(rand.NewPCG(91, 4))
	right, all := make(map[indicator.Cause]int), make(map[indicator.Cause]int)
	causes := []indicator.Cause{indicator.Revolution, indicator.TenDivisions, indicator.SignTurned, indicator.Swapped}
	for k := 0; k < draws; {
		n := 6 + rng.IntN(7)
		b := stations(n, 2*math.Pi*rng.Float64(), 360)
		level, e := 0.6*rng.Float64()-0.3, 0.2*rng.Float64()
		dir := 2 * math.Pi * rng.Float64()
		centre := geom.Point{X: e * math.Cos(dir), Y: e * math.Sin(dir)}
		m := make([]float64, n)
		for i := range m {
			m[i] = math.Round((level+seen(centre, b[i])+sigma*rng.NormFloat64())/0.002) * 0.002
		}
		clean := append([]float64(nil), m...)
		cause, at := causes[k%4], rng.IntN(n)
		next := (at + 1) % n
		way := float64(1 - 2*rng.IntN(2))
		switch cause {
		case indicator.Revolution:
			m[at] += way
		case indicator.TenDivisions:
			m[at] += 0.1 * way
		case indicator.SignTurned:
			m[at] = -m[at]
		case indicator.Swapped:
			m[at], m[next] = m[next], m[at]
		case indicator.NoCause, indicator.UnknownCause, indicator.FormCause:
		}
		if math.Abs(m[at]-clean[at]) < 15*sigma {
			continue
		}
		k++
		d := indicator.Dial{Graduation: 0.01, Revolution: 1, ReadsTo: 0.2, Repeatability: drawn(rng, sigma)}
		f := mustFit(t, d, ring, b, m)
		all[cause]++
		want := map[int]bool{at: true}
		if cause == indicator.Swapped {
			want[next] = true
		}
		found := 0
		for _, x := range f.Suspects(b, m) {
			if want[x.Index] && x.Because == cause && math.Abs(x.WouldBe-clean[x.Index]) < 1e-9 {
				found++
			} else {
				found = -9 // a wrong proposal beside the right one
			}
		}
		if found == len(want) {
			right[cause]++
		}
	}
	sum := 0
	for _, c := range causes {
		t.Logf("%s: %.2f %% of %d", c, 100*float64(right[c])/float64(all[c]), all[c])
		sum += right[c]
	}
	t.Logf("together: %.2f %%", 100*float64(sum)/draws)
	if sum < draws*97/100 {
		t.Errorf("the proposal was right in %d of %d, want 97 %%", sum, draws)
	}
}

// Misread, by hand: the slip that lands nearest counts, inside the band and on the dial only.
func TestMisreadByHand(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, Revolution: 1, From: -0.8, To: 0.8}
	nan := math.NaN()
	for _, c := range []struct {
		name                    string
		dial                    indicator.Dial
		reading, expected, band float64
		because                 indicator.Cause
		would                   float64
	}{
		{"a revolution too much", d, 0.62, -0.379, 0.01, indicator.Revolution, -0.38},
		{"a revolution too little", d, -0.38, 0.621, 0.01, indicator.Revolution, 0.62},
		{"ten divisions too much", d, 0.35, 0.252, 0.01, indicator.TenDivisions, 0.25},
		{"ten divisions too little", d, 0.25, 0.348, 0.01, indicator.TenDivisions, 0.35},
		{"plus for minus", d, 0.2, -0.201, 0.01, indicator.SignTurned, -0.2},
		{"nothing that is known", d, 0.2, 0.05, 0.01, indicator.UnknownCause, nan},
		{"outside the band", d, 0.35, 0.262, 0.01, indicator.UnknownCause, nan},
		{"at the band's edge", d, 0.375, 0.25, 0.025 + 1e-12, indicator.TenDivisions, 0.275},
		// 0.05 turned is −0.05, ten divisions less too: both are right, and one is named.
		{"the nearest of two", d, 0.06, -0.058, 0.03, indicator.SignTurned, -0.06},
		{"the other one nearer", d, 0.06, -0.042, 0.03, indicator.TenDivisions, -0.04},
		{"off the dial", d, 0.5, 1.5, 0.01, indicator.UnknownCause, nan},
		{"zero has no sign", d, 0, 0, 0.01, indicator.UnknownCause, nan},
		{"no marks known", indicator.Dial{}, 0.35, 0.25, 0.01, indicator.UnknownCause, nan},
	} {
		because, would := c.dial.Misread(c.reading, c.expected, c.band)
		if because != c.because {
			t.Errorf("%s: %s, want %s", c.name, because, c.because)
		}
		near(t, c.name, would, c.would, 1e-12)
	}
}

// A boss and a lever: residual and proposal are millimetres of reading with the reading's own sign.
func TestSuspectsInReadings(t *testing.T) {
	for _, touch := range []indicator.Touch{indicator.Bore, indicator.Boss} {
		d := indicator.Dial{Graduation: 0.01, Revolution: 1, LeverAngle: math.Atan2(3, 4), Repeatability: 0.003}
		s := ring
		s.Touch = touch
		b, m := stations(8, 0, 360), []float64{0.2, 0.2, 0.2, 0.3, 0.2, 0.2, 0.2, 0.2}
		f := mustFit(t, d, s, b, m)
		x := f.Suspects(b, m)
		if len(x) != 1 || x[0].Index != 3 || x[0].Because != indicator.TenDivisions {
			t.Fatalf("%v: %+v, want reading 3, ten divisions", touch, x)
		}
		// Leaving a reading out is the linear problem's; the exact model bends by e²/2ρ, e the 0.0275
		// of distance that the misread turns the circle by: 13 nm, and that over what seven leave open.
		near(t, "residual", x[0].Residual, 0.1, 1e-5)
		near(t, "would be", x[0].WouldBe, 0.2, 1e-12)
	}
}

// What a cause may be called.
func TestCauseCheck(t *testing.T) {
	for _, c := range []indicator.Cause{indicator.Revolution, indicator.TenDivisions, indicator.SignTurned, indicator.Swapped,
		indicator.UnknownCause} {
		if err := c.Check(); err != nil {
			t.Errorf("%s: %v", c, err)
		}
	}
	for _, c := range []indicator.Cause{"", "tired", "Revolution"} {
		if c.Check() == nil {
			t.Errorf("%q is taken for a cause", c)
		}
	}
}

// The warning of what three or four equal stations hide holds for equal stations all the way round
// only, wherever they begin and in whatever order they are read.
func TestAliases(t *testing.T) {
	for _, c := range []struct {
		at   []geom.Bearing
		warn bool
	}{
		{degrees(0, 120, 240), true}, {degrees(37, 277, 157), true}, {degrees(0, 90, 180, 270), true}, {degrees(-10, 80, 170, 262), true},
		{degrees(0, 60, 120), false}, {degrees(0, 120, 120), false}, {degrees(0, 30, 60, 90), false}, {degrees(0, 90, 180, 180), false},
		{degrees(0, 72, 144, 216, 288), false}, {degrees(0, 60, 120, 180, 240, 300), false}, {nil, false},
	} {
		if got := indicator.Aliases(c.at) != ""; got != c.warn {
			t.Errorf("%v: warned %v, want %v", c.at, got, c.warn)
		}
	}
}

// Lobes in millimetres of distance from the axis, by hand: 0.004·cos 2θ added to the readings of a
// lever at cos α = 0.8 is 0.0032 of distance.
func TestShapeIsInDistance(t *testing.T) {
	d := indicator.Dial{LeverAngle: math.Atan2(3, 4), Repeatability: 1e-4}
	b := stations(8, 0, 360)
	m := make([]float64, len(b))
	for i := range m {
		m[i] = 0.004 * math.Cos(2*float64(b[i]))
	}
	f := mustFit(t, d, ring, b, m)
	x := f.Shape(b, m)
	near(t, "two lobes", x.Two, 0.0032, 1e-9)
	near(t, "three lobes", x.Three, 0, 1e-9)
	if !x.TwoIs || x.ThreeIs {
		t.Errorf("%+v, want two lobes that are there and three that are not", x)
	}
}
