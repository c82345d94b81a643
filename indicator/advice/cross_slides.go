package advice

import (
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Cross is the pair of cross slides that are wound, with their directions as the machine file
// states them and the winds have taught since. They need not be square to each other.
//
// The centre error e = C − A is cured by moving the spindle by +e relative to the work, so the travels
// of the machine's own slides satisfy s₁u₁ + s₂u₂ = e, with u their directions. Slides on a rotary table
// move the work, in the table's frame, and theirs satisfy s₁u₁ + s₂u₂ = −e.
type Cross struct {
	Names [2]string
	// Askew is how far each is turned from its name, radians counter-clockwise, and Doubt the standard
	// uncertainty of that.
	Askew, Doubt [2]float64
	// MissTurn is how far the spindle stands turned from the head's ring because the offset slide's line misses
	// the head axis: asin(h/R). Stations go by the ring, so both slides seem turned back by it.
	MissTurn float64
	// OnTable says that they stand on the table and carry the work.
	OnTable bool
}

// Of is the place of a slide in the pair, −1 for another slide.
func (c *Cross) Of(name string) int { return slices.Index(c.Names[:], name) }

// Unit is the direction in which the coordinate of slide i grows.
func (c *Cross) Unit(i int) geom.Point { return slide.Along(c.Names[i]).Unit(c.Askew[i]) }

// Row returns what the centre error has to be multiplied with to give what slide i has to travel: the
// cross product with the other slide's direction takes the other slide's travel out of the sum.
func (c *Cross) Row(i int) geom.Point {
	u, v := c.Unit(i), c.Unit(1-i)
	det := float64(u.X*v.Y) - float64(u.Y*v.X)
	if c.OnTable {
		det = -det
	}
	return geom.Point{X: v.Y / det, Y: -v.X / det}
}

// Axis is what a slide does to the circle; ok is false for a slide that this setup does not wind.
func (c *Cross) Axis(name string) (a indicator.Axis, ok bool) {
	if i := c.Of(name); i >= 0 {
		return indicator.CrossAxis(c.Unit(i), c.OnTable), true
	}
	return indicator.OffsetAxis, name == "offset"
}

// Aside is what a slide would do to the circle if it moved to its own left, and the doubt of its
// direction, radians: together what a wind may do beside what it is to do.
func (c *Cross) Aside(name string) (a indicator.Axis, doubt float64) {
	i := c.Of(name)
	if i < 0 {
		return a, 0
	}
	u := c.Unit(i)
	return indicator.CrossAxis(geom.Point{X: -u.Y, Y: u.X}, c.OnTable), c.Doubt[i]
}
