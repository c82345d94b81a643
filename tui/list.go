package tui

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// item is one line of a list on a screen M: its words, and what it does.
type item[M any] struct {
	words string
	// keys are the characters that choose it at once while the list is shown; none where only its number does.
	keys string
	do   func(M) (M, tea.Cmd)
}

// list is what a list of numbered lines remembers while it is shown.
type list struct {
	question string // that its lines answer; empty where they are all that can be done now
	listed   string // the number typed so far
	listLeaf int    // from 0
}

// leaves is the page of the list with these lines.
func (l *list) leaves(t theme.Theme, words []string, w, h int) pane.Leaves {
	return pane.List(t, l.question, words, l.listed, w, h)
}

// answer is what a key does to a list, or to a field.
type answer uint8

const (
	typedOn answer = iota // what is typed changed
	closed                // it is closed, and nothing else is done
	picked                // what was typed is meant
	passed                // the key means something else than here
)

// listKey takes a key while the list is shown.
func (l *list) listKey(name string) answer {
	switch {
	case len(name) == 1 && name[0] >= '0' && name[0] <= '9':
		if len(l.listed) < 2 {
			l.listed += name
		}
		return typedOn
	case name == "backspace" || name == "ctrl+h" || name == "delete":
		l.listed = l.listed[:max(0, len(l.listed)-1)]
		return typedOn
	case name == "/" && l.listed != "":
		l.listed = ""
		return typedOn
	case name == "*" || name == "/" || name == "esc" || (isEnter(name) && l.listed == ""):
		return closed
	case isEnter(name):
		return picked
	}
	return passed
}

// number is the line that was typed, from 1, of so many; 0 where none is meant: the next leaf was asked for, or why says why.
func (l *list) number(of int, page pane.Leaves) (n int, why string) {
	n, _ = strconv.Atoi(l.listed)
	l.listed = ""
	switch {
	case n == 0:
		l.listLeaf, _ = page.Next(l.listLeaf)
		return 0, ""
	case n > of:
		return 0, "there is no line " + strconv.Itoa(n) + "; type one of 1 to " + strconv.Itoa(of)
	}
	return n, ""
}

// wordsOf are the lines of a list as they are shown.
func wordsOf[M any](all []item[M]) []string {
	out := make([]string, len(all))
	for i, it := range all {
		out[i] = it.words
		if it.keys != "" {
			out[i] += " (" + strings.Join(strings.Split(it.keys, ""), " ") + ")"
		}
	}
	return out
}

// by is the line that a key chooses at once.
func by[M any](all []item[M], name string) (it item[M], ok bool) {
	for _, it := range all {
		if len(name) == 1 && strings.Contains(it.keys, name) {
			return it, true
		}
	}
	return it, false
}

func isEnter(name string) bool { return name == "enter" || name == "ctrl+j" }

// items are the lines of the list that is shown: the answers to what is asked, or all that can be done now. What a key does has
// one, and one for each answer where it asks for one of several.
func (m *Model) items() (out []item[Model]) {
	if m.answers != nil {
		return m.answers
	}
	out = m.wayItems()
	for _, b := range keys.Listed(m.situation()) {
		r := b.Row
		switch {
		case r != nil && len(r.Offers(&m.view.State)) > 0:
			for _, it := range m.offers(r, "", r.Offers(&m.view.State)) {
				it.keys = "" // which mean something else on this list
				out = append(out, it)
			}
		case r != nil && len(r.Picks(&m.view.State)) > 0:
			out = append(out, m.checkItems(r)...)
			out = append(out, m.picks(r, "")...)
		default:
			words := b.Words()
			if r != nil {
				if now := lines.Listed(r, &m.view.State, m.view.State.Set.Job.Unit); now != "" {
					words = m.view.Num(now)
				}
			}
			out = append(out, item[Model]{words: m.view.Plain(words), do: func(m Model) (Model, tea.Cmd) { return m.act(b) }})
		}
	}
	return out
}

// checkItems are the answers to the check of a sign, where one is asked for, in the order of the numbers that answer it on its own page.
func (m *Model) checkItems(r *session.CommandRow) (out []item[Model]) {
	s := &m.view.State
	word := r.First(s)
	if word == "" || !m.situation().Sign {
		return nil
	}
	for _, it := range m.offers(r, word, r.Answers(s, word)) {
		it.keys = ""
		out = append(out, it)
	}
	return out
}

// offers are lines for the answers to what a row asks, behind the word that was picked, if one was.
func (m *Model) offers(r *session.CommandRow, word string, all []session.Choice) (out []item[Model]) {
	for _, c := range all {
		out = append(out, item[Model]{m.view.Plain(c.Words), c.Key, func(m Model) (Model, tea.Cmd) { return m.chosen(r, word, c) }})
	}
	return out
}

// picks are lines for what may be picked for a row, but for one.
func (m *Model) picks(r *session.CommandRow, but string) (out []item[Model]) {
	s := &m.view.State
	for _, word := range r.Picks(s) {
		if word == but {
			continue
		}
		words := m.view.Plain(lines.Pick(r, s, s.Set.Job.Unit, word))
		out = append(out, item[Model]{words: words, do: func(m Model) (Model, tea.Cmd) { return m.pickedFor(r, word) }})
	}
	return out
}

// openList shows the list of all that can be done now from its first leaf.
func (m *Model) openList() { m.openAnswers("", nil) }

// openAnswers shows a list of answers, below what it asks.
func (m *Model) openAnswers(ask string, all []item[Model]) {
	m.page, m.list, m.answers = listPage, list{question: ask}, all
	m.turned()
}

// closeList closes it without an entry.
func (m *Model) closeList() {
	m.page, m.list, m.answers = noPage, list{}, nil
	m.turned()
}

// listNamed takes a key while the list is shown. A key that means nothing to the list closes it and means what it says; digits in
// front of it were a number's.
func (m Model) listNamed(name string) (Model, tea.Cmd) {
	if it, ok := by(m.answers, name); ok && m.listed == "" {
		m.closeList()
		m.say("")
		return it.do(m)
	}
	switch m.listKey(name) {
	case typedOn:
		return m, nil
	case closed:
		m.closeList()
		return m, nil
	case picked:
		return m.pick()
	case passed:
	}
	digits := m.listed
	m.closeList()
	if numeric(name) {
		m.typed(digits)
	}
	return m.named(name)
}

// pick does what stands behind the number that was typed; 0 turns to the next leaf.
func (m Model) pick() (Model, tea.Cmd) {
	all := m.items()
	n, why := m.number(len(all), m.list.leaves(m.view.Theme, wordsOf(all), m.width, m.bodyHeight()))
	switch {
	case why != "":
		m.complain(why, "")
		return m, nil
	case n == 0:
		m.turned()
		return m, nil
	}
	m.closeList()
	m.say("")
	return all[n-1].do(m)
}

// chosen enters one of the answers to what a row's key asks, behind the word that was picked, if one was.
func (m Model) chosen(r *session.CommandRow, word string, c session.Choice) (Model, tea.Cmd) {
	said, err := r.Say(strings.TrimSpace(word+" "+c.Text), m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	return m.start(said)
}
