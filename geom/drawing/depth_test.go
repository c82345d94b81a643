package drawing_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"example.org/trammel/geom/drawing"
)

// An outline written by hand says how deep each of its elements is cut, in its own unit, and how: the step and the spring pass.
func TestDepthOfOutline(t *testing.T) {
	const head = "unit = \"in\"\nlayer = \"a\"\n"
	for _, c := range []struct {
		text, why string
		depth     float64 // millimetres; 1 in is 25.4 mm by definition
	}{
		{"[[circle]]\ncentre=[0,0]\nradius=5\ndepth=0.5\n", "", 12.7},
		{"[[circle]]\ncentre=[0,0]\nradius=5\n", "", 0},
		{"[[slot]]\ncentre=[0,0]\nradius=3\nwidth=1\nfrom=20\nto=70\ndepth=1\n", "", 25.4},
		{"[[arc]]\ncentre=[0,0]\nradius=3\nfrom=20\nto=70\ndepth=1\n", "", 25.4},
		{"[[line]]\nfrom=[0,0]\nto=[1,1]\ndepth=1\n", "", 25.4},
		{"[[path]]\nclosed=true\ndepth=0.25\nsteps=[{at=[0,0]},{at=[9,0]},{at=[9,9]}]\n", "", 6.35},
		{"[[circle]]\ncentre=[0,0]\nradius=5\ndepth=0\n", "line 3: circle 1, depth: 0, need a length above 0", 0},
		{"[[path]]\nsteps=[{at=[0,0]},{at=[9,0]}]\ndepth=-1\n", "line 3: path 1, depth: -1, need a length above 0", 0},
		{"[[circle]]\ncentre=[0,0]\nradius=5\ndepth=nan\n", "line 3: circle 1, depth: NaN, need a length above 0", 0},
	} {
		out, err := drawing.ReadTOML([]byte(head+c.text), drawing.Options{})
		if c.why != "" {
			if err == nil || err.Error() != c.why {
				t.Errorf("%s: %v, want %s", c.text, err, c.why)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		for _, p := range append(out.Loops, out.Open...) {
			for _, s := range p.From {
				if d := s.Depth - c.depth; d > 1e-9 || d < -1e-9 {
					t.Errorf("%s: depth %v mm, want %v mm", c.text, s.Depth, c.depth)
				}
			}
		}
	}
	for _, bad := range []string{"step = 0\n", "step = -2.0\n"} {
		if _, err := drawing.ReadTOML([]byte(bad+head+"[[circle]]\ncentre=[0,0]\nradius=5\n"), drawing.Options{}); err == nil ||
			!strings.HasPrefix(err.Error(), "line 1: step: ") {
			t.Errorf("%s: %v, want it refused by its line", bad, err)
		}
	}
}

// What is drawn twice has one depth.
func TestDepthDrawnTwice(t *testing.T) {
	circle := "[[circle]]\ncentre=[0,0]\nradius=5\n"
	const head = "unit = \"mm\"\nlayer = \"a\"\n"
	out, err := drawing.ReadTOML([]byte(head+circle+circle+"depth=2\n"), drawing.Options{})
	if err != nil || len(out.Loops) != 1 || out.Loops[0].From[0].Depth != 2 || out.Loops[0].From[0].DepthSays != 6 {
		t.Errorf("%v %+v, want the circle once with the depth that line 6 draws", err, out.Loops)
	}
	var two *drawing.DepthsError
	_, err = drawing.ReadTOML([]byte(head+circle+"depth=3\n"+circle+"depth=2\n"), drawing.Options{})
	if !errors.As(err, &two) || two.Line != 7 || two.Other != 3 || two.Hint() == "" {
		t.Errorf("%v, want the two depths of lines 3 and 7 refused", err)
	}
}

// The plate of two levels says both, its step and its spring pass.
func TestTwoLevels(t *testing.T) {
	text, err := os.ReadFile("../../testdata/drawing/tensioner-two-levels.toml")
	if err != nil {
		t.Fatal(err)
	}
	out, err := drawing.ReadTOML(text, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if out.Step != 2.5 || out.StepLine != 5 || !out.Spring {
		t.Errorf("step %v on line %d, spring pass %v; want 2.5, 5, true", out.Step, out.StepLine, out.Spring)
	}
	want := map[string]float64{"rim": 10, "slot": 10, "boss": 4, "bore": 10}
	for _, p := range out.Loops {
		for _, s := range p.From {
			if s.Depth != want[s.Layer] {
				t.Errorf("%s: depth %v, want %v", s.Layer, s.Depth, want[s.Layer])
			}
		}
	}
	if len(out.Loops) != 4 || len(out.Open) != 0 {
		t.Errorf("%d loops and %d open, want 4 and 0", len(out.Loops), len(out.Open))
	}
}

// What may be cut so deep is bounded in millimetres, whatever the outline is in: 0.001 mm to 10 m, which are 0.00003937 in and
// 393.7 in (1 in is 25.4 mm by definition).
func TestDepthsBoundsInBothUnits(t *testing.T) {
	for _, c := range []struct {
		unit, depth string
		fits        bool
	}{
		{"mm", "0.001", true}, {"mm", "0.00099", false}, {"mm", "10000", true}, {"mm", "10000.1", false},
		{"in", "0.0000394", true}, {"in", "0.0000393", false}, {"in", "393.7", true}, {"in", "393.8", false}, {"in", "0.0005", true},
	} {
		text := "unit = \"" + c.unit + "\"\n[[circle]]\ncentre = [0, 0]\nradius = 5\ndepth = " + c.depth + "\n"
		_, err := drawing.ReadTOML([]byte(text), drawing.Options{})
		if c.fits != (err == nil) || err != nil && !strings.HasPrefix(err.Error(), "line 2: circle 1, depth: ") {
			t.Errorf("a depth of %s %s: %v, want it taken: %v", c.depth, c.unit, err, c.fits)
		}
	}
}

// So is every other length: up to 1e9 mm, which are 39370078.74 in.
func TestLargestLengthsInBothUnits(t *testing.T) {
	for unit, ends := range map[string][2]string{"mm": {"1e9", "1.0001e9"}, "in": {"39370078.7", "39370078.8"}} {
		for i, length := range ends {
			for form, where := range map[string]string{
				"[[circle]]\ncentre = [0, 0]\nradius = %\n":               "circle 1, radius: ",
				"[[circle]]\ncentre = [0, %]\nradius = 5\n":               "circle 1, centre: ",
				"[[line]]\nfrom = [-%, 0]\nto = [1, 1]\n":                 "line 1, from: ",
				"[[path]]\nsteps = [{ at = [0, 0] }, { at = [1, -%] }]\n": "path 1, step 2",
			} {
				_, err := drawing.ReadTOML([]byte("unit = \""+unit+"\"\n"+strings.ReplaceAll(form, "%", length)), drawing.Options{})
				if (err == nil) != (i == 0) || err != nil && !strings.Contains(err.Error(), where) {
					t.Errorf("%s %s in %q: %v, want it taken: %v", length, unit, form, err, i == 0)
				}
			}
		}
	}
}
