package practice

import (
	"fmt"
	"math"
	"testing"
)

// draws is how many values each statistical check takes. Seeds are fixed, so a check passes
// always or never; bounds are four standard errors, which a right generator would miss with one
// seed in 16 000.
const draws = 20000

// wantNormal checks mean, spread and the two inner quantiles against the normal distribution,
// whose share within k standard deviations is erf(k/√2).
func wantNormal(t *testing.T, what string, values []float64, mean, sd float64) {
	t.Helper()
	n := float64(len(values))
	var sum, squares, inOne, inTwo float64
	for _, v := range values {
		sum += v
		squares += (v - mean) * (v - mean)
		if math.Abs(v-mean) < sd {
			inOne++
		}
		if math.Abs(v-mean) < 2*sd {
			inTwo++
		}
	}
	if off := sum/n - mean; math.Abs(off) > 4*sd/math.Sqrt(n) {
		t.Errorf("%s: mean off by %.3g, sd %.3g", what, off, sd)
	}
	if got := math.Sqrt(squares / n); math.Abs(got/sd-1) > 4/math.Sqrt(2*n) {
		t.Errorf("%s: sd %.5g, want %.5g", what, got, sd)
	}
	for k, in := range map[float64]float64{1: inOne, 2: inTwo} {
		p := math.Erf(k / math.Sqrt2)
		if math.Abs(in/n-p) > 4*math.Sqrt(p*(1-p)/n) {
			t.Errorf("%s: %.4f within %g sd, want %.4f", what, in/n, k, p)
		}
	}
}

func TestNeedleNoise(t *testing.T) {
	w := plain(true, 30, 42.1, -12)
	w.Noise = 0.003
	m := New(w, 11)
	values := make([]float64, draws)
	for i := range values {
		values[i] = m.Dial().Reading
	}
	wantNormal(t, "needle", values, 0.1, 0.003)
	var together float64
	for i := 1; i < len(values); i++ {
		together += (values[i] - 0.1) * (values[i-1] - 0.1)
	}
	if r := together / draws / 9e-6; math.Abs(r) > 4/math.Sqrt(draws) {
		t.Errorf("one reading and the next are correlated by %.3f, want 0", r)
	}
	wantNear(t, "needle without noise after many looks", m.quiet(), 0.1)
}

func TestHandNoise(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.HandNoise = 0.1 // divisions of 0.01
	m := New(w, 12)
	one, many := make([]float64, draws), make([]float64, draws)
	ten := make([]Move, 10)
	for i := range ten {
		ten[i] = Move{Clockwise: true, Divisions: 10}
	}
	for i := range one {
		begin := m.Truth().CentreX
		wind(t, m, "x", true, 1)
		one[i] = begin - m.Truth().CentreX
		begin = m.Truth().CentreX
		if err := m.Turn("x", ten...); err != nil {
			t.Fatal(err)
		}
		many[i] = begin - m.Truth().CentreX
	}
	wantNormal(t, "one movement", one, 1, 0.001)
	wantNormal(t, "ten movements in one wind", many, 1, 0.001) // not √10 times that
}

// A hand told to go a hundredth of a division clockwise may go too far, but never goes back.
func TestHandNeverTurnsBack(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.HandNoise = 0.1
	m := New(w, 13)
	stood := 0
	for range 1000 {
		before := m.Truth().CentreX
		wind(t, m, "x", true, 0.0001)
		if now := m.Truth().CentreX; now > before {
			t.Fatalf("a clockwise movement went back by %g", now-before)
		} else if now == before {
			stood++
		}
		still := m.Truth()
		if err := m.Turn("x", Move{Clockwise: true}); err != nil || m.Truth() != still {
			t.Fatalf("a movement of nothing moved (%v)", err)
		}
	}
	// The error of a tenth exceeds the hundredth told downwards in Φ(−0.1) = 46 % of the cases.
	if stood < 400 || stood > 520 {
		t.Errorf("stood still %d times of 1000, want about 460", stood)
	}
}

// With the centre 1 mm across the bearing, the needle turns by 1 mm a radian.
func TestAngleNoise(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.AngleNoise = 1e-4
	w.Start.CentreY = 1
	m := New(w, 14)
	level := 30 - math.Sqrt(899)
	values := make([]float64, draws)
	for i := range values {
		values[i] = quietAt(m, 0) - level
	}
	wantNormal(t, "angle", values, 0, 1e-4)
}

func TestNeedleIsReadInSteps(t *testing.T) {
	for _, c := range []struct {
		graduation, readsTo float64
		swing               float64
		want                string // as printed with the fewest digits that say it
	}{
		{0.01, 0.2, 42.1149, "0.114"},
		{0.01, 0.2, 42.1151, "0.116"},
		{0.01, 0.2, 41.9991, "0"}, // no −0
		{0.01, 0.5, 41.8874, "-0.115"},
		{0.01, 1, 41.8849, "-0.12"},
		{0.002, 1, 42.057, "0.058"},
	} {
		w := plain(true, 30, c.swing, -12)
		w.Graduation, w.ReadsTo = c.graduation, c.readsTo
		if got := fmt.Sprint(New(w, 1).Dial().Reading); got != c.want {
			t.Errorf("swing %g read to %g of %g: %s, want %s", c.swing, c.readsTo, c.graduation, got, c.want)
		}
	}
}

// The dial goes from −0.5 to 0.8, ends included, as read; beyond, it says which way it is gone.
func TestRangeEdges(t *testing.T) {
	for _, c := range []struct {
		bore  bool
		swing float64
		want  Needle
	}{
		{true, 42.8, Needle{Reading: 0.8}},
		{true, 42.8009, Needle{Reading: 0.8}},
		{true, 42.8011, Needle{Off: Pressed}},
		{true, 41.5, Needle{Reading: -0.5}},
		{true, 41.4991, Needle{Reading: -0.5}},
		{true, 41.4989, Needle{Off: Free}},
		{false, 41.2, Needle{Reading: 0.8}},
		{false, 41.1989, Needle{Off: Pressed}},
		{false, 42.5, Needle{Reading: -0.5}},
		{false, 42.5011, Needle{Off: Free}},
	} {
		w := plain(c.bore, 30, c.swing, -12)
		w.Graduation, w.ReadsTo, w.RangeFrom, w.RangeTo = 0.01, 0.2, -0.5, 0.8
		if got := New(w, 1).Dial(); got != c.want {
			t.Errorf("bore %v, swing %g: %+v, want %+v", c.bore, c.swing, got, c.want)
		}
	}
	w := plain(true, 30, 52, -12)
	if got := New(w, 1).Dial(); got.Off != "" || math.Abs(got.Reading-10) > near {
		t.Errorf("dial without end: %+v, want 10", got)
	}
	w.Noise = math.NaN()
	if got := New(w, 1).Dial(); got != (Needle{Off: Free}) {
		t.Errorf("no number on the needle: %+v, want %q", got, Free)
	}
}

// script plays a round of swings, looks and winds, and tells all that was seen. Only with one look
// at a time does it tell what the dial showed.
func script(t *testing.T, m *Machine, looks int) string {
	t.Helper()
	var seen string
	for i := range 20 {
		angle := quietAt(m, float64(60*i))
		var last Needle
		for range looks {
			last = m.Dial()
		}
		if looks == 1 {
			seen += fmt.Sprintln(angle, last)
		}
		for _, slide := range []string{"offset", "x", "y"} {
			err := m.Turn(slide, Move{Clockwise: i%3 == 0, Divisions: 7}, Move{Clockwise: i%3 != 0, Divisions: 2})
			if err != nil {
				t.Fatal(err)
			}
		}
		seen += fmt.Sprintln(m.Truth())
	}
	return seen
}

func TestSameSeedSameMachine(t *testing.T) {
	first := script(t, New(Bench(5), 8), 1)
	if script(t, New(Bench(5), 8), 1) != first {
		t.Error("same world and seed, other readings")
	}
	if script(t, New(Bench(5), 9), 1) == first {
		t.Error("another seed, the same readings")
	}
	if script(t, New(Bench(5), 8), 2) != script(t, New(Bench(5), 8), 7) {
		t.Error("looking at the dial more often changed how the hand winds")
	}
}
