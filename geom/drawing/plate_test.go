package drawing_test

import (
	"math"
	"testing"

	"example.org/trammel/geom/drawing"
)

// The plate as a drawing and as a text of corners and blends is the same plate.
func TestPlateTwice(t *testing.T) {
	want := truth(t)["quadrant-plate.dxf"]
	drawn, err := drawing.ReadDXF(bytesOf(t, "quadrant-plate.dxf"), drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	written, err := drawing.ReadTOML(bytesOf(t, "quadrant-plate.toml"), drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	match(t, "drawn", drawn, want.Elements)
	match(t, "written", written, want.Elements)
	for name, out := range map[string]drawing.Outline{"drawn": drawn, "written": written} {
		if len(out.Loops) != 4 || len(out.Open) != 0 {
			t.Errorf("%s: %d loops, %d open, want 4 and 0", name, len(out.Loops), len(out.Open))
		}
		sizes := map[int]int{}
		for _, l := range out.Loops {
			sizes[len(l.Chain)]++
			if !l.Chain.Closed(1e-9) {
				t.Errorf("%s: a loop of %d is open", name, len(l.Chain))
			}
		}
		if sizes[8] != 1 || sizes[4] != 1 || sizes[1] != 2 {
			t.Errorf("%s: loops of %v elements, want 8, 4, 1, 1", name, sizes)
		}
	}
	area := func(o drawing.Outline) (sum float64) {
		for _, l := range o.Loops {
			sum += math.Abs(l.Chain.Area())
		}
		return sum
	}
	if a, b := area(drawn), area(written); math.Abs(a-b) > 1e-8 {
		t.Errorf("area %v drawn, %v written", a, b)
	}
}
