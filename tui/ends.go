package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/pane"
)

// reached lays the page of what was reached there once steps have accepted the setting or ended the session, and takes it
// away where either is taken back.
func (m *Model) reached(steps []session.Step) {
	for _, st := range steps {
		_, accepted := st.Event.(session.Accepted)
		was, is := st.Before.Phase, st.After.Phase
		switch {
		case accepted || is == session.Ended && was != session.Ended:
			m.ending, m.endLeaf, m.page = true, 0, noPage
		case is != was:
			m.ending = false
		}
	}
}

// nextEnd is the next leaf of the page; more is false where none is left to be shown.
func (m *Model) nextEnd() (leaf int, more bool) {
	return pane.Ends(&m.view, m.width, m.bodyHeight()).Next(m.endLeaf)
}

// endKey is what Enter does on the page.
func (m *Model) endKey() string {
	switch _, more := m.nextEnd(); {
	case more:
		return "more"
	case m.view.State.Phase != session.Ended:
		return "go on"
	case m.view.End.Plan:
		return "to the plan"
	}
	return "leave"
}

// leaveEnd shows the next leaf of the page; behind the last one it goes on to the steps, or leaves where nothing follows.
func (m Model) leaveEnd() (Model, tea.Cmd) {
	switch leaf, more := m.nextEnd(); {
	case more:
		m.endLeaf = leaf
		return m, nil
	case m.view.State.Phase == session.Ended:
		m.leaving = true
		return m, tea.Quit
	}
	m.ending = false
	return m, nil
}
