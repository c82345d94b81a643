package tui

import (
	"strings"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// Below these the zones no longer stand apart: only the action is shown.
const (
	leastWidth  = 40
	leastHeight = 14
	leftWidth   = 44 // of the work zone, which a verdict's line needs
)

// View draws the zones from what see has computed.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	if m.view.State.Set == nil {
		return ""
	}
	v := m.view
	if m.mode == typing {
		v.Note = m.field.View()
	}
	v.Page, v.Leaf, v.Listed, v.Listing = m.page != noPage, m.leaf, m.listed, m.page == listPage
	b := m.bindings()
	if m.width < leastWidth || m.height < leastHeight {
		return m.small(&v, b)
	}
	t := v.Theme
	next, body := m.heights()
	return strings.Join([]string{
		pane.Box(t, pane.Aim(&v, m.width), m.width, 1),
		pane.Rule(t, m.width),
		m.body(&v, b, m.width, body),
		pane.Rule(t, m.width),
		pane.Next(&v, m.width, next),
		pane.Box(t, pane.Keys(&v, b, m.width), m.width, 1),
	}, "\n")
}

// zones shares the rows out between the work and the action.
func zones(height int) (body, next int) {
	next = pane.NextHeight
	body = height - next - 4
	if body < 6 { // the large letters go before the list does
		next = max(3, next-(6-body))
		body = height - next - 4
	}
	return body, next
}

// heights are the rows of the action line and of the work zones.
func (m *Model) heights() (next, body int) {
	if m.width < leastWidth || m.height < leastHeight {
		return 2, m.height - 3
	}
	body, next = zones(m.height)
	return next, body
}

// turnSetup opens the set-up page, turns to its second leaf where it has one, and closes it.
func (m *Model) turnSetup() {
	_, h := m.heights()
	switch {
	case m.page != setupPage:
		m.page, m.leaf = setupPage, false
	case !m.leaf && pane.SetupLeaves(&m.view, m.width, h):
		m.leaf = true
	default:
		m.page, m.leaf = noPage, false
	}
}

// body is the work and picture zones, or the page that lies over them.
func (m *Model) body(v *pane.View, b []keys.Binding, w, h int) string {
	switch m.page {
	case setupPage:
		return pane.Setup(v, w, h)
	case helpPage:
		return pane.Help(v, b, w, h)
	case taughtPage:
		return pane.Taught(v, w, h)
	case trialsPage:
		return pane.Trials(v, w, h)
	case formPage:
		return pane.Form(v, w, h)
	case listPage:
		return pane.List(v, m.listWords(), m.listLeaf, w, h)
	case noPage:
	}
	return workZones(v, m.swapped, w, h)
}

// workZones are the list and the picture beside it; in practice with the dial, in the picture's place where
// that is swapped.
func workZones(v *pane.View, swapped bool, w, h int) string {
	right := w - leftWidth
	if right < 16 { // no picture fits beside the list
		return pane.Work(v, w, h)
	}
	work := pane.Work(v, leftWidth, h)
	reading := v.Prompt.Waits == session.ForReading && !v.Prompt.Reading.Touch
	switch {
	case v.Practice && reading && right >= 90:
		half := right / 2
		return beside(work, pane.Picture(v, half, h), pane.Dial(v, right-half, h))
	case v.Practice && reading && swapped:
		return beside(work, pane.Dial(v, right, h))
	}
	return beside(work, pane.Picture(v, right, h))
}

// small is all that a very small window holds: the action, what has been typed, the keys; or the
// page that lies over them.
func (m *Model) small(v *pane.View, b []keys.Binding) string {
	if m.height == 1 {
		return pane.Next(v, m.width, 1)
	}
	top := pane.Next(v, m.width, m.height-1)
	switch {
	case v.Page && m.height >= 6:
		top = m.body(v, b, m.width, m.height-3) + "\n" + pane.Next(v, m.width, 2)
	case v.Page:
		top = m.body(v, b, m.width, m.height-1)
	}
	return top + "\n" + pane.Box(v.Theme, pane.Keys(v, b, m.width), m.width, 1)
}

// beside puts panes of the same height beside one another.
func beside(panes ...string) string {
	rows := strings.Split(panes[0], "\n")
	for _, p := range panes[1:] {
		for i, l := range strings.Split(p, "\n") {
			rows[i] += l
		}
	}
	return strings.Join(rows, "\n")
}
