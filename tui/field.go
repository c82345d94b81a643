package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// asks asks by a list what a row's key asks: one of its answers, or which of its picks is meant; ok is false for one that asks
// for nothing of the kind.
func (m Model) asks(r *session.CommandRow) (next Model, cmd tea.Cmd, ok bool) {
	s := &m.view.State
	ask := m.view.Plain(r.Asks)
	if all := r.Offers(s); len(all) > 0 {
		m.openAnswers(ask, m.offers(r, "", all))
		return m, nil, true
	}
	if !r.ByList() || len(r.Picks(s)) == 0 {
		return m, nil, false
	}
	if word := r.First(s); word != "" {
		m, cmd = m.pickedFor(r, word)
		return m, cmd, true
	}
	m.openAnswers(ask, m.picks(r, ""))
	return m, nil, true
}

// pickedFor asks for what belongs behind a word that was picked: by a list where it is one of several answers, with the other
// picks below them, else in the field.
func (m Model) pickedFor(r *session.CommandRow, word string) (Model, tea.Cmd) {
	s := &m.view.State
	all := r.Answers(s, word)
	if len(all) == 0 {
		return m.ask(r, word)
	}
	items := m.offers(r, word, all)
	if m.cfg.Bench != nil && r.Hands() {
		items = append([]item[Model]{{words: "have the simulated hands do it", do: func(m Model) (Model, tea.Cmd) {
			return m.chosen(r, word, session.Choice{})
		}}}, items...)
	}
	m.openAnswers(m.view.Plain(lines.Field(r, s, s.Set.Job.Unit, word)), append(items, m.picks(r, word)...))
	return m, nil
}

// question is what the field asks.
type question struct {
	prompt string
	// keypad says that the answer needs no letters, so that / and * keep their meaning while it is typed.
	keypad bool
	// figures is how many numbers the answer has: the keypad has no space between them, and Enter stands for it. 0 for a text.
	figures int
	// one says that nothing but one number will do, dial that it is read off a dial, which shows no fractions.
	one, dial bool
	take      func(m Model, text string) (Model, tea.Cmd)
}

// ask opens the field for the text that a row takes, behind the word that was picked from the list, if one was.
func (m Model) ask(r *session.CommandRow, word string) (Model, tea.Cmd) {
	s := &m.view.State
	return m.openField(question{
		prompt: m.view.Num(m.view.Plain(lines.Field(r, s, s.Set.Job.Unit, word))), keypad: r.Keypad(), figures: r.Figures, dial: r.OfDial,
		take: func(m Model, text string) (Model, tea.Cmd) { return m.answered(r, strings.TrimSpace(word+" "+text)) },
	})
}

// openField opens the field with what it asks.
func (m Model) openField(q question) (Model, tea.Cmd) {
	m.mode, m.question = typing, q
	m.turned()
	return m, openField(&m.field, q.prompt, m.width)
}

// openField opens an empty field behind a prompt, in a row of w cells.
func openField(f *textinput.Model, prompt string, w int) tea.Cmd {
	f.Reset()
	f.Prompt = prompt
	fitField(f, w)
	return f.Focus()
}

// fitField fits a field into a row of w cells; the cursor stands behind the text.
func fitField(f *textinput.Model, w int) { f.Width = max(1, w-len(f.Prompt)-1) }

// closeField goes back to the work.
func (m *Model) closeField() {
	m.mode = working
	m.field.Blur()
	m.turned()
}

// typeInto takes a key while a text is typed into a field; one that is passed on opens the list.
func typeInto(f *textinput.Model, msg tea.KeyMsg, keypad bool) (how answer, cmd tea.Cmd) {
	switch name := msg.String(); {
	case name == "esc" || name == "ctrl+c" || keypad && name == "/" && f.Value() == "":
		return closed, nil
	case keypad && name == "*":
		return passed, nil
	case keypad && name == "/":
		f.Reset()
		return typedOn, nil
	case isEnter(name):
		return picked, nil
	case name == "ctrl+v": // would read the machine's clipboard
		return typedOn, nil
	}
	*f, cmd = f.Update(msg)
	return typedOn, cmd
}

// fieldKey types into the field, or takes what stands there.
func (m Model) fieldKey(msg tea.KeyMsg) (Model, tea.Cmd) {
	q := m.question
	if text := m.field.Value(); q.keypad && !q.dial && msg.String() == "/" && m.inInches() && barGoes(text, q.figures > 1) {
		m.field.SetValue(text + "/")
		m.field.CursorEnd()
		return m, nil
	}
	switch how, cmd := typeInto(&m.field, msg, q.keypad); how {
	case typedOn:
		return m, cmd
	case closed:
		m.closeField()
		return m, nil
	case passed:
		m.closeField()
		m.openList()
		return m, nil
	case picked:
	}
	text := m.field.Value()
	switch n := len(geom.LengthFields(text)); {
	case q.one && n != 1:
		m.field.Prompt = "one number; " + q.prompt // the status row is the field's
		fitField(&m.field, m.width)
		return m, nil
	case n > 0 && n < q.figures && !strings.HasSuffix(text, " "):
		m.field.SetValue(text + " ")
		m.field.CursorEnd()
		return m, nil
	}
	m.closeField()
	return q.take(m, strings.TrimSpace(text))
}

// barGoes reports whether / is the bar of a fraction of an inch behind what a field holds, and not the key that clears it: only
// behind inches and a numerator, 1-3, or 1 3 where no second figure is asked for. That is no number and the beginning of
// nothing else, so that whoever meant to clear it sees the bar, and the next / clears. A numerator alone may be the whole
// figure, mistyped: it is cleared as ever, and 3/16 is typed 0-3/16. At a reading / always clears: no dial shows fractions.
func barGoes(text string, more bool) bool {
	fields := geom.LengthFields(text + "/64") // any numerator that a fraction can have
	last := fields[len(fields)-1]
	_, err := geom.ParseLength(last, geom.Inch)
	between := "- "
	if more {
		between = "-"
	}
	return err == nil && strings.ContainsAny(strings.TrimLeft(last, "+-−"), between)
}

func (m *Model) inInches() bool { return m.view.State.Set.Job.Unit == geom.Inch }

// answered enters what was typed into the field for a row.
func (m Model) answered(r *session.CommandRow, text string) (Model, tea.Cmd) {
	c, err := r.Answer(&m.view.State, text)
	if err != nil {
		m.complain(err.Error(), r.Keys[0]+", then "+r.Example)
		return m, nil
	}
	if c == nil {
		return m, nil
	}
	return m.start(c)
}
