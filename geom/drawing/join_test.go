package drawing_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// text writes pairs of group code and value: those of a drawing in millimetres, entities given.
func text(entities ...string) string {
	return "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + strings.Join(entities, "") +
		"0\nENDSEC\n0\nEOF\n"
}

func lineText(layer string, a, b geom.Point) string {
	return fmt.Sprintf("0\nLINE\n8\n%s\n10\n%.17g\n20\n%.17g\n11\n%.17g\n21\n%.17g\n", layer, a.X, a.Y, b.X, b.Y)
}

func arcText(layer string, c geom.Point, radius, from, to float64) string {
	return fmt.Sprintf("0\nARC\n8\n%s\n10\n%.17g\n20\n%.17g\n40\n%.17g\n50\n%.17g\n51\n%.17g\n", layer, c.X, c.Y, radius, from, to)
}

// chords writes a polyline of n chords of an arc, each corner off by at most wobble.
func chords(n int, closed bool, at func(i int) geom.Point) string {
	flag := 0
	if closed {
		flag = 1
	}
	s := fmt.Sprintf("0\nLWPOLYLINE\n8\nrim\n70\n%d\n", flag)
	for i := range n {
		s += fmt.Sprintf("10\n%.17g\n20\n%.17g\n", at(i).X, at(i).Y)
	}
	return s
}

func read(t testing.TB, opt drawing.Options, entities ...string) drawing.Outline {
	t.Helper()
	out, err := drawing.ReadDXF([]byte(text(entities...)), opt)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// notes are the notes in words.
func notes(out drawing.Outline) (s []string) {
	for _, n := range out.Notes {
		s = append(s, n.Format(geom.Millimetre))
	}
	return s
}

func TestJoining(t *testing.T) {
	p := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	square := []string{lineText("a", p(0, 0), p(10, 0)), lineText("a", p(10, 10), p(10, 0)), lineText("a", p(10, 10), p(0, 10)),
		lineText("a", p(0, 10), p(0, 0))}
	var star []string
	for i := range 3000 {
		star = append(star, lineText("a", p(0, 0), p(1, float64(i))))
	}
	for _, c := range []struct {
		name        string
		entities    []string
		opt         drawing.Options
		loops, open int
		notes       []string
	}{
		{"a square whichever way its sides run", square, drawing.Options{}, 1, 0, nil},
		{"a gap is joined and told", append(square[:3:3], lineText("a", p(0, 10.008), p(0, 0))), drawing.Options{}, 1, 0,
			[]string{"ends that miss by 0.0080 mm joined at 0.0000,10.0040 mm"}},
		{"a gap too wide is told", append(square[:3:3], lineText("a", p(0, 10.02), p(0, 0))), drawing.Options{}, 0, 1,
			[]string{"ends that miss by 0.0200 mm at 0.0000,10.0100 mm not joined"}},
		{"unless it is asked for", append(square[:3:3], lineText("a", p(0, 10.02), p(0, 0))), drawing.Options{Gap: 0.05}, 1, 0,
			[]string{"ends that miss by 0.0200 mm joined at 0.0000,10.0100 mm"}},
		{"what is drawn twice is taken once", append(square[:4:4], lineText("a", p(10, 0), p(0, 0)), arcText("b", p(50, 0), 5, 10, 80),
			arcText("b", p(50, 0), 5, 370, 80)), drawing.Options{}, 1, 1,
			[]string{"1 LINE on layer a drawn twice and taken once, the first at 10.0000,0.0000 mm",
				"1 ARC on layer b drawn twice and taken once, the first at 54.9240,0.8682 mm"}},
		{"another layer's end does not disturb", append(square[:4:4], lineText("centre", p(0, 0), p(-5, -5))), drawing.Options{}, 1, 1,
			nil},
		{"three ends of one layer", append(square[:4:4], lineText("a", p(0, 0), p(-5, -5))), drawing.Options{}, 0, 2,
			[]string{"3 ends meet at 0.0000,0.0000 mm; not joined, for it is open which belong together"}},
		{"only the layers asked for", append(square[:4:4], lineText("b", p(0, 0), p(-5, -5))), drawing.Options{Layers: []string{"A"}}, 1, 0,
			nil},
		{"half circles are one circle", []string{arcText("a", p(3, 4), 5, 0, 180), arcText("a", p(3, 4), 5, 180, 360)}, drawing.Options{},
			1, 0,
			[]string{"2 arcs about 3.0000,4.0000 mm taken as one (they differ by 0.0000 mm)"}},
		{"no length", []string{lineText("a", p(1, 1), p(1, 1)), lineText("a", p(1, 1), p(2, 1))}, drawing.Options{}, 0, 1,
			[]string{"1 LINE on layer a without a length left out, the first at 1.0000,1.0000 mm"}},
		{"a heap of ends", star, drawing.Options{}, 0, len(star),
			[]string{"3000 ends meet at 0.0000,0.0000 mm; not joined, for it is open which belong together"}},
	} {
		out := read(t, c.opt, c.entities...)
		open := 0 // what is wanted of them
		for _, p := range out.Open {
			if !p.From[0].Aside {
				open++
			}
		}
		if len(out.Loops) != c.loops || open != c.open || !slices.Equal(notes(out), c.notes) {
			t.Errorf("%s: %d loops, %d open, %q; want %d, %d, %q", c.name, len(out.Loops), open, notes(out), c.loops, c.open, c.notes)
		}
	}
}

// An arc in three parts, begun in the middle, is one arc with the centre it was drawn with.
func TestOneArc(t *testing.T) {
	c := geom.Point{X: 1.1, Y: -2.3}
	out := read(t, drawing.Options{}, arcText("a", c, 36.7, 50, 80), arcText("a", c, 36.7, 20, 50), arcText("a", c, 36.7, 80, 130.5))
	if len(out.Open) != 1 || len(out.Open[0].Chain) != 1 {
		t.Fatalf("%+v, want one arc", out.Open)
	}
	from, to := out.Open[0].Chain[0].Span()
	if e := out.Open[0].Chain[0]; e.Centre != c || e.Radius != 36.7 || math.Abs(from.Degrees()-20) > 1e-9 ||
		math.Abs(to.Degrees()-130.5) > 1e-9 {
		t.Errorf("%+v from %v to %v", e, from.Degrees(), to.Degrees())
	}
}

// An arc that was written as chords is recognised between the straights it runs into, and told; what is
// no arc is left alone.
func TestRecognised(t *testing.T) {
	c := geom.Point{X: 10, Y: 20}
	round := func(n int, sweep float64) func(i int) geom.Point {
		return func(i int) geom.Point { return c.Along(geom.FromDegrees(sweep*float64(i)/float64(n)), 42) }
	}
	// A straight as long as the chords leads in, tangent to the arc at its begin.
	chord := round(400, 90)(1).Sub(round(400, 90)(0)).Norm()
	led := func(i int) geom.Point {
		if i == 0 {
			return geom.Point{X: 52, Y: 20 - chord}
		}
		return round(400, 90)(i - 1)
	}
	out := func(i int) geom.Point {
		if i == 401 {
			return geom.Point{X: 10 - chord, Y: 62}
		}
		return round(400, 90)(i)
	}
	rounded := func(i int) geom.Point {
		p := round(40, 120)(i)
		return geom.Point{X: math.Round(p.X*1e3) / 1e3, Y: math.Round(p.Y*1e3) / 1e3}
	}
	twice := func(i int) geom.Point { return c.Along(geom.FromDegrees(9.7*float64(i)), 42) } // on beyond one round
	spiral := func(i int) geom.Point { return c.Along(geom.FromDegrees(6*float64(i)), 42+2*float64(i)) }
	for _, w := range []struct {
		name     string
		entity   string
		opt      drawing.Options
		elements int
		count    int     // chords told
		near     float64 // of centre and radius
	}{
		{"a quarter", chords(31, false, round(30, 90)), drawing.Options{}, 1, 30, 1e-9},
		{"a circle", chords(72, true, round(72, 360)), drawing.Options{}, 1, 72, 1e-9},
		{"behind a straight as long as a chord", chords(402, false, led), drawing.Options{}, 2, 400, 1e-9},
		{"before a straight as long as a chord", chords(402, false, out), drawing.Options{}, 2, 400, 1e-9},
		{"rounded to three places", chords(41, false, rounded), drawing.Options{}, 1, 40, 2e-3},
		{"unless it is turned off", chords(31, false, round(30, 90)), drawing.Options{Departure: -1}, 30, 0, 0},
		{"round and on", chords(50, false, twice), drawing.Options{}, 2, 49, 1e-9},
		{"no polygon", chords(12, true, round(12, 360)), drawing.Options{}, 12, 0, 0},
		{"too few chords", chords(6, false, round(30, 90)), drawing.Options{}, 5, 0, 0},
		{"no spiral", chords(12, false, spiral), drawing.Options{}, 11, 0, 0},
	} {
		out := read(t, w.opt, w.entity)
		path := slices.Concat(out.Loops, out.Open)[0]
		count := 0
		for _, n := range out.Notes {
			if n.Kind == drawing.Recognised {
				count += n.Count
				if n.Size > drawing.DefaultDeparture {
					t.Errorf("%s: off by %v", w.name, n.Size)
				}
			}
		}
		if len(path.Chain) != w.elements || len(path.From) != w.elements || count != w.count {
			t.Errorf("%s: %d elements, %d chords told, want %d and %d", w.name, len(path.Chain), count, w.elements, w.count)
			continue
		}
		e := path.Chain[0]
		if !e.Curved() {
			e = path.Chain[len(path.Chain)-1]
		}
		if w.count > 0 && (e.Centre.Sub(c).Norm() > w.near || math.Abs(e.Radius-42) > w.near) {
			t.Errorf("%s: centre %v, radius %v", w.name, e.Centre, e.Radius)
		}
	}
}
