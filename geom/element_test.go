package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
)

// tiny is what rounding may make of lengths of up to a metre, millimetres.
const tiny = 1e-9

func drawPoint(t *rapid.T, label string) geom.Point {
	return geom.Point{X: rapid.Float64Range(-500, 500).Draw(t, label+" x"), Y: rapid.Float64Range(-500, 500).Draw(t, label+" y")}
}

// The bulge is the tangent of a quarter of the included angle (DXF reference, group code 42 of
// LWPOLYLINE); a semicircle has bulge 1.
func TestBulgedIsWhatTheDrawingSays(t *testing.T) {
	e := geom.Bulged(geom.Point{X: 1}, geom.Point{X: -1}, 1)
	if got := e.At(0.5); math.Abs(got.X) > tiny || math.Abs(got.Y-1) > tiny {
		t.Errorf("half-way along the upper half circle = %v, want (0, 1)", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPoint(t, "a"), drawPoint(t, "b")
		bulge := rapid.Float64Range(-20, 20).Filter(func(x float64) bool { return math.Abs(x) > 1e-3 }).Draw(t, "bulge")
		chord := b.Sub(a)
		if chord.Norm() < 1 {
			return // too short a chord for its bow to be told
		}
		e := geom.Bulged(a, b, bulge)
		// The bow's height over the chord is bulge times half the chord, to the right of the run for +.
		right := geom.Point{X: chord.Y, Y: -chord.X}.Times(bulge / 2)
		want := a.Add(chord.Times(0.5)).Add(right)
		if off := e.At(0.5).Sub(want).Norm(); off > 1e-9*(1+e.Radius) {
			t.Fatalf("middle of the bow off by %g", off)
		}
		if off := e.At(1).Sub(e.Centre.Along(e.From()+e.Turn, e.Radius)).Norm(); off > 1e-9*(1+e.Radius) {
			t.Fatalf("end of the bow off by %g", off)
		}
	})
}

func TestSpanRunsCounterClockwise(t *testing.T) {
	for _, c := range []struct {
		from, turn, lo, hi float64
	}{{30, 60, 30, 90}, {90, -60, 30, 90}, {350, 20, 350, 370}, {10, -20, 350, 370}, {77, 360, 0, 360}, {77, -360, 0, 360}} {
		e := geom.ArcOf(geom.Point{X: 3, Y: 4}, 10, geom.FromDegrees(c.from), geom.FromDegrees(c.turn))
		lo, hi := e.Span()
		if math.Abs(lo.Degrees()-c.lo) > tiny || math.Abs(hi.Degrees()-c.hi) > tiny {
			t.Errorf("from %v° by %v°: span %v° to %v°, want %v° to %v°", c.from, c.turn, lo.Degrees(), hi.Degrees(), c.lo, c.hi)
		}
	}
}

// slot is a straight slot: two straights and two half circles, 40 between the centres and 20 wide.
func slot(at geom.Point) geom.Chain {
	right, left := at.Add(geom.Point{X: 20}), at.Add(geom.Point{X: -20})
	a := geom.ArcOf(right, 10, -90*geom.Degree, 180*geom.Degree)
	b := geom.ArcOf(left, 10, 90*geom.Degree, 180*geom.Degree)
	return geom.Chain{a, geom.Straight(a.End, b.Start), b, geom.Straight(b.End, a.Start)}
}

func TestAreaAndInsideOfASlot(t *testing.T) {
	at := geom.Point{X: 1e4, Y: -1e4}
	want := 40*20 + math.Pi*100
	if got := slot(at).Area(); math.Abs(got-want) > 1e-8 {
		t.Errorf("area %v, want %v", got, want)
	}
	if got := slot(at).Reversed().Area(); math.Abs(got+want) > 1e-8 {
		t.Errorf("area the other way %v, want %v", got, -want)
	}
	rapid.Check(t, func(t *rapid.T) {
		p := geom.Point{X: rapid.Float64Range(-40, 40).Draw(t, "x"), Y: rapid.Float64Range(-20, 20).Draw(t, "y")}
		axis := geom.Point{X: math.Max(-20, math.Min(20, p.X))}
		away := p.Sub(axis).Norm() - 10
		if math.Abs(away) < 1e-6 {
			return // on the outline either is right
		}
		chain := slot(at)
		if rapid.Bool().Draw(t, "reversed") {
			chain = chain.Reversed()
		}
		if got := chain.Holds(at.Add(p)); got != (away < 0) {
			t.Fatalf("%v inside %v, %g mm from the outline", p, got, away)
		}
		nearest := math.Inf(1)
		for _, e := range chain {
			d, part := e.Distance(at.Add(p))
			if off := math.Abs(e.At(part).Sub(at.Add(p)).Norm() - d); off > tiny {
				t.Fatalf("distance %v and the place told at %v differ by %g", d, part, off)
			}
			nearest = math.Min(nearest, d)
		}
		if math.Abs(nearest-math.Abs(away)) > tiny {
			t.Fatalf("%v lies %v from the outline, want %v", p, nearest, math.Abs(away))
		}
	})
}

// A bite out of a square is outside it, whichever way the outline is run through.
func TestInsideBesideAHollow(t *testing.T) {
	corner := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	bite := geom.ArcOf(corner(10, 0), 6, 180*geom.Degree, -180*geom.Degree)
	c := geom.Chain{geom.Straight(corner(0, 0), bite.Start), bite, geom.Straight(bite.End, corner(20, 0)),
		geom.Straight(corner(20, 0), corner(20, 20)), geom.Straight(corner(20, 20), corner(0, 20)),
		geom.Straight(corner(0, 20), corner(0, 0))}
	if want := 400 - math.Pi*18; math.Abs(c.Area()-want) > tiny {
		t.Errorf("area %v, want %v", c.Area(), want)
	}
	for _, chain := range []geom.Chain{c, c.Reversed()} {
		for p, want := range map[geom.Point]bool{corner(10, 5): false, corner(10, 7): true, corner(14.5, 1): false, corner(17, 1): true,
			corner(10, -1): false} {
			if got := chain.Holds(p); got != want {
				t.Errorf("%v inside: %v, want %v", p, got, want)
			}
		}
	}
}

func TestMeetTellsGapAndKink(t *testing.T) {
	c := slot(geom.Point{})
	for i := range c {
		if m := geom.Meet(c[i], c[(i+1)%len(c)]); m.Gap > tiny || math.Abs(float64(m.Kink)) > tiny {
			t.Errorf("element %d: gap %v, kink %v°, want tangent", i, m.Gap, m.Kink.Degrees())
		}
	}
	m := geom.Meet(geom.Straight(geom.Point{}, geom.Point{X: 10}), geom.Straight(geom.Point{X: 10, Y: 0.5}, geom.Point{X: 10, Y: 9}))
	if m.Gap != 0.5 || math.Abs(m.Kink.Degrees()-90) > tiny {
		t.Errorf("gap %v, kink %v°, want 0.5 and 90° to the left", m.Gap, m.Kink.Degrees())
	}
}

// A circular segment's area is r²(θ − sin θ)/2 (any handbook of geometry; here from memory).
func TestAreaOfASegment(t *testing.T) {
	for _, turn := range []float64{60, 200, 359, -60} {
		arc := geom.ArcOf(geom.Point{X: 7}, 10, 20*geom.Degree, geom.FromDegrees(turn))
		rad := turn * math.Pi / 180
		want := 50 * (rad - math.Sin(rad))
		if got := (geom.Chain{arc, geom.Straight(arc.End, arc.Start)}).Area(); math.Abs(got-want) > 1e-9 {
			t.Errorf("segment of %v°: area %v, want %v", turn, got, want)
		}
	}
}

// An arc's window ends where its circle is farthest out, as far as the arc has that place; by hand.
func TestBounds(t *testing.T) {
	at, root3 := geom.Point{X: 1, Y: 2}, math.Sqrt(3)
	for _, c := range []struct {
		name   string
		e      geom.Element
		lo, hi geom.Point
	}{
		{"straight", geom.Straight(geom.Point{X: 3, Y: -1}, geom.Point{X: -2, Y: 5}), geom.Point{X: -2, Y: -1}, geom.Point{X: 3, Y: 5}},
		{"quarter", geom.ArcOf(geom.Point{}, 40, 0, math.Pi/2), geom.Point{}, geom.Point{X: 40, Y: 40}},
		{"circle", geom.ArcOf(at, 6, 1, 2*math.Pi), geom.Point{X: -5, Y: -4}, geom.Point{X: 7, Y: 8}},
		{"circle clockwise", geom.ArcOf(at, 6, 1, -2*math.Pi), geom.Point{X: -5, Y: -4}, geom.Point{X: 7, Y: 8}},
		{"30° to 150°", geom.ArcOf(at, 10, math.Pi/6, 2*math.Pi/3), geom.Point{X: 1 - 5*root3, Y: 7}, geom.Point{X: 1 + 5*root3, Y: 12}},
		{"150° to 30°", geom.ArcOf(at, 10, 5*math.Pi/6, -2*math.Pi/3), geom.Point{X: 1 - 5*root3, Y: 7}, geom.Point{X: 1 + 5*root3, Y: 12}},
		{"330° to 30°", geom.ArcOf(geom.Point{}, 10, -math.Pi/6, math.Pi/3), geom.Point{X: 5 * root3, Y: -5}, geom.Point{X: 10, Y: 5}},
		{"30° to 330°", geom.ArcOf(geom.Point{}, 10, math.Pi/6, 5*math.Pi/3), geom.Point{X: -10, Y: -10}, geom.Point{X: 5 * root3, Y: 10}},
	} {
		lo, hi := c.e.Bounds()
		if lo.Sub(c.lo).Norm() > tiny || hi.Sub(c.hi).Norm() > tiny {
			t.Errorf("%s: %v to %v, want %v to %v", c.name, lo, hi, c.lo, c.hi)
		}
	}
}
