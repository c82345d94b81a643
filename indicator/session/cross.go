package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// cross is the pair of cross slides that the setup winds, with their directions as the machine file
// states them and the winds have taught since. They need not be square to each other.
//
// The centre error e = C − A is cured by moving the spindle by +e relative to the work, so the travels
// of the machine's own slides satisfy s₁u₁ + s₂u₂ = e, with u their directions. Slides on a rotary table
// move the work, in the table's frame, and theirs satisfy s₁u₁ + s₂u₂ = −e.
type cross struct {
	names [2]string
	// askew is how far each is turned from its name, radians counter-clockwise, and doubt the standard
	// uncertainty of that.
	askew, doubt [2]float64
	// missTurn is how far the spindle stands turned from the head's ring because the offset slide's line misses
	// the head axis: asin(h/R). Stations go by the ring, so both slides seem turned back by it.
	missTurn float64
	// onTable says that they stand on the table and carry the work.
	onTable bool
}

func (s *State) cross() cross {
	c := cross{names: [2]string{"x", "y"}}
	if s.Set == nil {
		return c
	}
	if c.onTable = s.Set.Job.Setup.Kind == indicator.Turned; c.onTable {
		c.names = [2]string{"table_x", "table_y"}
	}
	if !c.onTable {
		c.missTurn = s.missTurn()
	}
	if s.Set.Job.Setup.Taps {
		return c // no slide carries the work
	}
	for i, name := range c.names {
		if b, ok := s.Lesson(name); ok {
			c.askew[i], c.doubt[i] = b.Askew()
			c.askew[i] -= c.missTurn
		}
	}
	return c
}

// missTurn is asin(h/R) at the target swing radius; 0 where the machine does not state h, or the job no radius.
func (s *State) missTurn() float64 {
	h, t := s.Set.Machine.Miss, s.Set.Job.Target
	if h == 0 || !t.SweepsSwing() || math.Abs(h) > t.SwingRadius {
		return 0
	}
	return math.Asin(h / t.SwingRadius)
}

// of is the place of a slide in the pair, −1 for another slide.
func (c *cross) of(name string) int {
	for i, n := range c.names {
		if n == name {
			return i
		}
	}
	return -1
}

// unit is the direction in which the coordinate of slide i grows.
func (c *cross) unit(i int) geom.Point { return slide.Along(c.names[i]).Unit(c.askew[i]) }

// row returns what the centre error has to be multiplied with to give what slide i has to travel: the
// cross product with the other slide's direction takes the other slide's travel out of the sum.
func (c *cross) row(i int) geom.Point {
	u, v := c.unit(i), c.unit(1-i)
	det := float64(u.X*v.Y) - float64(u.Y*v.X)
	if c.onTable {
		det = -det
	}
	return geom.Point{X: v.Y / det, Y: -v.X / det}
}

// axis is what a slide does to the circle; ok is false for a slide that this setup does not wind.
func (c *cross) axis(name string) (a indicator.Axis, ok bool) {
	if i := c.of(name); i >= 0 {
		return indicator.CrossAxis(c.unit(i), c.onTable), true
	}
	return indicator.OffsetAxis, name == "offset"
}

// aside is what a slide would do to the circle if it moved to its own left, and the doubt of its
// direction, radians: together what a wind may do beside what it is to do.
func (c *cross) aside(name string) (a indicator.Axis, doubt float64) {
	i := c.of(name)
	if i < 0 {
		return a, 0
	}
	u := c.unit(i)
	return indicator.CrossAxis(geom.Point{X: -u.Y, Y: u.X}, c.onTable), c.doubt[i]
}

// reached reports whether a slide's handwheel can be reached where the reference is met at a bearing.
func (s *State) reached(sl slide.Slide, at geom.Bearing) bool {
	return !s.Rides(sl) || sl.Reached(s.Set.Job.Setup.Stands(at))
}

// Rides reports whether a slide stands on the table that the setup turns.
func (s *State) Rides(sl slide.Slide) bool {
	return s.Set.Job.Setup.Kind == indicator.Turned && slide.Rides(sl.Name)
}

// ReachedAt returns the table angle to load a slide at, or to wind it by its collar; ok is false where
// any will do.
func (s *State) ReachedAt(sl slide.Slide) (t geom.Bearing, ok bool) {
	if !s.Rides(sl) {
		return 0, false
	}
	return sl.ReachedAt(parkStep)
}

// Ring is the graduated ring that stations are set by: the table's where it is turned, else the head's.
func (s *State) Ring() slide.Ring {
	if s.Set.Job.Setup.Kind == indicator.Turned {
		return s.Set.Machine.Table
	}
	return s.Set.Machine.Head
}

// RingAt returns what that ring shows, degrees, where the reference is met at a bearing.
func (s *State) RingAt(b geom.Bearing) float64 {
	if s.Set.Job.Setup.Kind == indicator.Turned {
		return s.Set.Machine.Table.Shows(s.Set.Job.Setup.Stands(b))
	}
	return s.Set.Machine.Head.Shows(b)
}
