package practice

import (
	"math"

	"example.org/trammel/indicator/session"
)

// chore does a step of the order at the machine, as far as a simulated one has it: the head's lock moves
// nothing here but what the dial's next look shows, and an arc is what the swing and the cutter make of it.
func (m *Machine) chore(p session.ChoreAsked) session.Command {
	switch p.Step {
	case session.LockHead:
		if n := m.Dial(); n.Off == "" {
			return session.Take{Reading: n.Reading}
		}
		return session.Skip{}
	case session.Measure, session.CheckArc:
		if r := m.CutArc(); r > 0 {
			return session.Take{Reading: r}
		}
		return session.Skip{}
	default: // nothing of it shows in a simulated machine
		return session.Confirm{}
	}
}

// readCollar reads a collar as it stands, to a tenth of a division.
func (m *Machine) readCollar(name string) (session.Command, error) {
	count, err := m.collar(name)
	if err != nil {
		return nil, err
	}
	tenths, turn := math.Round(10*count), 10*m.divisions(name)
	return session.ReadCollar{Read: session.Read{Slide: name, Figure: (tenths - turn*math.Floor(tenths/turn)) / 10}}, nil
}

// CutArc is the radius that the arc has when it is cut as the slides stand, read to a hundredth of a millimetre; 0 where
// there is no cutter.
func (m *Machine) CutArc() float64 {
	if m.cutter == 0 {
		return 0
	}
	return math.Round(100*(m.Truth().Swing-m.cutter/2)) / 100
}

// Cutter puts a cutter into the simulated spindle: + where the metal lies inside the arc, − outside, millimetres of
// its true diameter.
func (m *Machine) Cutter(diameter float64) { m.cutter = diameter }
