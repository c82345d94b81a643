package tui

import (
	"slices"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// leaves is the page that lies over the work, where it is turned leaf by leaf. The keys that help tells are those that act once it
// is closed.
func (m *Model) leaves(w, h int) (all pane.Leaves) {
	switch m.page {
	case setupPage:
		return pane.Setup(&m.view, w, h)
	case helpPage:
		s := m.situation()
		s.Page = false
		return m.topics.leaves(m.view.Theme, pane.Help(&m.view, keys.For(s)), w, h)
	default: // one leaf holds it
		return all
	}
}

// openTopic puts a page in the place of the help page.
func (m Model) openTopic(at int) Model {
	m.turnPage(helpPage)
	m.topics.at = at
	return m
}

// turnPage opens a page, turns its leaf, and closes it behind the last one.
func (m *Model) turnPage(p page) {
	m.calm()
	if m.page != p {
		m.page, m.leaf, m.topics.at = p, 0, 0
		return
	}
	more := false
	if m.leaf, more = m.leaves(m.width, m.bodyHeight()).Next(m.leaf); !more {
		m.page = noPage
	}
}

// closeHelp closes it without an entry.
func (m *Model) closeHelp() {
	m.calm()
	m.page = noPage
	m.turned()
}

// whileHelp are the keys while a page of help is read: / closes it, as it does the list, and takes nothing back.
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

// leaves is the page that lies over the work of a replay, where it is turned leaf by leaf.
func (m *Replay) leaves(w, h int) (all pane.Leaves) {
	switch m.page {
	case replaySetup:
		return pane.Setup(&m.view, w, h)
	case replayHelp:
		s := m.situation()
		s.Page = false
		return m.topics.leaves(m.view.Theme, pane.ReplayHelp(m.view.Theme, keys.ForReplay(s)), w, h)
	default: // one leaf holds it
		return all
	}
}

// turnPage opens a page, turns its leaf, and closes it behind the last one.
func (m *Replay) turnPage(p replayPage) {
	m.hand.turned()
	if m.page != p {
		m.page, m.leaf, m.topics.at = p, 0, 0
		return
	}
	more := false
	if m.leaf, more = m.leaves(m.width, m.bodyHeight()).Next(m.leaf); !more {
		m.page = noReplayPage
	}
}

// helpPage is the help page of a plan.
func (m *PlanModel) helpPage(w, h int) pane.Leaves {
	return m.topics.leaves(m.view.Theme, pane.PlanHelp(&m.view, keys.ForPlan(m.planned(false))), w, h)
}

// turnHelp opens the help page, turns its leaf, and closes it behind the last one.
func (m *PlanModel) turnHelp() {
	if m.help {
		m.leaf, m.help = m.helpPage(m.width, m.body()).Next(m.leaf)
	} else {
		m.leaf, m.help, m.topics.at = 0, true, 0
	}
	m.hand.turned()
	m.view.Page = m.help
}

// openTopic puts a page in the place of the help page.
func (m Replay) openTopic(at int) Replay {
	m.page = noReplayPage
	m.turnPage(replayHelp)
	m.topics.at = at
	return m
}

// openTopic puts a page in the place of the help page.
func (m PlanModel) openTopic(at int) PlanModel {
	m.help = false
	m.turnHelp()
	m.topics.at = at
	return m
}
