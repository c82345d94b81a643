package practice

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// Hand is how simulated hands wind.
type Hand uint8

const (
	// Parked: with the head parked where it is told, up to the reading that is told, and by the collar
	// where none is.
	Parked Hand = iota
	// Collar: by the collar alone.
	Collar
	// TwoPoint asks no program at all, see setMachine: no session can be played with it.
	TwoPoint
)

var handWords = [...]string{"parked", "collar", "two-point"}

// String is the word of the command line.
func (h Hand) String() string { return handWords[h] }

// ParseHand reads the word of the command line.
func ParseHand(word string) (Hand, error) {
	if i := slices.Index(handWords[:], word); i >= 0 {
		return Hand(i), nil
	}
	return 0, fmt.Errorf("%q, need %s", word, strings.Join(handWords[:], ", "))
}

// maxSteps bounds a session that is played through; an honest one takes a few dozen.
const maxSteps = 1000

// errEndless: the session asked for more than any setting takes.
var errEndless = errors.New("the session did not end within 1000 steps")

// Do carries out with the simulated hands what the session waits for, and returns the command
// that answers it; ok is false when nothing is left to do.
func (m *Machine) Do(p session.Prompt) (c session.Command, ok bool, err error) {
	switch p.Waits {
	case session.ForLoad:
		m.Stand(p)
		return session.Confirm{}, true, m.Turn(p.Load.Slide.Name, moves(p.Load.Moves)...)
	case session.ForWind:
		if p.Wind.How == session.ByTap {
			c, err := m.tapFor(p)
			return c, true, err
		}
		c, err := m.wind(p)
		return c, true, err
	case session.ForReading:
		if p.Reading.Touch {
			return m.touchFor(p), true, nil
		}
		return m.answer(p), true, nil
	case session.ForChore:
		return m.chore(p.Chore), true, nil
	case session.ForAccept:
		return session.Accept{}, true, nil
	case session.ForCheck:
		return m.check(p), true, nil
	case session.ForBack:
		if len(p.Back.Winds) == 0 { // by eye and scale
			return session.Confirm{}, true, m.rough()
		}
		return session.Confirm{}, true, m.back(p.Back)
	case session.ForAgain, session.ForDrift, session.ForSize, session.ForMoved:
		return session.Restart{}, true, nil
	case session.ForNothing:
	}
	return nil, false, nil
}

// wind opens the slide's clamp, winds as told, and clamps it again; the answer is what the needle
// shows then, where the wind was watched.
func (m *Machine) wind(p session.Prompt) (session.Command, error) {
	if p.Wind.How == session.ByCoordinate {
		return m.goTo(p)
	}
	if p.Wind.Reads {
		return m.readCollar(p.Wind.Slide.Name)
	}
	told, name, hand := p.Wind.Told, p.Wind.Told.Wind.Slide, moves(p.Wind.Moves)
	if err := m.unlockSlide(name); err != nil {
		return nil, err
	}
	m.Stand(p)
	if told.Park == nil || m.Hand == Collar {
		if err := m.Turn(name, hand...); err != nil {
			return nil, err
		}
		return session.Confirm{}, m.lockSlide(name)
	}
	if err := m.watched(told, hand); err != nil && !errors.Is(err, errNotReached) {
		return nil, err
	}
	if err := m.lockSlide(name); err != nil {
		return nil, err
	}
	if n := m.Dial(); n.Off == "" {
		return session.Take{Reading: n.Reading}, nil
	}
	return session.Confirm{}, nil
}

// astray is how far the needle goes the wrong way before the hand stops winding, mm.
const astray = 0.15

// watched winds a slide under the needle: past the goal where that is told, and up to it. The eye
// knows which way the needle has to go from where it stands, and the hand stops where it goes the other way.
func (m *Machine) watched(told session.Told, hand []Move) error {
	from, strayed := told.Park.Now, false
	for i, move := range hand {
		to := told.Park.Goal
		if i == 0 && told.Park.Past != nil {
			to = *told.Park.Past
		}
		up := to >= from
		turns := 1.1*(float64(move.Turns)+move.Divisions/m.divisions(told.Wind.Slide)) + 0.6
		stood := m.quiet()
		err := m.watch(told.Wind.Slide, move.Clockwise, turns, func(n Needle) bool {
			if went := n.Reading - stood; n.Off == "" && math.Abs(went) > astray && (went > 0) != up {
				strayed = true
			}
			switch n.Off {
			case Pressed:
				return up
			case Free:
				return !up
			}
			return strayed || n.Reading == to || (n.Reading > to) == up
		})
		if err != nil || strayed {
			return err
		}
		from = to
	}
	return nil
}

// divisions is how many marks a slide's collar has.
func (m *Machine) divisions(name string) float64 {
	if s, err := m.screw(name); err == nil {
		return s.Divisions
	}
	return 1
}

// answer swings to the station that is asked for, or turns the table there, and reads the dial.
func (m *Machine) answer(p session.Prompt) session.Command {
	if !p.Reading.Between { // where the slides that are still to be wound stand open
		m.clampForSweep()
	}
	m.Stand(p)
	switch n := m.Dial(); n.Off {
	case Pressed:
		return session.Skip{Off: session.Pressed}
	case Free:
		return session.Skip{Off: session.Free}
	default:
		if !p.Reading.Again {
			if m.reads++; m.reads == m.misreads {
				n.Reading += misread
			}
		}
		return session.Take{Reading: n.Reading}
	}
}

// misread is by how much hands misread that do so on purpose, mm: ten divisions of a dial of 0.01 mm, a figure of its face.
const misread = 0.1

// Play carries a session through to its end. each sees every step; now stamps them.
func (m *Machine) Play(l *session.Live, now func() time.Time, each func(session.Step)) error {
	do := func(c session.Command) error {
		steps, err := l.Do(c, now())
		for _, st := range steps {
			each(st)
		}
		return err
	}
	for range maxSteps {
		s := l.State()
		p := s.Prompt()
		c, ok, err := m.Do(p)
		if err != nil || !ok {
			return err
		}
		err = do(c)
		if refusal := (*session.Refusal)(nil); p.Waits == session.ForWind && errors.As(err, &refusal) {
			err = m.looksAfter(l, p.Wind.Slide.Name, do)
		}
		if err != nil {
			return err
		}
	}
	return errEndless
}

// looksAfter is what the hands do where a wind's reading is refused: they check the sign of its slide, and where that is as
// stated, the wind stands as it is.
func (m *Machine) looksAfter(l *session.Live, slide string, do func(session.Command) error) error {
	s := l.State()
	c, err := m.Sense(&s, slide)
	if err != nil {
		return err
	}
	if err := do(c); err != nil {
		return err
	}
	if s = l.State(); s.Prompt().Waits == session.ForWind {
		return do(session.Confirm{})
	}
	return nil
}

func moves(told []slide.Move) []Move {
	out := make([]Move, len(told))
	for i, m := range told {
		out[i] = Move{Clockwise: m.Turn == slide.Clockwise, Turns: m.Turns, Divisions: m.Divisions}
	}
	return out
}
