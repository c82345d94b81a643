package tui

import (
	"math"
)

// caused is what was said last of what the needle does, and goes once its cause has.
type caused struct {
	text string
	gone func(*Model) bool
}

// until has what the status row says taken away once its cause has gone.
func (m *Model) until(gone func(*Model) bool) { m.caused = caused{m.view.Status, gone} }

// overtaken takes away what the needle has overtaken, and the question with it.
func (m *Model) overtaken() {
	c := m.caused
	if c.text == "" || m.view.Status == c.text && !c.gone(m) {
		return
	}
	if m.caused = (caused{}); m.view.Status == c.text {
		m.once = nil
		m.say("")
	}
}

// still and seen say that the needle stands still, and that it is seen.
func still(m *Model) bool { return m.view.Moment.Steady }
func seen(m *Model) bool  { return m.view.Moment.Lost == "" && !m.view.Moment.Silent }

// goneOn says that the wind in hand has gone on since.
func (m *Model) goneOn() func(*Model) bool {
	was := *m.view.Watch
	return func(m *Model) bool {
		a := m.view.Watch
		return a == nil || a.Progress != was.Progress || math.Abs(a.Value-was.Value) > 3*was.Band
	}
}
