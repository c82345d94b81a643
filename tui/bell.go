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
	n := m.rings
	m.rings = 0
	return m, m.cfg.Shell.sounds(n, cmd)
}

// sounds returns the command with the bell beside it.
func (s Shell) sounds(n int, cmd tea.Cmd) tea.Cmd {
	if n == 0 || s.Ring == nil {
		return cmd
	}
	return tea.Batch(cmd, func() tea.Msg {
		s.Ring(n)
		return nil
	})
}

// said is what stands in a status row.
type said struct {
	text  string
	alarm bool
}

// ringsBehind is how often the bell sounds for what has come to stand there: once for a refusal.
func (now said) ringsBehind(before said) int {
	if now.alarm && now != before {
		return refused
	}
	return 0
}
