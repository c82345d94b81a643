package check_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/check"
)

// wayNamed is a way by its name.
func wayNamed(t *testing.T, name string) *check.Way {
	t.Helper()
	for i := range check.Ways {
		if check.Ways[i].Name == name {
			return &check.Ways[i]
		}
	}
	t.Fatalf("no way is called %s", name)
	return nil
}

// of hands out figures by their names.
func of(all map[string]float64) func(string) check.Figure {
	return func(name string) check.Figure { return to(all[name], 0.01) }
}

// A wall between a hole of 24 and a rim, measured where the hole's middle lies off the arc's: by the points themselves.
func TestFromHoleAcrossTheWall(t *testing.T) {
	for _, rim := range []float64{20, 38, 120} {
		for _, off := range []float64{0, 0.02} {
			hole, edge := geom.Point{X: off + 12}, geom.Point{X: rim} // along the way that the hole lies off
			a := must(t)(check.FromHole(to(edge.Sub(hole).Norm(), 0.02), to(24, 0), to(off, 0)))
			near(t, "radius", a.Radius.V, rim-off, 1e-12)
			if !(math.Abs(a.Radius.V-rim) <= a.Farthest) {
				t.Errorf("rim %v, hole off by %v: %v is farther out than %v", rim, off, a.Radius.V, a.Farthest)
			}
			near(t, "slope by the wall", a.Radius.Terms[0].Sensitivity, 1, 0)
		}
	}
	// As sensitive as the caliper. A chord of 30 on 42 has a sagitta of 2.7697; by hand c/4h is 2.708 and ½ − c²/8h² is −14.17,
	// together 14.42 where both are read by the same caliper.
	wall := must(t)(check.FromHole(to(12, 0.02), exact(60), exact(0)))
	chord := must(t)(check.Chord(to(30, 0.02), to(sagitta(42, 30), 0.02)))
	near(t, "how many times less sure", chord.Radius.Value().U/wall.Radius.Value().U, 14.42, 0.01)
}

// Where what is laid on an arc touches it, as the bearing of the point from the arc's middle, by Pythagoras.
func TestHalf(t *testing.T) {
	const r, pin = 40.0, 6.0
	beside := math.Sqrt((r+pin/2)*(r+pin/2) - (r-pin/2)*(r-pin/2))
	for way, want := range map[string]float64{
		"chord":        math.Atan2(15, math.Sqrt(r*r-225)),
		"over pins":    math.Atan2(beside, r-pin/2),
		"between pins": math.Atan2(beside, r-pin/2),
		"hollow pins":  math.Atan2(9, math.Sqrt((r-pin/2)*(r-pin/2)-81)),
		"from hole":    0, "diameter": 0,
	} {
		a := must(t)(wayNamed(t, way).Measure(of(measured(r)[way]), check.Inside))
		near(t, way, a.Half, want, 1e-12)
	}
	// A sagitta of more than half the chord: the ends stand on the far side of the widest place.
	a := must(t)(check.Chord(exact(2*40*math.Sin(2)), exact(40*(1-math.Cos(2)))))
	near(t, "more than half a round", a.Half, 2, 1e-12)
}

// What an arc cannot have is refused with what was seen and what would do, and its like that just goes is not.
func TestBeyond(t *testing.T) {
	const r = 40.0
	third := check.Span{Radius: r, Angle: 2 * math.Pi / 3} // its chord is r√3, 69.28
	at := func(deg float64) (c, h float64) {
		half := deg * math.Pi / 180
		return 2 * r * math.Sin(half), r * (1 - math.Cos(half))
	}
	for _, c := range []struct {
		span check.Span
		deg  float64 // to either side
		want string  // nothing: it goes
	}{
		{third, 59.5, ""},
		{third, 62, "a chord of 70.6358 mm is longer than any of this arc can be, which goes round 120.0°, need at most about 69 mm"},
		{third, 125, "what was laid on touches 125.0° to either side of the middle, and this arc goes 60.0° to either side, need no more"},
		{check.Span{Radius: r, Angle: 2 * math.Pi}, 85, ""},
		{check.Span{Radius: r}, 85, ""},
		{check.Span{}, 85, ""},
	} {
		chord, h := at(c.deg)
		a := must(t)(check.Chord(exact(chord), exact(h)))
		wantShape(t, a.Beyond(&c.span), c.want)
	}
	// Of a part that goes round γ no chord is longer than 2r·sin(γ/2), however small the sagitta that was read: 0.1 more of the radius'
	// end is let be at either end.
	for _, c := range []struct{ angle, chord float64 }{{30, 20.706}, {60, 40}, {90, 56.569}, {150, 77.274}, {179, 79.997}} {
		part := check.Span{Radius: r, Angle: c.angle * math.Pi / 180}
		within, over := must(t)(check.Chord(exact(c.chord+0.19), exact(1))), must(t)(check.Chord(exact(c.chord+0.21), exact(1)))
		wantShape(t, within.Beyond(&part), "")
		if err := over.Beyond(&part); err == nil || !strings.Contains(err.Error(),
			fmt.Sprintf(" is longer than any of this arc can be, which goes round %.1f°, need at most about ", c.angle)) {
			t.Errorf("a chord of %v on an arc of 40 mm round %v°: %v, want it refused as too long", c.chord+0.21, c.angle, err)
		}
	}
	// Whatever its angle, no chord is longer than the diameter.
	a := must(t)(check.Chord(exact(85), exact(30)))
	wantShape(t, a.Beyond(&check.Span{Radius: r, Angle: 2 * math.Pi}),
		"a chord of 85 mm is longer than any of this arc can be, need at most about 80 mm")
	// Pins of 50 beside an arc of 20 on a plate touch above its middle: at cos = (20 − 25)/(20 + 25), 96.4°.
	big := must(t)(check.OverPins(exact(50+math.Sqrt(45*45-25)*2), exact(50)))
	near(t, "where big pins touch", big.Half, math.Acos(-5.0/45), 1e-12)
	wantShape(t, big.Beyond(&check.Span{Radius: big.Radius.V}), "the pins are too big: they touch beyond the widest place")
	wantShape(t, big.Beyond(&check.Span{Radius: big.Radius.V, Angle: 2 * math.Pi}), "")
}

// wantShape holds an error to be a [check.ShapeError] that says so, with what to do; none where nothing is wanted.
func wantShape(t *testing.T, err error, want string) {
	t.Helper()
	var shape *check.ShapeError
	switch {
	case want == "" && err != nil:
		t.Errorf("%v, want it let pass", err)
	case want != "" && (!errors.As(err, &shape) || err.Error() != want || shape.Hint() == ""):
		t.Errorf("%v, want %q with a hint", err, want)
	}
}

// Which ways an arc leaves, and why not the others.
func TestNot(t *testing.T) {
	convex := check.Span{Sided: true, Side: check.Inside, Radius: 38, Angle: math.Pi / 2, NoHole: "no hole"}
	hollow := check.Span{Sided: true, Side: check.Outside, Radius: 38, Angle: 2 * math.Pi, Hole: 60}
	inner := check.Span{Sided: true, Side: check.Inside, Radius: 12, Hole: 60}
	for _, c := range []struct {
		way                   string
		convex, hollow, inner string
	}{
		{"chord", "", "", ""},
		{"diameter", "goes round 90.0°, need 180°", "", ""},
		{"over pins", "", "hollow", ""},
		{"between pins", "", "hollow", ""},
		{"hollow pins", "convex", "", "convex"},
		{"from hole", "no hole", "", "within the reference"},
	} {
		w := wayNamed(t, c.way)
		for i, s := range []check.Span{convex, hollow, inner} {
			got, want := w.Not(&s), []string{c.convex, c.hollow, c.inner}[i]
			if (got == "") != (want == "") || !strings.Contains(got, want) {
				t.Errorf("%s of arc %d: %q, want %q", c.way, i, got, want)
			}
		}
	}
}

// The figure that a way aims at, as it should have been, is that of the true arc: measured by Pythagoras on an arc of 40
// and asked of 40.3, beside the same of an arc of 40.3.
func TestShould(t *testing.T) {
	n := 0
	for i := range check.Ways {
		w := &check.Ways[i]
		if w.Says == nil {
			continue
		}
		n++
		side := check.Inside
		if w.Only != nil {
			side = *w.Only
		}
		now, then := measured(40)[w.Name], measured(40.3)[w.Name]
		got, ok := w.Should(of(now), side, 40.3)
		if !ok || math.Abs(got-then[w.Aim]) > 1e-6 {
			t.Errorf("%s: %s should have been %v (%v), want %v", w.Name, w.Aim, got, ok, then[w.Aim])
		}
	}
	if n != 6 {
		t.Errorf("%d ways are said at the machine, want the design's six", n)
	}
	// A chord longer than the diameter has no sagitta.
	if v, ok := wayNamed(t, "chord").Should(of(map[string]float64{"chord": 90, "sagitta": 20}), check.Inside, 40); ok {
		t.Errorf("a chord of 90 on a radius of 40 should have a sagitta of %v, want none", v)
	}
}

// How far the hole's middle lies off counts whole, for the wall is taken at one place: a wall to ±0.02 and a middle to ±0.05 make
// √(0.02² + 0.05²)/√3 together (JCGM 100:2008, 4.3.7, from memory).
func TestFromHoleOffCentre(t *testing.T) {
	a := must(t)(check.FromHole(to(12, 0.02), check.Figure{V: 60, Stated: true}, exact(0.05)))
	near(t, "radius", a.Radius.V, 42, 1e-12)
	near(t, "U", a.Radius.Value().U, 1.959963985*math.Hypot(0.02, 0.05)/math.Sqrt(3), 1e-9)
	near(t, "farthest", a.Farthest, 0.07, 1e-12)
}
