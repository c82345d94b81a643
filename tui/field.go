package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// choice answers what a key has asked; any other key goes back and means what it says.
func (m Model) choice(name string) (Model, tea.Cmd) {
	m.mode = working
	m.say("")
	for _, c := range m.asked.Choices {
		if c.Key != name {
			continue
		}
		return m.chosen(m.asked, c)
	}
	if isEnter(name) {
		return m, nil // it answers the question, not the sweep
	}
	return m.named(name)
}

// ask opens the field for the text that a row takes, behind the word that was picked from the list, if one was.
func (m Model) ask(r *session.CommandRow, word string) (Model, tea.Cmd) {
	s := &m.view.State
	m.asked, m.picked = r, word
	return m.openField(m.view.Num(m.view.Plain(lines.Field(r, s, s.Set.Job.Unit, word))))
}

// openField opens the field with what it asks.
func (m Model) openField(prompt string) (Model, tea.Cmd) {
	m.mode = typing
	m.field.Reset()
	m.field.Prompt = prompt
	m.field.Width = max(1, m.width-len(prompt)-1) // the cursor stands behind the text
	m.turned()
	return m, m.field.Focus()
}

// closeField goes back to the work.
func (m *Model) closeField() {
	m.mode = working
	m.field.Blur()
	m.turned()
}

// fieldKey types into the field, or takes what stands there.
func (m Model) fieldKey(msg tea.KeyMsg, name string) (Model, tea.Cmd) {
	text := m.field.Value()
	switch {
	case name == "esc" || name == "ctrl+c":
		m.closeField()
		return m, nil
	case m.asked.Keypad() && name == "*":
		m.closeField()
		m.openList()
		return m, nil
	case m.asked.Keypad() && name == "/":
		if m.field.Reset(); text == "" {
			m.closeField()
		}
		return m, nil
	case isEnter(name) && text != "" && !strings.HasSuffix(text, " ") && len(strings.Fields(text)) < m.asked.Figures:
		m.field.SetValue(text + " ") // the keypad has no space between two figures
		m.field.CursorEnd()
		return m, nil
	case isEnter(name):
		m.closeField()
		return m.answered(strings.TrimSpace(m.picked + " " + text))
	case name == "ctrl+v": // would read the machine's clipboard
		return m, nil
	}
	var cmd tea.Cmd
	m.field, cmd = m.field.Update(msg)
	return m, cmd
}

// answered enters what was typed into the field. A sign check that says no way is for the simulated hands.
func (m Model) answered(text string) (Model, tea.Cmd) {
	c, err := m.asked.Answer(&m.view.State, text)
	if err != nil {
		m.complain(err.Error(), m.asked.Keys[0]+", then "+m.asked.Example)
		return m, nil
	}
	if sign, ok := c.(session.Sense); c == nil || (ok && sign.Went == "" && m.cfg.Bench == nil) {
		return m, nil
	}
	return m.start(c)
}
