package tui

import (
	"slices"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// leaves is where one is in a page that is read leaf by leaf: the help of a screen.
type leaves struct{ leaf int }

// next turns to the next leaf of chapters in a zone of w × h cells; ok is false behind the last one, where the page ends.
func (l *leaves) next(t theme.Theme, all []pane.Chapter, w, h int) (ok bool) {
	if l.leaf++; l.leaf < pane.Leaves(t, all, w, h) {
		return true
	}
	l.leaf = 0
	return false
}

// help is what the help page says now. Its keys are those that act once it is closed.
func (m *Model) help() []pane.Chapter {
	s := m.situation()
	s.Page = false
	return pane.Help(&m.view, keys.For(s))
}

// turnHelp opens the help page, turns its leaf, and closes it behind the last one.
func (m *Model) turnHelp() {
	m.turned()
	m.calm()
	if m.page != helpPage {
		m.page, m.helpAt = helpPage, leaves{}
		return
	}
	if w, h := m.helpRoom(); !m.helpAt.next(m.view.Theme, m.help(), w, h) {
		m.page = noPage
	}
}

// closeHelp closes it without an entry.
func (m *Model) closeHelp() {
	m.page = noPage
	m.turned()
}

// helpRoom is the zone that the page lies over.
func (m *Model) helpRoom() (w, h int) {
	return m.width, max(1, m.bodyHeight())
}

// whileHelp are the keys while the help page is read: / closes it, as it does the list, and takes nothing back.
func whileHelp(all []keys.Binding) []keys.Binding {
	for i := range all {
		rest := slices.DeleteFunc(slices.Clone(all[i].Keys()), func(k string) bool { return k == "/" })
		if len(rest) > 0 && len(rest) < len(all[i].Keys()) {
			all[i].SetKeys(rest...)
			all[i].SetHelp(keys.Label(rest[0]), all[i].Help().Desc)
		}
	}
	return all
}

// help is what the help page of a replay says now.
func (m *Replay) help() []pane.Chapter {
	s := m.situation()
	s.Page = false
	return pane.ReplayHelp(m.view.Theme, keys.ForReplay(s))
}

// turnHelp opens the help page, turns its leaf, and closes it behind the last one.
func (m *Replay) turnHelp() {
	if m.page != replayHelp {
		m.page, m.helpAt = replayHelp, leaves{}
		return
	}
	if !m.helpAt.next(m.view.Theme, m.help(), m.width, max(1, m.bodyHeight())) {
		m.page = noReplayPage
	}
}

// helpPage is what the help page of a plan says.
func (m *PlanModel) helpPage() []pane.Chapter {
	return pane.PlanHelp(&m.view, keys.ForPlan(false, m.view.Why(), m.turn != nil))
}

// turnHelp opens the help page, turns its leaf, and closes it behind the last one.
func (m *PlanModel) turnHelp() {
	if !m.help {
		m.help, m.helpAt = true, leaves{}
	} else {
		m.help = m.helpAt.next(m.view.Theme, m.helpPage(), m.width, m.body())
	}
	m.hand.turned()
	m.view.Page = m.help
}
