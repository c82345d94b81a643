package part

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
)

func drawElement(t *rapid.T, label string) geom.Element {
	x := func(what string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, label+" "+what) }
	at := geom.Point{X: x("x", -30, 30), Y: x("y", -30, 30)}
	if rapid.Bool().Draw(t, label+" curved") {
		turn := geom.Bearing(x("turn", 0.1, 2*math.Pi))
		if rapid.Bool().Draw(t, label+" clockwise") {
			turn = -turn
		}
		return geom.ArcOf(at, x("radius", 1, 30), geom.Bearing(x("from", 0, 2*math.Pi)), turn)
	}
	return geom.Straight(at, at.Along(geom.Bearing(x("bearing", 0, 2*math.Pi)), x("length", 1, 40)))
}

// The least distance told is never above, and by no more than the steps' coarseness below, that of two
// rows of places along the elements.
func TestApartAgainstRowsOfPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawElement(t, "a"), drawElement(t, "b")
		got, at := apart(a, b)
		const steps = 200
		least := math.Inf(1)
		for i := range steps + 1 {
			for j := range steps + 1 {
				least = min(least, a.At(float64(i)/steps).Sub(b.At(float64(j)/steps)).Norm())
			}
		}
		coarse := (a.Length() + b.Length()) / (2 * steps)
		if got > least+1e-9 || got < least-coarse {
			t.Fatalf("%v apart, rows of places say %v", got, least)
		}
		if off, _ := b.Distance(at); off > 1e-6 {
			t.Fatalf("place %v lies %v off", at, off)
		}
		if other, _ := apart(b, a); math.Abs(other-got) > 1e-7 {
			t.Fatalf("%v apart one way, %v the other", got, other)
		}
	})
}

// plate is a plate of 120 by 80 with a round hole, for cutters to bite.
func plate() Outline {
	p := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	straight := func(a, b geom.Point) Piece { return Piece{Element: geom.Straight(a, b)} }
	return Outline{Loops: [][]Piece{
		{straight(p(-60, -40), p(60, -40)), straight(p(60, -40), p(60, 40)), straight(p(60, 40), p(-60, 40)),
			straight(p(-60, 40), p(-60, -40))},
		{{Element: geom.ArcOf(p(0, 0), 20, 0, 2*math.Pi)}},
	}}
}

// swept is how deep a cutter swept along a path cuts into the metal behind a surface: at places all
// along the surface, how far one can go into the metal and still be in the cutter's way.
func swept(path, surface geom.Element, hand float64, d float64) float64 {
	const places, steps = 400, 400
	var axes []geom.Point
	for i := range steps + 1 {
		axes = append(axes, path.At(float64(i)/steps))
	}
	deepest := math.Inf(-1)
	for i := range places + 1 {
		part := float64(i) / places
		u := surface.Heading(part).Unit()
		in := geom.Point{X: -u.Y, Y: u.X}.Times(hand)
		for _, p := range axes {
			// Along the inward normal a disc is left where it was entered for the last time.
			off := surface.At(part).Sub(p)
			along, square := off.Dot(in), off.Dot(off)
			if disc := along*along - square + d*d/4; disc >= 0 {
				deepest = max(deepest, math.Sqrt(disc)-along)
			}
		}
	}
	return deepest
}

// Cutters swept along arcs in the hole, outside the plate and across its edges: the told bite is that
// of the swept cutter, sampled. The coarseness of the samples, 0.3 mm along the path, costs the square
// of half of it over the cutter's radius, and steepness does the rest: 0.02 holds it.
func TestBiteAgainstTheSweptCutter(t *testing.T) {
	w := &work{part: &Plan{metal: map[int]Side{}}}
	w.Options, _ = Options{}.check()
	if err := w.read(plate()); err != nil {
		t.Fatal(err)
	}
	w.nest()
	w.indexElements()
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(4, 16).Draw(t, "cutter")
		// About the plate's right edge, x = 60; the axis comes near it or crosses it, far from corners.
		centre := geom.Point{X: rapid.Float64Range(62, 80).Draw(t, "x"), Y: rapid.Float64Range(-8, 8).Draw(t, "y")}
		path := geom.ArcOf(centre, rapid.Float64Range(2, 20).Draw(t, "swing"), geom.Bearing(rapid.Float64Range(0, 6.28).Draw(t, "from")),
			geom.Bearing(rapid.Float64Range(-4, 4).Draw(t, "turn")))
		if math.Abs(float64(path.Turn)) < 0.05 {
			return
		}
		const edge, hole = 1, 4
		got := math.Inf(-1)
		w.bites(hole, path, d, func(b bite) {
			if b.into == edge {
				got = max(got, b.depth)
			}
		})
		want := swept(path, w.elements[edge].Element, float64(w.elements[edge].hand), d)
		if want < 0 {
			if got > 0 {
				t.Fatalf("bites %v, the swept cutter stays clear", got)
			}
			return // beside the surface the sampled depth says nothing of the clearance
		}
		if math.Abs(got-want) > 0.02 {
			t.Fatalf("bites %v, the swept cutter %v", got, want)
		}
	})
}

// Circles of radii 5 and 4 about centres 6 apart cross at x = (36 + 25 − 16)/12 = 3.75: short arcs
// through there, far from the line of centres, touch.
func TestApartWhereCirclesCross(t *testing.T) {
	up := geom.Bearing(math.Acos(3.75 / 5))
	other := geom.Bearing(math.Pi - math.Acos(2.25/4))
	a := geom.ArcOf(geom.Point{}, 5, up-0.2, 0.5)
	b := geom.ArcOf(geom.Point{X: 6}, 4, other-0.3, 0.4)
	d, at := apart(a, b)
	if d > 1e-9 || math.Abs(at.X-3.75) > 1e-9 {
		t.Errorf("%v apart at %v, want crossing at x = 3.75", d, at)
	}
}
