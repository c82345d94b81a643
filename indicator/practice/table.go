package practice

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Table is what a World has where the work rides on a rotary table: the indicator, held in the spindle,
// stands still, and the slides X and Y stand on the table and carry the work over it. The zero value is
// the head that is swung.
//
// A run-out of the table's axis is left out: once a turn it is a centre error, twice a turn an oval
// reference, and both are there already.
type Table struct {
	Turned bool
	// Stands is the bearing at which the spindle stands, seen from the table's axis, rad.
	Stands float64
	// The ring's figures grow as the table turns clockwise, or else counter-clockwise; RingAt is how far
	// the table stands turned counter-clockwise where it is said to show 0, rad. World.RingZero comes on
	// top of that, which nobody knows.
	RingClockwise bool
	RingAt        float64
}

// rotated returns p turned counter-clockwise about the origin.
func rotated(p geom.Point, by float64) geom.Point {
	return scaled(geom.Bearing(by).Unit(), p.X).Add(scaled(geom.Bearing(by+math.Pi/2).Unit(), p.Y))
}

// carried is how far the slides X and Y have gone from where they stood, as an arrow.
func (m *Machine) carried() geom.Point {
	x, y := geom.Point{X: m.x.stands()}, geom.Point{Y: m.y.stands()}
	return rotated(x, m.world.SkewX).Add(rotated(y, m.world.SkewY))
}

// turnTable turns the table by hand until its ring shows a figure, degrees, as nearly as the hand sets an
// angle. A figure that is no number moves nothing.
func (m *Machine) turnTable(ring float64) {
	if math.IsNaN(ring) || math.IsInf(ring, 0) {
		return
	}
	turn := float64(ring * math.Pi / 180)
	if m.world.Table.RingClockwise {
		turn = -turn
	}
	m.table = turn + m.world.Table.RingAt + m.world.RingZero + float64(m.world.AngleNoise*m.angle.NormFloat64())
}

// ring is what the table's ring is said to show where the table stands turned counter-clockwise, degrees.
func (m *Machine) ring(stands float64) float64 {
	figure := (stands - m.world.Table.RingAt) * 180 / math.Pi
	if m.world.Table.RingClockwise {
		figure = -figure
	}
	return figure
}

// look lets the tip face bearing b of the work, by the ring.
func (m *Machine) look(b geom.Bearing) {
	if m.world.Table.Turned {
		m.turnTable(m.ring(m.world.Table.Stands - float64(b)))
		return
	}
	m.Swing(b)
}

// Stand swings the head, or turns the table, to where a session's prompt wants it: a table by what its
// ring is told to show.
func (m *Machine) Stand(p session.Prompt) {
	switch {
	case !p.Position().Set:
	case m.world.Table.Turned:
		m.turnTable(p.Position().Ring)
	case p.Waits == session.ForWind && p.Wind.Told.Park != nil:
		m.Swing(p.Wind.Told.Park.Bearing)
	case p.Waits == session.ForCheck:
		m.Swing(p.Check.Plan.Bearing)
	case p.Waits == session.ForChore:
		m.Swing(p.Chore.Bearing)
	default:
		m.Swing(p.Reading.Bearing)
	}
}
