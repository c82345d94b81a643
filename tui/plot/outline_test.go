package plot

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

// quarter is a quarter of a disc about the origin, 40 across, with a slot in it.
func quarter() []Piece {
	return []Piece{
		{Element: geom.Straight(geom.Point{}, geom.Point{X: 40}), N: 1},
		{Element: geom.ArcOf(geom.Point{}, 40, 0, math.Pi/2), N: 2, Chosen: true},
		{Element: geom.Straight(geom.Point{Y: 40}, geom.Point{}), N: 3},
		{Element: geom.ArcOf(geom.Point{X: 15, Y: 15}, 6, 1, 2*math.Pi), N: 4, Done: true},
	}
}

// The chosen number is there at every size at which there is a picture, the others where there is room.
func TestOutline(t *testing.T) {
	axis, path := geom.Point{}, geom.ArcOf(geom.Point{}, 43, 0, math.Pi/2)
	p := Plan{Pieces: quarter(), Axis: &axis, Path: &path}
	for _, plain := range []bool{false, true} {
		for w := range 120 {
			for _, h := range []int{0, 1, 5, 6, 7, 12, 20, 40} {
				got := Outline(p, w, h, colourless(plain))
				if (got == "") != (w < leastPlanWidth || h < leastPlanHeight) {
					t.Errorf("%d×%d plain %v: drawn %v", w, h, plain, got != "")
				}
				if got != "" && !strings.Contains(got, "2") {
					t.Errorf("%d×%d plain %v: the chosen number is missing\n%s", w, h, plain, got)
				}
			}
		}
		for _, n := range []string{"1", "2", "3", "4"} {
			if got := Outline(p, 60, 24, colourless(plain)); !strings.Contains(got, n) {
				t.Errorf("plain %v: number %s is missing\n%s", plain, n, got)
			}
		}
	}
	if got := Outline(Plan{}, 60, 24, colourless(false)); got != "" {
		t.Errorf("an outline of nothing is drawn: %q", got)
	}
}
