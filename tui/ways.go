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

// listWays opens the numbered list of the ways in which the arc that is asked for can be measured; a bare number needs none.
func (m Model) listWays() (Model, tea.Cmd) {
	m.mode, m.ways, m.view.Choices = choosing, nil, nil
	for _, w := range m.view.State.Ways() {
		if w.Why != "" {
			continue
		}
		m.ways = append(m.ways, w)
		m.view.Choices = append(m.view.Choices, fmt.Sprintf("%d  %s", len(m.ways), w.Says))
	}
	m.say(fmt.Sprintf("how was it measured? 1 to %d; * closes the list", len(m.ways)))
	return m, nil
}

// wayChoice takes a way by its number, and asks for its first figure; any other key closes the list, and means what it says
// unless it was for the list itself.
func (m Model) wayChoice(name string) (Model, tea.Cmd) {
	ways := m.ways
	m.mode, m.ways, m.view.Choices = working, nil, nil
	m.say("")
	for i, w := range ways {
		if name == fmt.Sprint(i+1) {
			return m.askFigure(asking{way: w})
		}
	}
	switch {
	case name == "*" || name == "/" || name == "esc" || name == "enter" || name == "ctrl+j":
		return m, nil
	case numeric(name):
		m.complain(name+" is none of the numbers", "")
		return m, nil
	}
	return m.named(name)
}

// askFigure opens the field for the next figure of a way.
func (m Model) askFigure(a asking) (Model, tea.Cmd) {
	l := a.way.Asks[len(a.said)]
	prompt := fmt.Sprintf("%s %s (%v): ", l.Name, l.Letter, m.view.State.Set.Job.Unit)
	m.asking = &a
	m, cmd := m.ask(nil, prompt)
	return m, cmd
}

// figureKey types into the field of a figure: Enter takes it and asks for the next, / clears what is typed, and without
// anything typed it leaves the way.
func (m Model) figureKey(msg tea.KeyMsg, name string) (Model, tea.Cmd) {
	text := strings.TrimSpace(m.field.Value())
	switch name {
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
			m.complain(err.Error(), "* lists the ways again")
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
	m.mode, m.asking = working, nil
	m.field.Blur()
	m.say("")
	return m
}
