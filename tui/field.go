package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// asks asks by a list what a row's key asks: one of its answers, or which of its picks is meant; ok is false for one that asks
// for nothing of the kind.
func (m Model) asks(r *session.CommandRow) (next Model, cmd tea.Cmd, ok bool) {
	s := &m.view.State
	ask := m.view.Plain(r.Asks)
	if all := r.Offers(s); len(all) > 0 {
		m.openAnswers(ask, m.offers(r, "", all))
		return m, nil, true
	}
	if !r.ByList() || len(r.Picks(s)) == 0 {
		return m, nil, false
	}
	if word := r.First(s); word != "" {
		m, cmd = m.pickedFor(r, word)
		return m, cmd, true
	}
	m.openAnswers(ask, m.picks(r, ""))
	return m, nil, true
}

// pickedFor asks for what belongs behind a word that was picked: by a list where it is one of several answers, with the other
// picks below them, else in the field.
func (m Model) pickedFor(r *session.CommandRow, word string) (Model, tea.Cmd) {
	s := &m.view.State
	all := r.Answers(s, word)
	if len(all) == 0 {
		return m.ask(r, word)
	}
	items := m.offers(r, word, all)
	if m.cfg.Bench != nil && r.Hands() {
		items = append([]item[Model]{{words: "have the simulated hands do it", do: func(m Model) (Model, tea.Cmd) {
			return m.chosen(r, word, session.Choice{})
		}}}, items...)
	}
	m.openAnswers(m.view.Plain(lines.Field(r, s, s.Set.Job.Unit, word)), append(items, m.picks(r, word)...))
	return m, nil
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

// answered enters what was typed into the field.
func (m Model) answered(text string) (Model, tea.Cmd) {
	c, err := m.asked.Answer(&m.view.State, text)
	if err != nil {
		m.complain(err.Error(), m.asked.Keys[0]+", then "+m.asked.Example)
		return m, nil
	}
	if c == nil {
		return m, nil
	}
	return m.start(c)
}
