package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// askBias opens the field for what the swing radius is to be set larger by, with what the arcs so far propose.
func (m Model) askBias() (Model, tea.Cmd) {
	s := &m.view.State
	u := s.Set.Job.Unit
	if fb, ok := s.Feedback(); ok && fb.Why == "" {
		by := m.view.Num(geom.FormatSigned(u.From(fb.By.V), geom.Places(0, u)))
		return m.ask(biasing, fmt.Sprintf("set the swing radius larger by (%v; empty: %s, as the arcs say): ", u, by))
	}
	return m.ask(biasing, fmt.Sprintf("set the swing radius larger by (%v; no arc proposes any): ", u))
}

// biasBy takes up the bias that was typed, or the one that is proposed.
func (m Model) biasBy(text string) (Model, tea.Cmd) {
	b, err := session.ParseBias(text, m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "j, then like -0.018")
		return m, nil
	}
	return m.start(b)
}
