package tui

import (
	"cmp"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// askRow is a line of the list of what can be done at a question.
type askRow struct {
	when  func(*AskModel) bool
	words func(*AskModel) string
	do    func(AskModel) (AskModel, tea.Cmd)
}

// askRows are all of them; what is commonly answered stands behind what is proposed, which Enter takes too. Typing a diameter is the
// first wherever there is one to type: whoever knows the way by heart gets the same thing there, whatever is proposed.
func askRows() []askRow {
	return []askRow{
		{when: func(m *AskModel) bool { return m.view.Question.Across }, words: func(*AskModel) string { return "type a diameter" },
			do: func(m AskModel) (AskModel, tea.Cmd) {
				m.types([]rune("d "))
				return m, nil
			}},
		{when: func(m *AskModel) bool { return m.view.Question.Default != "" },
			words: func(m *AskModel) string { return takes(&m.view.Question, m.view.Question.Default) },
			do:    func(m AskModel) (AskModel, tea.Cmd) { return m.answer(m.view.Question.Default) }},
		{when: func(m *AskModel) bool {
			return m.view.Question.Optional && !slices.Contains(m.view.Question.Choices, job.DontKnow)
		},
			words: func(m *AskModel) string { return cmp.Or(m.view.Question.Out, "don't know: leave it out") },
			do:    func(m AskModel) (AskModel, tea.Cmd) { return m.answer(job.Unknown) }},
		{when: func(m *AskModel) bool { return !m.view.Over }, words: func(*AskModel) string { return "explain what is asked" },
			do: func(m AskModel) (AskModel, tea.Cmd) { return m.act(keys.Help) }},
		{when: func(m *AskModel) bool { return m.q.Begun() }, words: func(*AskModel) string { return "back to the question before" },
			do: func(m AskModel) (AskModel, tea.Cmd) {
				m.leaf = 0
				return m.back()
			}},
		{when: func(*AskModel) bool { return true }, words: func(*AskModel) string { return "leave the questions" }, do: AskModel.leave},
	}
}

// takes says of a line that it takes a choice.
func takes(q *job.Question, choice string) string {
	if q.Are == "" {
		return "take " + pane.Takes(&job.Question{Default: choice, Unit: q.Unit, Closed: q.Closed, Choices: q.Choices})
	}
	return "take " + q.Means(choice) + " " + q.Unit
}

// items are the lines of the list.
func (m *AskModel) items() (out []item[AskModel]) {
	if m.help {
		return topicItems(m.topics.all, AskModel.openTopic)
	}
	for _, r := range askRows() {
		if r.when(m) {
			out = append(out, item[AskModel]{words: r.words(m), do: r.do})
		}
	}
	q := &m.view.Question
	if q.Closed {
		return out
	}
	var commonly []item[AskModel]
	for _, c := range q.Choices {
		if c != q.Default {
			words := c
			if q.ShortOf(c) == "" {
				words = takes(q, c)
			}
			commonly = append(commonly, item[AskModel]{words: words, do: func(m AskModel) (AskModel, tea.Cmd) { return m.answer(c) }})
		}
	}
	first := 1
	if q.Across && q.Default != "" {
		first = 2
	}
	return slices.Insert(out, min(first, len(out)), commonly...)
}

// list is the list as it is shown.
func (m *AskModel) list() pane.Leaves {
	return pane.AskList(&m.view, m.keys(), m.hand.question, wordsOf(m.items()), m.hand.listed, m.width, m.height)
}

// explanation is what explains the question, or the page of help in its place.
func (m *AskModel) explanation() pane.Leaves {
	if m.topics.at > 0 {
		return pane.AskTopic(&m.view, m.keys(), m.topics.page(), m.width, m.height)
	}
	return pane.AskHelp(&m.view, m.keys(), m.topics.lists(), m.width, m.height)
}

// openTopic puts a page in the place of the explanation.
func (m AskModel) openTopic(at int) AskModel {
	m.help, m.leaf, m.topics.at = true, 0, at
	m.hand.turned()
	return m
}

// listKey takes a key while the list is shown.
func (m AskModel) listKey(name string) (AskModel, tea.Cmd) {
	all := m.items()
	n, why, told := m.hand.picks(name, len(all), m.list)
	if told {
		m.complain(why)
	}
	if n == 0 {
		return m, nil
	}
	return all[n-1].do(m)
}

// View draws the page.
func (m AskModel) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	switch {
	case m.hand.listing:
		return m.list().Draw(m.hand.listLeaf)
	case m.help:
		return m.explanation().Draw(m.leaf)
	}
	return pane.Ask(&m.view, m.keys(), m.width, m.height).Draw(m.leaf)
}
