package practice

import (
	"math"

	"example.org/trammel/geom"
)

// roughTurns is how far the hand winds in search of the needle before it gives up.
const roughTurns = 6

// roughWinds are the winds of a rough stage: the offset slide twice, x and y.
const roughWinds = 4

// rough brings the needle onto the dial all the way round, where it was off at most stations: a rough
// stage by eye, with nothing computed (common practice, no source). Facing the far side along +X the
// offset slide is wound until the needle shows zero; facing the other way, x until it shows zero again,
// and half of that back, counted on the collar from where the needle stirs and the play is out. The
// offset slide is wound to zero once more, so that the radius is about right, and y to zero.
//
// It leaves the clamps open and each slide's play where it is: load the slides afterwards.
func (m *Machine) rough() error {
	x, y, act := m.names()[1], m.names()[2], 1.0
	if m.world.Table.Turned { // the slide carries the wall, where it carried the tip
		act = -1
	}
	for _, name := range m.names() {
		if err := m.unlockSlide(name); err != nil {
			return err
		}
	}
	m.look(0)
	if err := m.toZero("offset", 1); err != nil {
		return err
	}
	m.look(180 * geom.Degree)
	if err := m.halfway(x, -act); err != nil {
		return err
	}
	m.look(0)
	if err := m.toZero("offset", 1); err != nil {
		return err
	}
	m.look(90 * geom.Degree)
	return m.toZero(y, act)
}

// toZero winds a slide under the eye until the needle shows zero. act is + where the needle of a bore
// rises as the slide's coordinate grows: the head is carried towards the side that the tip faces.
func (m *Machine) toZero(name string, act float64) error {
	s, err := m.screw(name)
	if err != nil {
		return err
	}
	if !m.world.Bore {
		act = -act
	}
	height := func(n Needle) float64 { // of the needle over zero
		switch n.Off {
		case Pressed:
			return math.Inf(1)
		case Free:
			return math.Inf(-1)
		}
		return n.Reading
	}
	up := height(m.Dial()) < 0
	grow := up == (act > 0)
	return m.watch(name, grow == s.ClockwiseIncreases, roughTurns, func(n Needle) bool { return (height(n) >= 0) == up || height(n) == 0 })
}

// halfway winds a slide until the needle shows zero, and half of that way back. How far that is the
// collar says; the needle tells where the play is out.
func (m *Machine) halfway(name string, act float64) error {
	begin, err := m.collar(name)
	if err != nil {
		return err
	}
	if err := m.toZero(name, act); err != nil {
		return err
	}
	end, _ := m.collar(name)
	back := end < begin // clockwise
	still := m.Dial().Reading
	stirs := func(n Needle) bool { return n.Off != "" || math.Abs(n.Reading-still) > 0.02 }
	if err := m.watch(name, back, roughTurns, stirs); err != nil {
		return err
	}
	return m.Turn(name, Move{Clockwise: back, Divisions: math.Abs(end-begin) / 2})
}
