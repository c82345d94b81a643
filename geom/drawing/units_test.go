package drawing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// A line of length 1 in each unit that a drawing may name, in millimetres. The inch is 25.4 mm exactly, the foot 12 inches, the
// yard 36 (international yard and pound agreement, 1959; NIST SP 811, appendix B.8, from memory); the others are decimal.
func TestUnitsOfADrawing(t *testing.T) {
	want := map[int]float64{1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 8: 25.4e-6, 9: 0.0254, 10: 914.4, 13: 1e-3, 14: 100}
	line := lineText("a", geom.Point{}, geom.Point{X: 1})
	for code := -1; code <= 24; code++ {
		text := strings.Replace(text(line), "70\n4\n", fmt.Sprintf("70\n%d\n", code), 1)
		o, err := drawing.ReadDXF([]byte(text), drawing.Options{Gap: -1})
		mm, named := want[code]
		if !named {
			if err == nil {
				t.Errorf("unit %d is read, need a refusal", code)
			}
			continue
		}
		if err != nil {
			t.Errorf("unit %d: %v", code, err)
			continue
		}
		if got := o.Open[0].Chain[0].Length(); math.Abs(got-mm) > 1e-12*mm {
			t.Errorf("a line of one unit %d is %v mm long, want %v", code, got, mm)
		}
	}
}

// A layer is off where its colour is below 0; colour 0 is one like any other.
func TestLayerOfColourNought(t *testing.T) {
	for colour, off := range map[int]bool{0: false, 7: false, -7: true} {
		table := fmt.Sprintf("0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\na\n70\n0\n62\n%d\n0\nENDTAB\n0\nENDSEC\n", colour)
		text := strings.Replace(
			text(lineText("a", geom.Point{}, geom.Point{X: 1})),
			"0\nSECTION\n2\nENTITIES\n",
			table+"0\nSECTION\n2\nENTITIES\n",
			1,
		)
		o, err := drawing.ReadDXF([]byte(text), drawing.Options{})
		if err != nil || len(o.Layers) != 1 || o.Layers[0].Off != off {
			t.Errorf("colour %d: layers %+v (%v), want off %v", colour, o.Layers, err, off)
		}
	}
}
