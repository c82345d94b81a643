package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// wayItems are the lines of the list for the ways in which the arc that is asked for can be measured; a bare number needs none.
func (m *Model) wayItems() (out []item[Model]) {
	if !m.situation().Arc {
		return nil
	}
	for _, w := range m.view.State.Ways() {
		if w.Why == "" {
			out = append(out, item[Model]{words: w.Says, do: func(m Model) (Model, tea.Cmd) { return m.askFigure(w, nil) }})
		}
	}
	return out
}

// askFigure asks for the next figure of a way behind those that were said, each behind its name: one after the other, so that the
// numeric keypad is enough.
func (m Model) askFigure(w session.AskedWay, said []string) (Model, tea.Cmd) {
	l, unit := w.Asks[len(said)], m.view.State.Set.Job.Unit
	return m.openField(question{
		prompt: fmt.Sprintf("%s %s (%v): ", l.Name, l.Letter, unit), keypad: true, one: true,
		take: func(m Model, text string) (Model, tea.Cmd) {
			said := append(slices.Clone(said), l.Name+" "+text)
			if len(said) < len(w.Asks) {
				return m.askFigure(w, said)
			}
			c, err := session.Parse(strings.Join(said, " "), unit)
			if err != nil {
				m.complain(err.Error(), "* lists the ways")
				return m, nil
			}
			return m.start(c)
		},
	})
}
