package setup_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// A ring figured anticlockwise from above grows with the bearing, one figured clockwise against
// it.
func TestRingShows(t *testing.T) {
	for _, c := range []struct {
		zero, bearing, anticlockwise, clockwise float64
	}{
		{0, 0, 0, 0},
		{0, 90, 90, 270},
		{0, 350, 350, 10},
		{90, 90, 0, 0},
		// Zero of the ring away from the operator: to the right of it lies 90° clockwise.
		{90, 0, 270, 90},
		{90, 120, 30, 330},
		{-30, 330, 0, 0},
		{-30, 0, 30, 330},
		{200, 20, 180, 180},
		{0, 720, 0, 0},
		{12.5, 12.5 - 1e-12, 0, 0},
	} {
		r := setup.Ring{Zero: geom.FromDegrees(c.zero), Figures: slide.Anticlockwise}
		if got := r.Shows(geom.FromDegrees(c.bearing)); math.Abs(got-c.anticlockwise) > 1e-9 {
			t.Errorf("zero at %v°, figured anticlockwise: shows %v at %v°, want %v", c.zero, got, c.bearing, c.anticlockwise)
		}
		r.Figures = slide.Clockwise
		if got := r.Shows(geom.FromDegrees(c.bearing)); math.Abs(got-c.clockwise) > 1e-9 {
			t.Errorf("zero at %v°, figured clockwise: shows %v at %v°, want %v", c.zero, got, c.bearing, c.clockwise)
		}
	}
}
