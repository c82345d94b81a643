package tui

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// item is one line of the list of all that can be done now.
type item struct {
	words string
	do    func(Model) (Model, tea.Cmd)
}

// items are the lines of the list: what a key does has one, and one for each answer where it asks for one of several.
func (m *Model) items() (out []item) {
	out = m.wayItems()
	for _, b := range keys.Listed(m.situation()) {
		switch r := b.Row; {
		case r != nil && len(r.Offers(&m.view.State)) > 0:
			for _, c := range r.Offers(&m.view.State) {
				out = append(out, item{m.view.Plain(c.Words), func(m Model) (Model, tea.Cmd) { return m.chosen(r, c) }})
			}
		case r != nil && len(r.Picks(&m.view.State)) > 0:
			for _, word := range r.Picks(&m.view.State) {
				words := b.Help().Desc + ": " + pane.SlideName(word)
				out = append(out, item{words, func(m Model) (Model, tea.Cmd) { return m.ask(r, word) }})
			}
		case r != nil && r.TakesBack:
			words := "undo: " + m.view.Num(lines.UndoWords(&m.view.State, m.view.State.Set.Job.Unit))
			out = append(out, item{m.view.Plain(words), func(m Model) (Model, tea.Cmd) { return m.act(b) }})
		default:
			out = append(out, item{m.view.Plain(b.Words()), func(m Model) (Model, tea.Cmd) { return m.act(b) }})
		}
	}
	return out
}

// openList shows the list from its first leaf.
func (m *Model) openList() {
	m.page, m.listed, m.listLeaf = listPage, "", 0
	m.turned()
}

// closeList closes it without an entry.
func (m *Model) closeList() {
	m.page, m.listed = noPage, ""
	m.turned()
}

// listKey takes a key while the list is shown. A key that means nothing to the list closes it and means what it says.
func (m Model) listKey(name string) (Model, tea.Cmd) {
	switch {
	case len(name) == 1 && name[0] >= '0' && name[0] <= '9':
		if len(m.listed) < 2 {
			m.listed += name
		}
		return m, nil
	case name == "backspace" || name == "ctrl+h" || name == "delete":
		m.listed = m.listed[:max(0, len(m.listed)-1)]
		return m, nil
	case name == "/" && m.listed != "":
		m.listed = ""
		return m, nil
	case name == "*" || name == "/" || name == "esc" || (isEnter(name) && m.listed == ""):
		m.closeList()
		return m, nil
	case isEnter(name):
		return m.pick()
	}
	m.closeList()
	return m.named(name)
}

// pick does what stands behind the number that was typed; 0 turns to the next leaf.
func (m Model) pick() (Model, tea.Cmd) {
	n, _ := strconv.Atoi(m.listed)
	all := m.items()
	m.listed = ""
	switch {
	case n == 0:
		h := m.bodyHeight()
		if m.listLeaf++; m.listLeaf >= pane.ListLeaves(len(all), m.width, h) {
			m.listLeaf = 0
		}
		m.turned()
		return m, nil
	case n > len(all):
		m.complain("there is no line "+strconv.Itoa(n), "type one of 1 to "+strconv.Itoa(len(all)))
		return m, nil
	}
	m.closeList()
	m.say("")
	return all[n-1].do(m)
}

// listWords are the lines as they are shown.
func (m *Model) listWords() []string {
	all := m.items()
	out := make([]string, len(all))
	for i, it := range all {
		out[i] = it.words
	}
	return out
}

// chosen enters one of the answers to what a row's key asks.
func (m Model) chosen(r *session.CommandRow, c session.Choice) (Model, tea.Cmd) {
	said, err := r.Say(c.Text, m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	return m.start(said)
}

func isEnter(name string) bool { return name == "enter" || name == "ctrl+j" }
