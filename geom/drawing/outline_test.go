package drawing_test

import (
	"errors"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

var badOutlines = []struct{ name, text, want string }{
	{"unit", "unit = \"cm\"", `line 1: unit: "cm", need mm or in`},
	{"key", "unit = \"mm\"\n[[arcs]]\nradius = 3", "line 2: arcs: unknown key"},
	{"letters", "unit = \"mm\"\n[[circle]]\ncentre = [1, 2]\nradius = 3\ndepth = 6\nDepth = 7",
		`line 6: circle.Depth: unknown key "Depth", need depth`},
	{"no depth", "unit = \"mm\"\n[[circle]]\ncentre = [1, 2]\nradius = 3\ndepth = 0.0009",
		"line 2: circle 1, depth: 0.0009, need 0.001 to 10000 mm"},
	{"too deep", "unit = \"mm\"\n[[circle]]\ncentre = [1, 2]\nradius = 3\ndepth = 10001",
		"line 2: circle 1, depth: 10001, need 0.001 to 10000 mm"},
	{"kind", "unit = \"mm\"\n[[arc]]\nradius = \"3\"", `line 3: arc.radius: "radius = \"3\"" is no value that belongs here`},
	{"place", "unit = \"mm\"\n[[circle]]\ncentre = [1]\nradius = 3", "line 2: circle 1, centre: 1 numbers, need two"},
	{"radius", "unit = \"mm\"\n[[circle]]\ncentre = [1, 2]\nradius = -3", "line 2: circle 1, radius: -3, need a length above 0"},
	{"no angle", "unit = \"mm\"\n[[arc]]\ncentre = [1, 2]\nradius = 3\nfrom = 2", "line 2: arc 1: from or to missing, need both"},
	{"line", "unit = \"mm\"\n[[line]]\nfrom = [1, 2]\nto = [1, 2]", "line 2: line 1: a piece has no length, need one that has"},
	{"step", "unit = \"mm\"\n[[path]]\nsteps = [\n {at = [0, 0]},\n {at = [9, 0], radius = 2, turn = \"left\"},\n]",
		"line 5: path 1, step 2, radius: 2, need at least half the distance, 4.5"},
	{"turn", "unit = \"mm\"\n[[path]]\nsteps = [\n {at = [0, 0]},\n {at = [9, 0], radius = 5},\n]",
		"line 5: path 1, step 2: an arc has a turn and a centre or radius, need both"},
	{"centre", "unit = \"mm\"\n[[path]]\nsteps = [\n {at = [0, 0]},\n {at = [9, 0], centre = [4, 0], turn = \"left\"},\n]",
		"line 5: path 1, step 2, centre: the arc's ends are 4 and 5 away from it, need the same (to 0.01 mm)"},
	{"blend", "unit = \"mm\"\n[[path]]\nsteps = [\n {at = [0, 0]},\n {at = [9, 0], blend = 5},\n {at = [9, 4]},\n]",
		"line 5: path 1, step 2, blend: 5 does not fit between its neighbours"},
	{"end", "unit = \"mm\"\n[[path]]\nsteps = [\n {at = [0, 0], blend = 1},\n {at = [9, 0]},\n]",
		"line 2: path 1: a blend at the end of an open path, need an element on either side of it"},
	{"slot", "unit = \"mm\"\n[[slot]]\ncentre = [0, 0]\nradius = 3\nwidth = 7\nfrom = 0\nto = 90",
		"line 2: slot 1, width: half of it is 3.5 mm, need less than the radius of 3 mm"},
	{"ends", "unit = \"mm\"\n[[slot]]\ncentre = [0, 0]\nradius = 30\nwidth = 7\nfrom = 0\nto = 350",
		"line 2: slot 1: the slot's ends run into each other, need room between them"},
	{"nothing", "unit = \"mm\"", "no line, arc or circle was read, need at least one"},
}

func TestBadOutlines(t *testing.T) {
	for _, c := range badOutlines {
		if _, err := drawing.ReadTOML([]byte(c.text), drawing.Options{}); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	var unit *drawing.UnitError
	if _, err := drawing.ReadTOML([]byte("[[circle]]\ncentre = [0, 0]\nradius = 1"), drawing.Options{}); !errors.As(err, &unit) {
		t.Errorf("without a unit: %v", err)
	}
}

// A rectangle of 40 × 20 in with corners rounded by 5: its area by hand is 800 − (4 − π)·25 in².
func TestBlendedRectangle(t *testing.T) {
	out, err := drawing.ReadTOML([]byte(`unit = "in"
[[path]]
closed = true
steps = [{at = [0, 0], blend = 5}, {at = [0, 20], blend = 5}, {at = [40, 20], blend = 5}, {at = [40, 0], blend = 5}]
`), drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Loops) != 1 || len(out.Loops[0].Chain) != 8 {
		t.Fatalf("%+v, want one loop of eight", out)
	}
	if got, want := out.Loops[0].Chain.Area()/(25.4*25.4), -(800 - (4-math.Pi)*25); math.Abs(got-want) > 1e-9 {
		t.Errorf("area %v in², want %v", got, want)
	}
	for i, e := range out.Loops[0].Chain {
		if m := geom.Meet(e, out.Loops[0].Chain[(i+1)%8]); m.Gap > 1e-12 || math.Abs(float64(m.Kink)) > 1e-12 {
			t.Errorf("after element %d: gap %v, kink %v", i, m.Gap, m.Kink)
		}
	}
}

// The three ways to write an arc of a path are the same arc.
func TestArcsOfAPath(t *testing.T) {
	for _, c := range []struct {
		step string
		turn float64
	}{
		{"centre = [4, 3], turn = \"right\"", -2*math.Pi + 2*math.Atan2(4, 3)},
		{"radius = 5, turn = \"right\", long = true", -2*math.Pi + 2*math.Atan2(4, 3)},
		{"radius = 5, turn = \"left\"", 2 * math.Atan2(4, 3)},
		{"centre = [4, 3], turn = \"left\"", 2 * math.Atan2(4, 3)},
		{"bulge = 0.5", 2 * math.Atan2(4, 3)}, // tan(turn/4) = (1 − cos)/sin of half the turn = (1 − 3/5)/(4/5)
	} {
		out, err := drawing.ReadTOML([]byte("unit = \"mm\"\n[[path]]\nsteps = [{at = [0, 0]}, {at = [8, 0], "+c.step+"}]\n"),
			drawing.Options{})
		if err != nil {
			t.Errorf("%s: %v", c.step, err)
			continue
		}
		e := out.Open[0].Chain[0]
		if math.Abs(float64(e.Turn)-c.turn) > 1e-12 || math.Abs(e.Radius-5) > 1e-12 || math.Abs(e.Centre.X-4) > 1e-12 ||
			math.Abs(math.Abs(e.Centre.Y)-3) > 1e-12 {
			t.Errorf("%s: %+v, want radius 5 about (4, ±3), turn %v", c.step, e, c.turn)
		}
	}
}
