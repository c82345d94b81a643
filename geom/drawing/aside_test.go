package drawing_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// What is not wanted is read all the same, marked; of an element on two layers the wanted one stays, and arcs of a
// wanted and an unwanted layer stay two.
func TestAside(t *testing.T) {
	o := geom.Point{}
	out := read(t, drawing.Options{Layers: []string{"B"}},
		arcText("a", o, 5, 0, 360), arcText("b", o, 5, 0, 360), arcText("a", o, 9, 0, 90), arcText("b", o, 9, 90, 180),
		arcText("a", o, 20, 0, 360))
	wanted, aside := 0, 0
	for _, p := range append(out.Loops, out.Open...) {
		for k, s := range p.From {
			if s.Aside != (s.Layer == "a") {
				t.Errorf("%+v: aside %v", p.Chain[k], s.Aside)
			}
			if s.Aside {
				aside++
			} else {
				wanted++
			}
		}
	}
	if wanted != 2 || aside != 2 {
		t.Errorf("%d wanted, %d aside, want 2 and 2: the circle of 5 once, the arcs of 9 apart, the circle of 20", wanted, aside)
	}
	var empty *drawing.EmptyError
	_, err := drawing.ReadTOML([]byte("unit = \"mm\"\nlayer = \"a\"\n[[circle]]\ncentre = [0, 0]\nradius = 5\n"), drawing.Options{})
	if err != nil {
		t.Error(err)
	}
	if _, err = drawing.ReadDXF([]byte(text(arcText("a", o, 5, 0, 360), arcText("b", o, 0, 0, 360))),
		drawing.Options{Layers: []string{"b"}}); !errors.As(err, &empty) {
		t.Errorf("%v, want nothing of layer b", err)
	}
}

// An outline written by hand may say where the metal of what is closed is, and nothing else may.
func TestMetalOfOutline(t *testing.T) {
	const head = "unit = \"mm\"\nlayer = \"a\"\n"
	square := "[[path]]\nclosed = %\nmetal = \"outside\"\nsteps = [{at=[0,0]},{at=[9,0]},{at=[9,9]}]\n"
	for _, c := range []struct {
		text, why string
		metal     drawing.Metal
		slot      bool
	}{
		{"[[circle]]\ncentre=[0,0]\nradius=5\nmetal=\"inside\"\n", "", drawing.MetalInside, false},
		{"[[circle]]\ncentre=[0,0]\nradius=5\n", "", drawing.Unsaid, false},
		{strings.ReplaceAll(square, "%", "true"), "", drawing.MetalOutside, false},
		{"[[slot]]\ncentre=[0,0]\nradius=36\nwidth=8\nfrom=20\nto=70\n", "", drawing.Unsaid, true},
		{"[[slot]]\ncentre=[0,0]\nradius=36\nwidth=8\nfrom=20\nto=70\nmetal=\"outside\"\n", "", drawing.Unsaid, true},
		{"[[slot]]\ncentre=[0,0]\nradius=36\nwidth=8\nfrom=20\nto=70\nmetal=\"inside\"\n", "slot 1, metal: inside, need outside", 0, false},
		{"[[circle]]\ncentre=[0,0]\nradius=5\nmetal=\"left\"\n", `circle 1, metal: "left", need inside or outside`, 0, false},
		{strings.ReplaceAll(square, "%", "false"), `path 1, metal: "outside" of an element that is not closed`, 0, false},
		{"[[line]]\nfrom=[0,0]\nto=[5,0]\nmetal=\"inside\"\n", "unknown key", 0, false},
	} {
		out, err := drawing.ReadTOML([]byte(head+c.text), drawing.Options{})
		if c.why != "" {
			if err == nil || !strings.Contains(err.Error(), c.why) {
				t.Errorf("%s: %v, want %q", c.text, err, c.why)
			}
			continue
		}
		if err != nil || len(out.Loops) != 1 {
			t.Fatalf("%s: %v, %+v", c.text, err, out)
		}
		for _, s := range out.Loops[0].From {
			if s.Metal != c.metal || s.Slot != c.slot {
				t.Errorf("%s: metal %v, slot %v, want %v, %v", c.text, s.Metal, s.Slot, c.metal, c.slot)
			}
		}
	}
}

// Chords of a layer that is not wanted are no part of the arc that those of a wanted one make: what is told of it, its ends and its
// angle, is that of the wanted ones alone. Both are chords of one circle of 40 mm, 3° each.
func TestChordsOfTwoLayers(t *testing.T) {
	at := func(i int) geom.Point { return geom.Point{}.Along(geom.FromDegrees(3*float64(i)), 40) }
	var all []string
	for i := range 20 {
		layer := "mill"
		if i >= 12 {
			layer = "scribe"
		}
		all = append(all, lineText(layer, at(i), at(i+1)))
	}
	out := read(t, drawing.Options{Layers: []string{"mill"}}, all...)
	arcs := 0
	for _, p := range append(out.Loops, out.Open...) {
		for k, e := range p.Chain {
			if !e.Curved() {
				t.Errorf("%+v stays a chord", e)
				continue
			}
			arcs++
			want := 12 * 3.0 // degrees
			if p.From[k].Aside {
				want = 8 * 3
			}
			if off := math.Abs(math.Abs(e.Turn.Degrees()) - want); off > 1e-6 || (p.From[k].Layer == "scribe") != p.From[k].Aside {
				t.Errorf("an arc of %v° on layer %q, aside %v; want %v°", e.Turn.Degrees(), p.From[k].Layer, p.From[k].Aside, want)
			}
		}
	}
	if arcs != 2 {
		t.Errorf("%d arcs, want one of either layer", arcs)
	}
}

// A closed run that loses an element, for that is drawn by itself before, is closed no more by its own corners: it is so by the
// line that was drawn before, and one loop of 10 by 10 mm is left.
func TestLoopWithASideDrawnBefore(t *testing.T) {
	corner := [4]geom.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	square := chords(4, true, func(i int) geom.Point { return corner[i] })
	for side := range corner {
		out := read(t, drawing.Options{}, lineText("rim", corner[side], corner[(side+1)%4]), square)
		if len(out.Loops) != 1 || len(out.Open) != 0 {
			t.Errorf("side %d drawn before: %d loops and %d open, want one loop", side+1, len(out.Loops), len(out.Open))
			continue
		}
		if c := out.Loops[0].Chain; len(c) != 4 || math.Abs(math.Abs(c.Area())-100) > 1e-9 || !c.Closed(1e-9) {
			t.Errorf("side %d drawn before: %d elements round %v mm², want 4 round 100", side+1, len(c), c.Area())
		}
	}
}
