package tui

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
)

// maxEntry bounds what is typed for one reading. One character more is kept, so that what is too
// long is refused as a whole: its beginning might be a number of its own.
const maxEntry = 16

// key takes a key message into the queue. A cable that types arrives as one message of many
// characters.
func (m Model) key(msg tea.KeyMsg) (Model, tea.Cmd) {
	// An older model's queue may share this array; nobody goes on from an older model.
	m.queue = append(m.queue, msg)
	return m.next()
}

// next takes keys from the queue until one of them has set a step going.
func (m Model) next() (Model, tea.Cmd) {
	var cmds []tea.Cmd
	for !m.busy && !m.leaving && (len(m.burst) > 0 || len(m.queue) > 0) {
		var cmd tea.Cmd
		if len(m.burst) > 0 {
			m, cmd = m.line()
		} else {
			msg := m.queue[0]
			m.queue = m.queue[1:]
			m, cmd = m.take(msg)
		}
		if cmd != nil {
			cmds = append(cmds, cmd)
		}
	}
	return m, tea.Batch(cmds...)
}

// take carries out the key whose turn it is.
func (m Model) take(msg tea.KeyMsg) (Model, tea.Cmd) {
	name := msg.String()
	if m.enoughAsked && name != "enter" && name != "ctrl+j" {
		m.enoughAsked = false
		m.say("")
	}
	switch {
	case m.lost != nil:
		return m.afterLoss(name)
	case m.mode == typing && m.asking != nil:
		return m.figureKey(msg, name)
	case m.mode == typing:
		return m.fieldKey(msg, name)
	case msg.Type == tea.KeyRunes && !msg.Alt && (msg.Paste || len(msg.Runes) > 1):
		if m.mode == choosing {
			m.mode, m.ways, m.view.Choices = working, nil, nil
			m.say("")
		}
		m.burst = msg.Runes
		return m, nil
	case m.mode == choosing && m.ways != nil:
		return m.wayChoice(name)
	case m.mode == choosing:
		return m.choice(name)
	}
	return m.named(name)
}

// line takes the characters of a burst up to the next end of line, which takes the reading in
// front of it and does nothing else: it never confirms, for no hand has pressed it.
func (m Model) line() (Model, tea.Cmd) {
	n := 0
	for n < len(m.burst) && m.burst[n] != '\r' && m.burst[n] != '\n' {
		n++
	}
	text, ended := m.burst[:n], n < len(m.burst)
	if ended {
		n++
	}
	m.burst = m.burst[n:]
	m.typed(strings.TrimFunc(string(text), unicode.IsSpace))
	if !ended || m.view.Entry == "" {
		return m, nil
	}
	return m.takeEntry()
}

// typed adds characters to the entry. Those of a burst are added whatever they are: a shortcut
// among them was not meant as one, and leaving it out would make another number of the rest.
func (m *Model) typed(text string) {
	if text == "" {
		return
	}
	if m.view.Prompt.TakesNumber() {
		m.page = noPage
	}
	for _, r := range text {
		if utf8.RuneCountInString(m.view.Entry) > m.longest() {
			break
		}
		if !geom.Prints(r) {
			r = utf8.RuneError
		}
		m.view.Entry += string(r)
	}
	if !m.view.Prompt.TakesNumber() {
		m.complain("no reading is asked for", "Esc clears "+m.view.Entry)
	}
}

// numeric reports whether a key is a character that may stand in a reading.
func numeric(name string) bool {
	return utf8.RuneCountInString(name) == 1 && strings.Contains("0123456789+-.,−", name)
}

// named carries out a key by its name.
func (m Model) named(name string) (Model, tea.Cmd) {
	if numeric(name) || m.between(name) {
		m.typed(name)
		return m, nil
	}
	switch name {
	case "backspace", "ctrl+h", "delete":
		if r := []rune(m.view.Entry); len(r) > 0 {
			m.view.Entry = string(r[:len(r)-1])
		} else if name == "delete" { // which a keypad's point sends without Num Lock
			m.useless(name)
		}
		return m, nil
	case "esc":
		m.view.Entry, m.page = "", noPage
		m.say("")
		return m, nil
	}
	b, ok := keys.Find(m.bindings(), name)
	if !ok {
		m.useless(name)
		return m, nil
	}
	if b.Action == keys.Enter && m.view.Entry != "" {
		return m.takeEntry()
	}
	if b.Why != "" {
		m.complain(b.Help().Desc+": "+b.Why, "")
		return m, nil
	}
	return m.act(b)
}

// act carries out what a key is for.
func (m Model) act(b keys.Binding) (Model, tea.Cmd) {
	if b.Row != nil {
		return m.entry(b.Row)
	}
	switch b.Action {
	case keys.Enter:
		return m.enter()
	case keys.Dial:
		return m.takeDial()
	case keys.Ways:
		return m.listWays()
	case keys.Rings:
		m.view.Bearings = m.view.OtherBearings()
		words := "bearings, anticlockwise from +X seen from above"
		if m.view.Bearings == session.ByRing {
			words = "the ring's figures"
		}
		m.say("places are told by " + words)
	case keys.Taught:
		m.toggle(taughtPage)
	case keys.Trials:
		m.toggle(trialsPage)
	case keys.Form:
		m.toggle(formPage)
	case keys.Setup:
		m.turnSetup()
	case keys.Retry:
		m.busy = true
		return m, m.retry()
	case keys.Help:
		m.toggle(helpPage)
	case keys.Swap:
		m.swapped = !m.swapped
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		m.leaving = true
		return m, tea.Quit
	default: // a key of another screen
	}
	return m, nil
}

// entry enters what a row's key says, or asks for what belongs to it.
func (m Model) entry(r *session.CommandRow) (Model, tea.Cmd) {
	switch {
	case len(r.Choices) > 0:
		m.mode, m.asked = choosing, r
		m.say(r.Asks)
		return m, nil
	case r.Takes():
		s := &m.view.State
		return m.ask(r, m.view.Num(m.view.Plain(lines.Field(r, s, s.Set.Job.Unit))))
	}
	c, err := r.Say("", m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	return m.start(c)
}

func (m *Model) toggle(p page) {
	if m.page == p {
		p = noPage
	}
	m.page = p
}

// enter, with nothing typed, closes a page, confirms, or asks whether a reading in doubt is to stand,
// or the sweep is enough.
func (m Model) enter() (Model, tea.Cmd) {
	if m.page != noPage {
		m.page = noPage
		return m, nil
	}
	if m.view.Prompt.Wind.Which != nil {
		return m.enterWhich()
	}
	if m.view.Prompt.Waits != session.ForReading {
		return m.start(session.Confirm{})
	}
	doubt := m.view.Prompt.Reading.Again
	switch {
	case !m.enoughAsked:
		m.enoughAsked = true
		m.say("Enter alone once more: enough stations, fit what is there")
		if doubt {
			m.say("Enter alone once more: keep " + m.view.DoubtedReading() + " as it is")
		}
		return m, nil
	case doubt:
		m.enoughAsked = false
		return m.start(session.Keep{})
	}
	m.enoughAsked = false
	return m.start(session.Enough{})
}

// enterWhich takes Enter alone, twice, for the word that the slide stopped where the number says.
func (m Model) enterWhich() (Model, tea.Cmd) {
	if !m.enoughAsked {
		m.enoughAsked = true
		m.say("Enter alone once more: the slide stopped there")
		return m, nil
	}
	m.enoughAsked = false
	return m.start(session.Stopped{})
}

// takeEntry takes what has been typed as a reading. Where none is asked for it is refused, and
// nothing is confirmed: a cable may have sent it while the hand was still winding.
func (m Model) takeEntry() (Model, tea.Cmd) {
	text := m.view.Entry
	m.view.Entry = ""
	if !m.view.Prompt.TakesNumber() {
		m.complain("no reading is asked for, "+text+" is not taken", "")
		return m, nil
	}
	if utf8.RuneCountInString(text) > m.longest() {
		m.complain(fmt.Sprintf("%q… is too long, need at most %d characters", text, m.longest()), "")
		return m, nil
	}
	if m.pointAsked() {
		p, err := session.ParsePoint(text, m.view.State.Set.Job.Unit)
		if err != nil {
			m.complain(err.Error(), "x y, like 12.345 -3.21")
			return m, nil
		}
		return m.start(p)
	}
	v, err := geom.ParseNumber(text)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	return m.start(session.Take{Reading: m.view.State.Set.Job.Unit.MM(v)})
}

// takeDial enters what the simulated needle shows.
func (m Model) takeDial() (Model, tea.Cmd) {
	m.view.Entry = ""
	if p := m.view.Prompt; p.Waits == session.ForChore { // the hands measure what the cutter has left
		answer, _, err := m.cfg.Bench.Do(p)
		if err != nil {
			m.complain(err.Error(), "")
			return m, nil
		}
		return m.start(answer)
	}
	if m.pointAsked() {
		return m.start(session.Confirm{}) // the simulated hand touches, and reads the readouts
	}
	if !m.view.NeedleOn {
		m.complain("the needle is off the dial", "say so with *")
		return m, nil
	}
	return m.start(session.Take{Reading: m.view.Needle})
}

// choice answers what a key has asked; any other key goes back and means what it says.
func (m Model) choice(name string) (Model, tea.Cmd) {
	m.mode = working
	m.say("")
	for _, c := range m.asked.Choices {
		if c.Key != name {
			continue
		}
		said, err := m.asked.Say(c.Text, m.view.State.Set.Job.Unit)
		if err != nil {
			m.complain(err.Error(), "")
			return m, nil
		}
		return m.start(said)
	}
	if name == "enter" || name == "ctrl+j" {
		return m, nil // it answers the question, not the sweep
	}
	return m.named(name)
}

// ask opens the field for the text that a row takes.
func (m Model) ask(r *session.CommandRow, prompt string) (Model, tea.Cmd) {
	m.mode, m.asked = typing, r
	m.field.Reset()
	m.field.Prompt = prompt
	m.field.Width = max(1, m.width-len(prompt)-1) // the cursor stands behind the text
	return m, m.field.Focus()
}

// fieldKey types into the field, or takes what stands there.
func (m Model) fieldKey(msg tea.KeyMsg, name string) (Model, tea.Cmd) {
	switch name {
	case "esc", "ctrl+c":
		m.mode = working
		m.field.Blur()
		return m, nil
	case "enter", "ctrl+j":
		m.mode = working
		m.field.Blur()
		return m.answered(m.field.Value())
	case "ctrl+v": // would read the machine's clipboard
		return m, nil
	}
	var cmd tea.Cmd
	m.field, cmd = m.field.Update(msg)
	return m, cmd
}

// answered enters what was typed into the field. A sign check that says no way is for the simulated hands.
func (m Model) answered(text string) (Model, tea.Cmd) {
	c, err := m.asked.Answer(&m.view.State, text)
	if err != nil {
		m.complain(err.Error(), m.asked.Keys[0]+", then "+m.asked.Example)
		return m, nil
	}
	if sign, ok := c.(session.Sense); c == nil || (ok && sign.Went == "" && m.cfg.Bench == nil) {
		return m, nil
	}
	return m.start(c)
}

// afterLoss carries out a key once an entry could not be recorded: one may look and leave.
func (m Model) afterLoss(name string) (Model, tea.Cmd) {
	b, ok := keys.Find(m.bindings(), name)
	if !ok || b.Why != "" {
		return m, nil
	}
	return m.act(b)
}
