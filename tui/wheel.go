package tui

import (
	"fmt"
	"math"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/pane"
)

// hands are the simulated hands of practice.
type hands interface {
	Do(session.Prompt) (c session.Command, ok bool, err error)
	Sense(s *session.State, slide string) (session.Command, error)
	Raise(by float64)
}

// hands are those of the machine, or where a person winds it, what is left to them; nil without a simulated machine.
func (c *Config) hands() hands {
	switch {
	case c.Wheel != nil:
		return c.Wheel
	case c.Bench != nil:
		return c.Bench
	}
	return nil
}

// faces has head or table set for what is asked, and returns what the dial shows then; nil where no reading is asked for, and
// where a cable indicator shows it.
func (c *Config) faces(p session.Prompt) *practice.Needle {
	switch {
	case c.Wheel != nil:
		c.Wheel.Ask(p)
	case c.Bench != nil && p.Waits == session.ForReading:
		n := readNeedle(c.Bench, p)
		return &n
	}
	return nil
}

// turning is a key that is a hand on the handle, or on the hammer.
type turning struct {
	effort  practice.Effort
	forward bool // clockwise, or towards the indicator
}

var turningKeys = map[string]turning{
	"right": {practice.Touch, true}, "up": {practice.Little, true}, "pgup": {practice.Lot, true},
	"left": {practice.Touch, false}, "down": {practice.Little, false}, "pgdown": {practice.Lot, false},
}

// byHand is what the arrow keys do as a hand at the simulated machine, where no page lies over it: wind, or tap; empty for nothing.
func (m *Model) byHand() string {
	switch p := m.view.Prompt; {
	case m.cfg.Wheel == nil || m.ending || m.lost != nil || !practice.ByHand(p):
		return ""
	case p.Wind.How == session.ByTap:
		return "tap"
	}
	return "wind"
}

// handles turns the handle by a key, and says how far it has been turned; ok is false where the key is none for that now.
func (m *Model) handles(name string) (ok bool) {
	k, ok := turningKeys[name]
	if !ok || m.page != noPage || m.byHand() == "" {
		return false
	}
	done, err := m.cfg.Wheel.Hand(m.view.Prompt, k.effort, k.forward)
	if err != nil {
		m.complain(err.Error(), "")
		return true
	}
	m.say(m.handled(done))
	return true
}

// handled says what the hand has done since its question was asked.
func (m *Model) handled(done practice.Handled) string {
	if !done.Turned {
		return fmt.Sprintf("tapped, %d in all", done.Taps)
	}
	sl, _ := m.view.Prompt.Handwheel()
	text := pane.SlideName(sl.Name) + " handle: "
	switch tenths := math.Round(10 * done.Divisions); {
	case tenths > 0:
		return text + fmt.Sprintf("turned clockwise by %.1f divisions in all", tenths/10)
	case tenths < 0:
		return text + fmt.Sprintf("turned anticlockwise by %.1f divisions in all", -tenths/10)
	}
	return text + "back where it stood"
}

// handWords say which keys are the hand, and what they do.
func (m *Model) handWords() string {
	if m.byHand() == "tap" {
		return "right, up, PgUp tap the work towards the indicator, ever harder; left, down, PgDn away from it"
	}
	return fmt.Sprintf("right, up, PgUp turn the handle clockwise by %v, %v, %v divisions; left, down, PgDn anticlockwise",
		practice.Touch.Divisions(), practice.Little.Divisions(), practice.Lot.Divisions())
}
