package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// asking is a way of measuring an arc whose figures are asked for one after the other, so that the numeric keypad is enough.
type asking struct {
	way  session.AskedWay
	said []string // figures so far, each behind its name
}

// wayItems are the lines of the list for the ways in which the arc that is asked for can be measured; a bare number needs none.
func (m *Model) wayItems() (out []item[Model]) {
	if !m.situation().Arc {
		return nil
	}
	for _, w := range m.view.State.Ways() {
		if w.Why == "" {
			out = append(out, item[Model]{words: w.Says, do: func(m Model) (Model, tea.Cmd) { return m.askFigure(asking{way: w}) }})
		}
	}
	return out
}

// askFigure opens the field for the next figure of a way.
func (m Model) askFigure(a asking) (Model, tea.Cmd) {
	l := a.way.Asks[len(a.said)]
	prompt := fmt.Sprintf("%s %s (%v): ", l.Name, l.Letter, m.view.State.Set.Job.Unit)
	m.asking = &a
	return m.openField(prompt)
}

// figureKey types into the field of a figure: Enter takes it and asks for the next, / clears what is typed, and without
// anything typed it leaves the way.
func (m Model) figureKey(msg tea.KeyMsg, name string) (Model, tea.Cmd) {
	text := strings.TrimSpace(m.field.Value())
	switch name {
	case "*":
		m = m.leaveWay()
		m.openList()
		return m, nil
	case "/":
		if text != "" {
			m.field.Reset()
			return m, nil
		}
		return m.leaveWay(), nil
	case "esc", "ctrl+c":
		return m.leaveWay(), nil
	case "enter", "ctrl+j":
		if text == "" || strings.ContainsAny(text, " \t") {
			const first = "one number; "
			m.field.Prompt = first + strings.TrimPrefix(m.field.Prompt, first) // the status row is the field's
			m.field.Width = max(1, m.width-len(m.field.Prompt)-1)
			return m, nil
		}
		a := *m.asking
		a.said = append(append([]string(nil), a.said...), a.way.Asks[len(a.said)].Name+" "+text)
		m = m.leaveWay()
		if len(a.said) < len(a.way.Asks) {
			return m.askFigure(a)
		}
		c, err := session.Parse(strings.Join(a.said, " "), m.view.State.Set.Job.Unit)
		if err != nil {
			m.complain(err.Error(), "* lists the ways")
			return m, nil
		}
		return m.start(c)
	case "ctrl+v": // would read the machine's clipboard
		return m, nil
	}
	var cmd tea.Cmd
	m.field, cmd = m.field.Update(msg)
	return m, cmd
}

func (m Model) leaveWay() Model {
	m.asking = nil
	m.closeField()
	m.say("")
	return m
}
