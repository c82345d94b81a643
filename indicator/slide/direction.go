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
