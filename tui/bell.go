package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// How often the bell sounds: for what is refused and a reading in doubt, and for a page that wants eyes.
const (
	refused = 1
	wanted  = 2
)

// ringsFor is how often the bell sounds for what steps have caused: a sweep that has closed brings a page that says
// what to wind, or where it stands.
func ringsFor(steps []session.Step) (n int) {
	for _, st := range steps {
		switch st.Event.(type) {
		case session.Doubted:
			n = max(n, refused)
		case session.Swept:
			n = wanted
		}
	}
	return n
}

// heard has the bell sounded that is due. A command does it: what View returns is only what stands there.
func (m Model) heard(cmd tea.Cmd) (Model, tea.Cmd) {
	n, ring := m.rings, m.cfg.Shell.Ring
	m.rings = 0
	if n == 0 || ring == nil {
		return m, cmd
	}
	return m, tea.Batch(cmd, func() tea.Msg {
		ring(n)
		return nil
	})
}
