package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// askSign opens the field for the answer to the sign check that comes next; the status row would be too
// short for how it is done, so the field's own prompt says it.
func (m Model) askSign() (Model, tea.Cmd) {
	s := &m.view.State
	forms := lines.SenseWords(s, s.NextSense())
	return m.ask(sensing, m.view.Plain(forms[len(forms)-1])+" ")
}

// raise begins a second sweep at the height that was typed.
func (m Model) raise(text string) (Model, tea.Cmd) {
	h, err := session.ParseRaise(text, m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "z, then like 30")
		return m, nil
	}
	return m.start(h)
}

// signWent takes the answer: up or down of what was asked for, or a slide's name in front of it. In
// practice the simulated hands answer where nothing was typed.
func (m Model) signWent(text string) (Model, tea.Cmd) {
	asked := m.view.State.NextSense()
	if strings.TrimSpace(text) == "" {
		if m.cfg.Bench == nil {
			return m, nil
		}
		return m.start(session.Sense{Slide: asked})
	}
	c, err := session.ParseSense(text, asked)
	if err != nil {
		m.complain(err.Error(), "g, then up, down, or like x up")
		return m, nil
	}
	return m.start(c)
}
