package slide

import (
	"math"

	"example.org/trammel/geom"
)

// Which names the slides whose coordinate grows along an X or a Y: of the machine (x, y), or of the
// table that they stand on (table_x, table_y).
type Which uint8

// A slide is along neither, X or Y.
const (
	AlongNothing Which = iota
	AlongX
	AlongY
)

// Along says along what a slide of that name moves.
func Along(name string) Which {
	switch name {
	case "x", "table_x":
		return AlongX
	case "y", "table_y":
		return AlongY
	}
	return AlongNothing
}

// Rides reports whether a slide of that name stands on the rotary table and turns with it.
func Rides(name string) bool { return name == "table_x" || name == "table_y" }

// Unit returns the unit vector along which the coordinate grows of a slide that stands askew, radians
// counter-clockwise from what its name says; in the table's frame for one that rides on it. It is zero
// for AlongNothing.
func (w Which) Unit(askew float64) geom.Point {
	s, c := math.Sincos(askew)
	switch w {
	case AlongX:
		return geom.Point{X: c, Y: s}
	case AlongY:
		return geom.Point{X: -s, Y: c}
	case AlongNothing:
	}
	return geom.Point{}
}

// Bearing returns the bearing of the direction that the name says, and Askew is counted from.
func (w Which) Bearing() geom.Bearing {
	if w == AlongY {
		return 90 * geom.Degree
	}
	return 0
}

// everywhere is what a handwheel that can be reached at any table angle leaves of the round.
const everywhere = 2*math.Pi - 1e-9

// Reached reports whether a slide's handwheel can be reached with the table turned counter-clockwise by t.
func (s Slide) Reached(t geom.Bearing) bool {
	from, to, some := s.within()
	return !some || float64((t-from).Normalized()) <= float64(to-from)+1e-9 || float64((from-t).Normalized()) <= 1e-9
}

// within returns between which table angles the handwheel can be reached; some is false for anywhere.
func (s Slide) within() (from, to geom.Bearing, some bool) {
	from, to = s.ReachedFrom, s.ReachedTo
	return from, to, (from != 0 || to != 0) && to > from && float64(to-from) < everywhere
}

// ReachedAt returns the table angle to wind a slide at where nothing else decides: the middle of those at
// which its handwheel can be reached, at a mark of the given step where there is room for one. ok is
// false where any will do.
func (s Slide) ReachedAt(step geom.Bearing) (t geom.Bearing, ok bool) {
	from, to, some := s.within()
	if !some {
		return 0, false
	}
	t = (from + to) / 2
	if mark := step * geom.Bearing(math.Round(float64(t/step))); step > 0 && mark >= from && mark <= to {
		t = mark
	}
	return t.Normalized(), true
}

// Mark is a ring's figure as it is set with a vernier: the mark of the ring, degrees, and the minutes of
// arc on the vernier beyond it.
type Mark struct {
	Degrees float64 `json:"degrees"`
	Minutes float64 `json:"minutes"`
}

// Mark spells what the ring shows (degrees) as it is set with its vernier, to the nearest of the
// vernier's lines. ok is false for a ring without one.
func (r Ring) Mark(shows float64) (m Mark, ok bool) {
	g, v := geom.Bearing(r.Graduation).Degrees(), geom.Bearing(r.Vernier).Degrees()
	if !(g > 0) || !(v > 0) || !(v < g) {
		return m, false
	}
	n := math.Round(g / v) // lines to a mark: a third of a degree is written with as many digits as one likes
	lines := math.Round(shows / g * n)
	marks := math.Floor(lines / n)
	m = Mark{Degrees: tidy(math.Mod(marks*g, 360)), Minutes: tidy((lines - marks*n) * g / n * 60)}
	return m, true
}

// tidy takes away what the conversion of degrees has left behind the ninth place.
func tidy(x float64) float64 { return math.Round(x*1e9) / 1e9 }
