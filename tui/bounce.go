package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui/keys"
)

// A page that has just changed has not been read: an Enter that comes then is a finger that bounced, a second one pressed on the
// way, or a key that is held. A key that is held sends its second character half a second after the first on most machines, and the others
// ten times a second and more (common practice, no source).
const (
	toRead = 300 * time.Millisecond
	toHold = 500 * time.Millisecond
	repeat = 150 * time.Millisecond
	// No key waits longer than that for the step in front of it: what looks earlier still comes from a clock that was set back.
	waits = time.Minute
)

// pressed is a key with the time of its arrival; or, as sent says, a reading that the cable indicator's button has sent, millimetres.
type pressed struct {
	tea.KeyMsg
	at      time.Time
	sent    bool
	reading float64
}

// bounce is what is remembered of the keys that answer by themselves.
type bounce struct {
	now     func() time.Time // nil where no key is too soon
	changed time.Time        // when the page last changed
	last    time.Time        // when the last bare answer came, and which it was
	name    string
}

// turned notes that the page shows something else now.
func (b *bounce) turned() {
	if b.now != nil {
		b.changed = b.now()
	}
}

// bare reports whether a key answers by itself: it records, confirms or chooses with nothing typed in front of it.
func (m *Model) bare(k tea.KeyMsg, name string) bool {
	if m.view.Entry != "" || m.listed != "" || k.Paste || len(k.Runes) > 1 {
		return false
	}
	if m.mode == typing {
		return isEnter(name) && m.field.Value() == ""
	}
	b, ok := keys.Find(m.bindings(), name)
	return ok && (b.Row != nil || b.Action == keys.Enter || b.Action == keys.List || b.Action == keys.Dial)
}

// tooSoon reports whether a key that arrives at a time came before the page can have been read, or is held; bare says that it
// answers by itself.
func (b *bounce) tooSoon(at time.Time, name string, bare bool) bool {
	if !bare {
		b.name = ""
		return false
	}
	same, last := name == b.name, b.last
	b.name, b.last = name, at
	since := at.Sub(b.changed)
	if since < -waits {
		b.changed = at
		return false
	}
	return since < toRead || same && (since < toHold || at.Sub(last) < repeat)
}

// soonWords say that a key was not taken, and what to do.
func soonWords(name string) string {
	return "the page had only just changed: " + keys.Label(name) + " is not taken; read it, then press again"
}
