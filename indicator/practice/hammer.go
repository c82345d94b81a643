package practice

import (
	"errors"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Hammer is what a World has where the work lies loose on the rotary table and is tapped into place: a tap drives it
// by Least to Most of what the hand wants, evenly, and up to Aside to either side of where it aims, rad. The zero
// value is none.
type Hammer struct {
	On                 bool
	Least, Most, Aside float64
}

// errNoHammer: a tap was told on a machine whose work is carried by slides.
var errNoHammer = errors.New("this machine's work rides on slides, which no tap moves")

// tap knocks the work once. The hand stands before the machine: it sees on which side the indicator stands, and
// drives the work towards there or away from there.
func (m *Machine) tap(towards bool, by float64) error {
	h := m.world.Hammer
	if !h.On {
		return errNoHammer
	}
	way := geom.Bearing(m.world.Table.Stands)
	if !towards {
		way += math.Pi
	}
	way += geom.Bearing(h.Aside * (2*m.knock.Float64() - 1))
	far := by * (h.Least + (h.Most-h.Least)*m.knock.Float64())
	m.knocked = m.knocked.Add(rotated(scaled(way.Unit(), far), -m.table))
	return nil
}

// tapFor parks the table, taps as told, and reads the needle.
func (m *Machine) tapFor(p session.Prompt) (session.Command, error) {
	m.Stand(p)
	if err := m.tap(p.Wind.Told.Tap.Towards, p.Wind.Told.Wind.Travel); err != nil {
		return nil, err
	}
	if n := m.Dial(); n.Off == "" {
		return session.Take{Reading: n.Reading}, nil
	}
	return session.Restart{}, nil
}
