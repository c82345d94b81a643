package check_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// Root sum of squares, worked out by hand. An over-pins measurement of an arc of 9 (M 14, D 2) has slopes
// 12/8 = 1.5 and −1.5 − 144/32 = −6. M to ±0.006 is 0.006/√3·1.5, in steps of 0.01 it is 0.01/√12·1.5; the
// pin to ±0.002 is 0.002/√3·6: 27, 18.75 and 48 µm², sum 93.75. All limits: k = 1.959964 (normal).
func TestBudgetByHand(t *testing.T) {
	a := must(t)(check.OverPins(check.Figure{V: 14, Limit: 0.006, Resolution: 0.01}, to(2, 0.002)))
	want := []struct {
		name     string
		u, slope float64
	}{{"size over the pins", math.Sqrt(27), 1.5}, {"size over the pins's step", math.Sqrt(18.75), 1.5}, {"pin", math.Sqrt(48), -6}}
	for i, w := range want {
		g := a.Radius.Terms[i]
		if g.Name != w.name {
			t.Errorf("line %d is %q, want %q", i+1, g.Name, w.name)
		}
		near(t, w.name, g.U, w.u/1000, 1e-12)
		near(t, w.name+" slope", g.Sensitivity, w.slope, 1e-12)
	}
	near(t, "U", a.Radius.Value().U, 1.959963985*math.Sqrt(93.75)/1000, 1e-9)
	// Step: 1.5·0.01. Farthest: 1.5·(0.006 + 0.005) + 6·0.002.
	near(t, "step", a.Step, 0.015, 1e-15)
	near(t, "farthest", a.Farthest, 0.0285, 1e-15)

	// With a repeatability worth 4 degrees of freedom: a diameter, slope ½, 0.02/2 = 10 µm, and a limit of
	// 0.02·√3/2/√3 = 10 µm. ν = 200²/(100²/4) = 16, t = 2.120 (NIST/SEMATECH e-Handbook 1.3.6.7.2).
	b := must(t)(check.Diameter(check.Figure{V: 78, Limit: 0.02 * math.Sqrt(3), Repeat: 0.02, RepeatDof: 4}))
	near(t, "U on 16", b.Radius.Value().U, 2.120*math.Sqrt(200)/1000, 0.0005*math.Sqrt(200)/1000)
}

func TestWrongMeasurements(t *testing.T) {
	// A sagitta of 10 over a chord of 8: there is a circle, r = 64/80 + 5 = 5.8, and no verdict.
	a := must(t)(check.Chord(to(8, 0.001), to(10, 0.001)))
	near(t, "radius", a.Radius.V, 5.8, 1e-12)
	if said, bars := says(a.Remarks, "sagitta 10 mm over a chord of 8 mm is more than a half circle"); !said || !bars {
		t.Errorf("remarks %v, want that it is more than a half circle, barring a verdict", a.Remarks)
	}
	for _, target := range []float64{5.8, 9} {
		if _, v, _ := a.Judge(target, 0.1); v != indicator.Undecided {
			t.Errorf("target %v: %v, want undecided", target, v)
		}
	}
	half := must(t)(check.Chord(to(8, 0.001), to(4, 0.001)))
	if _, v, _ := half.Judge(4, 0.1); v != indicator.Inside || len(half.Remarks) != 0 {
		t.Errorf("half a circle: %v %v, want inside and no remark", v, half.Remarks)
	}
	// Pins: overlapping, and touching above the middle.
	_, err := check.OverPins(exact(15.9), exact(8))
	refused[*check.ShapeError](t, err, "over the pins 15.9 mm with pins of 8 mm: the pins would stand in each other, need more than 16 mm")
	big := must(t)(check.OverPins(to(18, 0.001), to(8, 0.001))) // r = 100/64, D = 8 > 2r
	if _, v, _ := big.Judge(big.Radius.V, 0.1); v != indicator.Undecided {
		t.Errorf("pins too big: %v, want undecided", v)
	}
	_, err = check.PinsInHollow(exact(15), exact(8), exact(9))
	refused[*check.ShapeError](t, err, "would stand in each other")
	_, err = check.PinsInHollow(exact(20), exact(8), exact(8))
	refused[*check.ShapeError](t, err, "need more than 8 mm")
	_, err = check.Base(exact(2), exact(1), exact(5), check.Inside)
	refused[*check.ShapeError](t, err, "need one above 0")
	if _, v, _ := must(t)(check.Diameter(exact(78))).Judge(39, 0.1); v != indicator.Undecided {
		t.Errorf("no doubt stated: %v, want undecided", v)
	}
}

// NaN, infinities, nothing and less are refused, in every figure of every way; so is a doubt below 0.
func TestRefused(t *testing.T) {
	for _, w := range ways {
		for i := range w.figures {
			for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1} {
				if w.name == "pin in the hollow" && i == 2 && !math.IsNaN(bad) && !math.IsInf(bad, 0) {
					continue // a pin may lie below the rim
				}
				if i == 2 && bad == 0 && w.name[:4] == "base" {
					continue // no ball at all
				}
				for _, part := range []string{"value", "limit", "step", "repeat"} {
					f := make([]check.Figure, len(w.figures))
					for k, x := range w.figures {
						f[k] = exact(x)
					}
					switch part {
					case "value":
						f[i].V = bad
					case "limit":
						f[i].Limit = bad
					case "step":
						f[i].Resolution = bad
					case "repeat":
						f[i].Repeat = bad
					}
					if bad == 0 && part != "value" {
						continue
					}
					if _, err := w.measure(f); err == nil {
						t.Errorf("%s: %s %v of figure %d is taken", w.name, part, bad, i+1)
					}
				}
			}
		}
	}
	_, err := check.Chord(exact(0), exact(1))
	refused[*indicator.PlaceError](t, err, "chord 0 mm, need above 0")
	_, err = check.Chord(exact(1e200), exact(1e-200))
	refused[*check.NumberError](t, err, "need a finite number")
}

// A step coarser than the tolerance: told, never inside; outside only where no place in the step, and in
// the limits, is inside.
func TestCoarse(t *testing.T) {
	d := func(v float64) check.Arc { return must(t)(check.Diameter(check.Figure{V: v, Resolution: 0.1})) }
	// Half a step of 0.1 in the diameter is 0.025 in the radius.
	for _, c := range []struct {
		diameter float64
		want     indicator.Verdict
	}{{78, indicator.Undecided}, {78.08, indicator.Undecided}, {78.1, indicator.Outside}, {79, indicator.Outside}} {
		off, v, why := d(c.diameter).Judge(39, 0.02)
		if said, _ := says(why, "one step of what was read makes 0.05 mm of the radius, which is coarser than the "+
			"tolerance of 0.02 mm"); v != c.want || !said {
			t.Errorf("diameter %v off by %v: %v %v, want %v and that it is coarse", c.diameter, off, v, why, c.want)
		}
	}
	// TestBudgetByHand's pins: U is 0.019 and the farthest 0.0285. An error of 0.035 is outside of 0.01 by
	// the first, and may lie inside by the second.
	p := must(t)(check.OverPins(check.Figure{V: 14, Limit: 0.006, Resolution: 0.01}, to(2, 0.002)))
	for _, c := range []struct {
		off  float64
		want indicator.Verdict
	}{{0.035, indicator.Undecided}, {0.05, indicator.Outside}, {-0.035, indicator.Undecided}} {
		if _, v, _ := p.Judge(9-c.off, 0.01); v != c.want {
			t.Errorf("off by %v: %v, want %v", c.off, v, c.want)
		}
	}
	if _, v, why := d(78).Judge(39, 0.06); v != indicator.Inside || len(why) != 0 {
		t.Errorf("a tolerance of 0.06: %v %v, want inside", v, why)
	}
}

// Coordinates that were read in steps of 0.1 mm say no more of a radius than their steps, though they happen to lie on one circle: of four
// evenly round it the radius is known to half of one (√¼), four times over 0.2, and 0.01 of the readout's own beside. So a radius that
// is out by 0.25 of a tolerance of 0.05 is outside of it for certain only where 0.25 − 0.21 is.
func TestCoarsePoints(t *testing.T) {
	p := []geom.Point{{X: 30}, {Y: 30}, {X: -30}, {Y: -30}}
	a := must(t)(check.Points(p, check.Readout{Resolution: 0.1, Limit: 0.01}, check.Outside))
	near(t, "step", a.Step, 0.1, 0)
	near(t, "farthest", a.Farthest, 0.21, 1e-12)
	for _, c := range []struct {
		off  float64
		want indicator.Verdict
	}{{0.25, indicator.Undecided}, {0.27, indicator.Outside}, {-0.25, indicator.Undecided}, {-0.27, indicator.Outside}} {
		if _, v, _ := a.Judge(30-c.off, 0.05); v != c.want {
			t.Errorf("off by %v: %v, want %v", c.off, v, c.want)
		}
	}
}

func TestGauges(t *testing.T) {
	for _, c := range []struct {
		larger, smaller check.Figure
		want            indicator.Verdict
	}{
		{exact(38.9), exact(39.1), indicator.Undecided}, {exact(38.99), exact(39.01), indicator.Inside},
		{to(38.99, 0.02), exact(39.01), indicator.Undecided}, {exact(39.02), exact(0), indicator.Outside},
		{exact(39.01), exact(0), indicator.Undecided},
		{exact(0), exact(38.98), indicator.Outside}, {exact(0), to(38.98, 0.001), indicator.Undecided},
	} {
		b, err := check.Gauges(c.larger, c.smaller)
		if err != nil {
			t.Fatal(err)
		}
		if got := b.Judge(39, 0.02); got != c.want {
			t.Errorf("%v: %v, want %v", b, got, c.want)
		}
	}
	_, err := check.Gauges(exact(39.1), exact(39))
	refused[*check.ShapeError](t, err, "cannot both be")
	_, err = check.Gauges(exact(0), exact(0))
	refused[*check.ShapeError](t, err, "no gauge")
	_, err = check.Gauges(exact(math.NaN()), exact(39))
	refused[*check.NumberError](t, err, "finite")
}

// The cutter by hand: swing 42, boss of 38.99: 6.02; hollow of 45.01: 6.02.
func TestCutter(t *testing.T) {
	for _, c := range []struct {
		r    float64
		side check.Side
	}{{38.99, check.Inside}, {45.01, check.Outside}} {
		a := must(t)(check.Diameter(to(2*c.r, 0.006)))
		d, err := a.Cutter(to(42, 0.004), c.side)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint("cutter, metal ", c.side), d.V, 6.02, 1e-12)
		// Twice 0.003 and twice 0.004, over √3: 10/√3 µm.
		near(t, "U", d.Value().U, 1.959963985*0.010/math.Sqrt(3), 1e-9)
		_, err = a.Cutter(exact(42), c.side.Other())
		refused[*check.ShapeError](t, err, "need one above 0")
	}
}

// What the tolerance leaves for a pin that nobody has measured is what the arc's doubt leaves of it: 9 over two pins of 2, read to
// ±0.00236 (slope 1.5, U = 1.95996·1.5·0.00236/√3 = 0.004006), 0.004 off. Of ±0.0125 that leaves 0.0045, less than the 0.005 that
// "inside" is not said without; of ±0.0135 0.0055.
func TestRoomLessTheDoubt(t *testing.T) {
	a := must(t)(check.OverPins(to(14, 0.00236), exact(2)))
	const target = 9 - 0.004
	if room := a.Room(target, 0.0125); math.Abs(room-(0.0125-0.004-1.959963985*1.5*0.00236/math.Sqrt(3))) > 1e-9 {
		t.Errorf("room %v, want some 0.0045", room)
	}
	for tolerance, want := range map[float64]indicator.Verdict{0.0125: indicator.Undecided, 0.0135: indicator.Inside} {
		if _, v, _ := a.Judge(target, tolerance); v != want {
			t.Errorf("±%v: %v, want %v", tolerance, v, want)
		}
	}
	if known := must(t)(check.OverPins(to(14, 0.00236), check.Figure{V: 2, Stated: true})); !math.IsNaN(known.Room(target, 0.0125)) {
		t.Error("an arc that leans on nothing has a room")
	}
}
