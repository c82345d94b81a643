package practice

import (
	"errors"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// maxSteps bounds a session that is played through; an honest one takes a few dozen.
const maxSteps = 1000

// ErrEndless: the session asked for more than any setting takes.
var ErrEndless = errors.New("the session did not end within 1000 steps")

// Do carries out with the simulated hands what the session waits for, and returns the command
// that answers it; ok is false when nothing is left to do.
func (m *Machine) Do(p session.Prompt) (c session.Command, ok bool, err error) {
	switch p.Waits {
	case session.ForLoad:
		return session.Confirm{}, true, m.Turn(p.Slide.Name, moves(p.Moves)...)
	case session.ForWind:
		return session.Confirm{}, true, m.Turn(p.Told.Wind.Slide, moves(p.Moves)...)
	case session.ForReading:
		return m.Read(p), true, nil
	case session.ForAccept:
		return session.Accept{}, true, nil
	case session.ForAgain, session.ForDrift:
		return session.Again{}, true, nil
	case session.ForNothing:
	}
	return nil, false, nil
}

// Read swings to the station that is asked for and reads the dial.
func (m *Machine) Read(p session.Prompt) session.Command {
	m.Swing(p.Bearing)
	switch n := m.Dial(); n.Off {
	case Pressed:
		return session.SkipStation{Off: session.Pressed}
	case Free:
		return session.SkipStation{Off: session.Free}
	default:
		return session.TakeReading{Reading: n.Reading}
	}
}

// Play carries a session through to its end. each sees every step; now stamps them.
func (m *Machine) Play(l *session.Live, now func() time.Time, each func(session.Step)) error {
	for range maxSteps {
		s := l.State()
		c, ok, err := m.Do(s.Prompt())
		if err != nil || !ok {
			return err
		}
		steps, err := l.Do(c, now())
		for _, st := range steps {
			each(st)
		}
		if err != nil {
			return err
		}
	}
	return ErrEndless
}

func moves(told []slide.Move) []Move {
	out := make([]Move, len(told))
	for i, m := range told {
		out[i] = Move{Clockwise: m.Turn == slide.Clockwise, Turns: m.Turns, Divisions: m.Divisions}
	}
	return out
}
