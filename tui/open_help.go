package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui/pane"
)

// showList lists what can be done, or the pages of help.
func (m *OpenModel) showList(pages bool) {
	m.topics.at = 0
	m.hand.showList(true)
	if pages {
		m.hand.question = pagesOfHelp
	}
}

// items are the lines of the list: the answers by their own numbers, with help behind them, or the pages of help.
func (m *OpenModel) items() (out []item[OpenModel]) {
	if m.hand.question != "" {
		return topicItems(m.topics.all, OpenModel.openTopic)
	}
	for i, a := range m.view.Answers {
		out = append(out, item[OpenModel]{words: a, do: func(m OpenModel) (OpenModel, tea.Cmd) {
			m.Taken = i + 1
			return m, tea.Quit
		}})
	}
	return append(out, item[OpenModel]{words: "help: its pages, by their numbers", do: func(m OpenModel) (OpenModel, tea.Cmd) {
		m.showList(true)
		return m, nil
	}})
}

// list is the list as it is shown.
func (m *OpenModel) list() pane.Leaves {
	return pane.OpenOver(&m.view, m.bindings(), m.width, m.height, func(h int) pane.Leaves {
		return m.hand.leaves(m.view.Theme, wordsOf(m.items()), m.width, h)
	})
}

// listKey takes a key while the list is shown.
func (m OpenModel) listKey(name string) (OpenModel, tea.Cmd) {
	all := m.items()
	n, why, told := m.hand.picks(name, len(all), m.list)
	if told && why == "" {
		m.view.Status = ""
	} else if told {
		m.complain(why)
	}
	if n == 0 {
		return m, nil
	}
	return all[n-1].do(m)
}

// openTopic shows a page of help.
func (m OpenModel) openTopic(at int) OpenModel {
	m.topics.at, m.read = at, 0
	m.hand.turned()
	return m
}

// turnTopic turns its leaf, and closes it behind the last one.
func (m *OpenModel) turnTopic() {
	next, more := m.topicPage().Next(m.read)
	if m.read = next; !more {
		m.topics.at = 0
	}
	m.hand.turned()
}

func (m *OpenModel) closeTopic() {
	m.topics.at = 0
	m.hand.turned()
}

// topicPage is the page of help that lies there.
func (m *OpenModel) topicPage() pane.Leaves {
	return pane.OpenOver(&m.view, m.bindings(), m.width, m.height, func(h int) pane.Leaves {
		return pane.TopicPage(m.view.Theme, m.topics.page(), m.width, h)
	})
}
