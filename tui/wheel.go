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

// winds reports whether the arrow keys are the hand on a handle now.
func (m *Model) winds() bool {
	return m.cfg.Wheel != nil && m.page == noPage && !m.ending && m.lost == nil && practice.ByHand(m.view.Prompt)
}

// handles turns the handle by a key, and says how far it has been turned; ok is false where the key is none for that now.
func (m *Model) handles(name string) (ok bool) {
	k, ok := turningKeys[name]
	if !ok || !m.winds() {
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

// turningWords say which keys are the hand.
const turningWords = "right, up, PgUp turn the handle clockwise by 0.1, 1, 10 divisions, left, down, PgDn back; or tap the work towards " +
	"the indicator, and away"
