package tui

import (
	"time"
	"unicode/utf8"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// idleKeys is what has been said of keys that do nothing now.
type idleKeys struct {
	said    time.Time // when it was last said
	numLock bool      // that Num Lock is off
}

// offPad are the keys that a numeric keypad sends where Num Lock is off (IBM's layout of the 101 keys, from memory).
var offPad = map[string]bool{"up": true, "down": true, "left": true, "right": true, "home": true, "end": true,
	"pgup": true, "pgdown": true, "insert": true, "delete": true}

// within reports whether now is later than then by less than d; a clock that was put back says no.
func within(now, then time.Time, d time.Duration) bool {
	past := now.Sub(then)
	return past >= 0 && past < d
}

// useless says that a key does nothing now: once a second, for a key may be held down; and where a hand on the
// keypad wants digits and sends arrows, the first time what that comes from.
func (m *Model) useless(name string) {
	switch now := m.cfg.Now(); {
	case m.cfg.Wheel != nil && offPad[name] && m.page == noPage && m.view.Prompt.Waits == session.ForReading:
		m.complain("the head goes by itself", "Enter once it stands still")
	case offPad[name] && !m.idle.numLock && m.page == noPage && m.view.Prompt.Waits == session.ForReading:
		m.idle = idleKeys{now, true}
		m.complain("Num Lock seems to be off: the keypad sends arrows, not digits; switch it on", "")
	case !within(now, m.idle.said, time.Second):
		m.idle.said = now
		m.complain(nothing(name, seeKeys), "")
	}
}

// longestName is that of a key: ctrl+shift+right with Alt. What is longer was pasted, or typed by a cable.
const longestName = 20

// nothing says of a key that it does nothing, and what to do.
func nothing(name, hint string) string {
	switch {
	case name == "" || utf8.RuneCountInString(name) > longestName:
		name = "that"
	case name == " ":
		name = "the space bar"
	}
	return geom.PrintableLine(name) + " does nothing here; " + hint
}

// seeKeys leads to the keys that do something.
const seeKeys = "? lists the keys"
