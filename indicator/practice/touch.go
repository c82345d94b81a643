package practice

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Readout is what a World has where the spindle, with an edge finder in it, is moved by X and Y over the work and
// touches the circle, and both slides have a readout. The zero value is none.
type Readout struct {
	On           bool
	Step         float64 // it shows multiples of this, mm
	ZeroX, ZeroY float64 // what it shows where the spindle stood first, mm
	Guess        float64 // how far the middle that the hand aims from may be beside the true one, mm
}

// Readouts returns what the readouts of X and Y show, mm.
func (m *Machine) Readouts() geom.Point {
	at := m.carried()
	return geom.Point{X: m.shows(m.world.Readout.ZeroX + at.X), Y: m.shows(m.world.Readout.ZeroY + at.Y)}
}

func (m *Machine) shows(v float64) float64 {
	if step := m.world.Readout.Step; step > 0 {
		v = float64(math.Round(v/step) * step)
	}
	return math.Round(v*1e9)/1e9 + 0
}

// Touch moves the spindle from the middle, as far as the hand knows it, along bearing b until the tip touches a
// bore's wall, or from outside inwards to a boss, and leaves it there. The finder stirs a little early or late.
// It is false where that line misses the circle.
func (m *Machine) Touch(b geom.Bearing) bool {
	w := &m.world
	if m.guess == nil {
		g := scaled(geom.Bearing(2*math.Pi*m.hand.Float64()).Unit(), w.Readout.Guess*math.Sqrt(m.hand.Float64()))
		m.guess = &g
	}
	way := (b + geom.Bearing(w.AngleNoise*m.angle.NormFloat64())).Unit()
	from, press, clear := *m.guess, way, w.ReferenceRadius-w.TipDiameter/2
	if !w.Bore {
		press, clear = scaled(way, -1), w.ReferenceRadius+w.TipDiameter/2
		from = from.Add(scaled(way, 2*clear))
	}
	out, met := m.touches(from, press, clear)
	if !met {
		return false
	}
	at := m.centre().Add(from).Add(scaled(press, out+m.touch()))
	m.x.place(at.X)
	m.y.place(at.Y)
	return true
}

// touchFor answers the point that is asked for.
func (m *Machine) touchFor(p session.Prompt) session.Command {
	if !m.Touch(p.Reading.Bearing) {
		return session.Skip{}
	}
	return session.TouchPoint{At: m.Readouts()}
}

// zero sets the readout of X or Y to 0 where it stands.
func (m *Machine) zero(name string) {
	switch r, at := &m.world.Readout, m.carried(); name {
	case "x":
		r.ZeroX = -at.X
	case "y":
		r.ZeroY = -at.Y
	case "table_x":
		r.ZeroX = -m.x.stands()
	default:
		r.ZeroY = -m.y.stands()
	}
}

// readout is what the readout of one slide shows, mm: of a slide on a table along itself, however it stands.
func (m *Machine) readout(name string) float64 {
	switch name {
	case "x":
		return m.Readouts().X
	case "y":
		return m.Readouts().Y
	case "table_x":
		return m.shows(m.world.Readout.ZeroX + m.x.stands())
	}
	return m.shows(m.world.Readout.ZeroY + m.y.stands())
}

// goTo winds a slide to the coordinate that is told: the movements but the last as told, and the last one up to
// where the readout shows it. By the collar alone, all of them are wound by it. Either way the hand says what the readout shows.
func (m *Machine) goTo(p session.Prompt) (session.Command, error) {
	name, hand := p.Wind.Told.Wind.Slide, moves(p.Wind.Moves)
	s, err := m.screw(name)
	if err != nil {
		return nil, err
	}
	if p.Wind.Zero {
		m.zero(name)
	}
	last := len(hand) - 1
	if m.Hand == Collar || p.Wind.Slide.ByCollar || last < 0 {
		last = len(hand)
	}
	if err := m.unlockSlide(name); err != nil {
		return nil, err
	}
	if err := m.Turn(name, hand[:last]...); err != nil {
		return nil, err
	}
	shown := func() float64 { return m.readout(name) }
	if last < len(hand) {
		step := s.way(hand[last].Clockwise) * s.TravelPerTurn / s.Divisions / 10
		for n := 0; n < mostTurns*int(s.Divisions) && (shown()-p.Wind.Goal)*step < 0; n++ {
			s.carry(s.collar + step)
		}
	}
	return session.Take{Reading: shown()}, m.lockSlide(name)
}
