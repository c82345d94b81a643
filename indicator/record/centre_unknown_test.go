package record_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
)

type nowhere struct{ x, y float64 }

func (n nowhere) CentreX() indicator.Value { return indicator.Value{V: n.x} }
func (n nowhere) CentreY() indicator.Value { return indicator.Value{V: n.y} }

// A centre of which a part is not known is none, and no panic.
func TestCentreUnknown(t *testing.T) {
	for _, n := range []nowhere{{math.NaN(), 1}, {1, math.NaN()}} {
		if c := record.CentreOf(geom.Millimetre, n); c != nil {
			t.Errorf("%v: centre %+v, want none", n, c)
		}
	}
	if c := record.CentreOf(geom.Millimetre, nowhere{1, 2}); c == nil || c.Y.Value != 2 {
		t.Errorf("centre %+v, want 1, 2", c)
	}
}
