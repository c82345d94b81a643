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

// A figure is set by the nearest line of the vernier, 5 minutes of arc on a ring in whole degrees, and what is nearest to a whole
// turn is the ring's 0: no ring has a 360.
func TestMarkOfAVernier(t *testing.T) {
	r := setup.Ring{Graduation: float64(geom.Degree), Vernier: float64(geom.Degree) / 12}
	for _, c := range []struct {
		shows float64
		want  setup.Mark
	}{
		{0, setup.Mark{}}, {12.25, setup.Mark{Degrees: 12, Minutes: 15}}, {12.29, setup.Mark{Degrees: 12, Minutes: 15}},
		{12.3, setup.Mark{Degrees: 12, Minutes: 20}}, {12.97, setup.Mark{Degrees: 13}}, {359.95, setup.Mark{Degrees: 359, Minutes: 55}},
		{359.96, setup.Mark{}}, {359.999, setup.Mark{}},
	} {
		if got, ok := r.Mark(c.shows); !ok || got != c.want {
			t.Errorf("%v°: %+v (%v), want %+v", c.shows, got, ok, c.want)
		}
	}
	for _, r := range []setup.Ring{{}, {Graduation: 1}, {Vernier: 1}, {Graduation: 1, Vernier: 1}} {
		if m, ok := r.Mark(12); ok {
			t.Errorf("%+v reads %+v without a vernier that parts its marks", r, m)
		}
	}
}
