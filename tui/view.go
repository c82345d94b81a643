package tui

import (
	"strings"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// leftWidth is that of the work zone, which a verdict's line needs; beside it needleWidth is what a live needle needs, and bothWidth what
// dial and picture need side by side.
const (
	leftWidth   = 44
	needleWidth = 28
	bothWidth   = 90
)

// View draws the zones from what see has computed.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	if m.view.State.Set == nil {
		return ""
	}
	v, b := m.shown(), m.bindings()
	t, next := v.Theme, pane.Next(&v, m.width, m.height)
	last := pane.Box(t, pane.Keys(&v, b, m.width), m.width, 1)
	if pane.Small(m.width, m.height) {
		return m.small(&v, b, next, last)
	}
	return pane.Frame(t, m.width, pane.Aim(&v, m.width), m.body(&v, b, m.width, m.height-pane.Framed-next.Height()),
		next.Draw(t, m.width, next.Height()), last)
}

// shown is what the panes see, with what the keys have brought up.
func (m *Model) shown() pane.View {
	v := m.laid()
	if m.ending && m.page == noPage {
		v.OnEnter = m.endKey()
	}
	return v
}

// laid is that as far as it decides how the zones share the window.
func (m *Model) laid() pane.View {
	v := m.view
	if m.mode == typing {
		f := m.field
		f.Prompt = ""
		fitField(&f, m.width)
		v.Note, v.Asked, v.Typed = harmless(f.View()), m.field.Prompt, f.Value()
	}
	v.Page = m.page != noPage || m.ending && (v.State.Phase != session.Ended || pane.Small(m.width, m.height))
	v.Listed, v.Listing = m.listed, m.page == listPage
	v.Beside = v.Needled() && v.Takes() && m.needleBeside()
	return v
}

// needleBeside reports whether a live needle has room beside the list.
func (m *Model) needleBeside() bool {
	right := m.width - leftWidth
	return !pane.Small(m.width, m.height) && (right >= bothWidth || right >= needleWidth && !m.swapped)
}

// bodyHeight is how many rows the page that lies over the work zones has, or would have.
func (m *Model) bodyHeight() int {
	switch {
	case pane.Small(m.width, m.height) && m.height < 6:
		return m.height - 1
	case pane.Small(m.width, m.height):
		return m.height - 3
	}
	v := m.laid()
	v.Page = v.Page || !m.ending
	return m.height - pane.Framed - pane.Next(&v, m.width, m.height).Height()
}

// more reports whether the action comes in pieces, and this is not the last.
func (m *Model) more() bool {
	v := m.shown()
	return m.page == noPage && !m.ending && m.view.Piece < pane.Next(&v, m.width, m.height).Pieces-1
}

// body is the work and picture zones, or the page that lies over them.
func (m *Model) body(v *pane.View, b []keys.Binding, w, h int) string {
	switch m.page {
	case setupPage, helpPage:
		return m.leaves(w, h).Draw(m.leaf)
	case taughtPage:
		return pane.Taught(v, w, h)
	case trialsPage:
		return pane.Trials(v, w, h)
	case formPage:
		return pane.Form(v, w, h)
	case listPage:
		return m.list.leaves(v.Theme, wordsOf(m.items()), w, h).Draw(m.listLeaf)
	case noPage:
		if m.ending {
			return pane.Ends(v, w, h).Draw(m.endLeaf)
		}
	}
	return workZones(v, m.swapped, w, h)
}

// workZones are the list and the picture beside it; in practice, while a reading is asked for, with the dial, in the picture's
// place where there is no room for both and it was not asked for.
func workZones(v *pane.View, swapped bool, w, h int) string {
	right := w - leftWidth
	if right < 16 || pane.NeedsWidth(v, leftWidth, h) { // no picture fits beside the list
		return pane.Work(v, w, h)
	}
	reading := v.Prompt.Waits == session.ForReading && !v.Prompt.Reading.Touch
	if v.Beside && right < bothWidth {
		return pane.Beside(pane.Work(v, leftWidth, h), pane.Dial(v, right, h))
	}
	picture := pane.Picture(v, right, h)
	if strings.TrimSpace(picture) == "" { // the list has all of the width
		return pane.Work(v, w, h)
	}
	work := pane.Work(v, leftWidth, h)
	switch {
	case (v.Practice && reading || v.Beside) && right >= bothWidth:
		half := right / 2
		return pane.Beside(work, pane.Picture(v, half, h), pane.Dial(v, right-half, h))
	case v.Practice && !v.Cabled && reading && !swapped:
		return pane.Beside(work, pane.Dial(v, right, h))
	}
	return pane.Beside(work, picture)
}

// small is all that a very small window holds: the action, what has been typed, the keys; or the
// page that lies over them.
func (m *Model) small(v *pane.View, b []keys.Binding, next pane.Bottom, last string) string {
	switch {
	case m.height == 1:
		return next.Draw(v.Theme, m.width, 1)
	case v.Page && m.height >= 6:
		return m.body(v, b, m.width, m.height-3) + "\n" + next.Draw(v.Theme, m.width, 2) + "\n" + last
	case v.Page:
		return m.body(v, b, m.width, m.height-1) + "\n" + last
	}
	return next.Draw(v.Theme, m.width, m.height-1) + "\n" + last
}
