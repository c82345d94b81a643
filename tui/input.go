package tui

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
)

// maxEntry bounds what is typed for one reading. One character more is kept, so that what is too
// long is refused as a whole: its beginning might be a number of its own.
const maxEntry = 16

// key takes a key message into the queue. A cable that types arrives as one message of many
// characters. Its time of arrival goes with it, for it may wait there.
func (m Model) key(msg tea.KeyMsg) (Model, tea.Cmd) {
	// An older model's queue may share this array; nobody goes on from an older model.
	m.queue = append(m.queue, pressed{KeyMsg: msg, at: m.cfg.Now()})
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
func (m Model) take(k pressed) (Model, tea.Cmd) {
	if k.sent {
		return m.takeSent(k.reading)
	}
	msg, name := k.KeyMsg, k.String()
	if m.lost != nil {
		return m.afterLoss(name)
	}
	if m.tooSoon(k.at, name, m.bare(k.KeyMsg, name)) {
		m.complain(soonWords(name), m.onceWords())
		return m, nil
	}
	if m.once != nil {
		if next, cmd, done := m.answeredOnce(name); done {
			return next, cmd
		}
		m.once = nil
		m.say("")
	}
	switch {
	case m.mode == typing:
		return m.fieldKey(msg)
	case msg.Type == tea.KeyRunes && !msg.Alt && (msg.Paste || len(msg.Runes) > 1):
		if m.page == listPage {
			m.closeList()
		}
		m.burst = msg.Runes
		return m, nil
	case m.page == listPage:
		return m.listNamed(name)
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
		m.complain("no reading is asked for", "/ clears "+m.view.Entry)
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
	if m.handles(name) {
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
	case "/":
		if m.view.Entry != "" { // clears what was mistyped, and nothing else
			m.view.Entry = ""
			return m, nil
		}
		if m.page == noPage && m.view.Piece > 0 { // shows the piece before, and takes nothing back
			m.view.Piece--
			m.turned()
			return m, nil
		}
		if m.page == helpPage {
			m.closeHelp()
			return m, nil
		}
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
	m.turned()
	switch b.Action {
	case keys.Enter:
		return m.enter()
	case keys.Dial:
		return m.takeDial()
	case keys.List:
		if m.page == helpPage && m.topics.lists() {
			m.openAnswers(m.topics.heading(true), topicItems(m.topics.all, Model.openTopic))
		} else {
			m.openList()
		}
	case keys.Wind:
		m.say(m.handWords())
	case keys.Rings:
		m.view.Bearings = m.view.OtherBearings()
		words := "bearings, anticlockwise from +X seen from above"
		if m.view.Bearings == session.ByRing {
			words = "the ring's figures"
		}
		m.say("places are told by " + words)
	case keys.Taught:
		m.turnPage(taughtPage)
	case keys.Trials:
		m.turnPage(trialsPage)
	case keys.Form:
		m.turnPage(formPage)
	case keys.Setup:
		m.turnPage(setupPage)
	case keys.Retry:
		m.busy = true
		return m, m.retry()
	case keys.Help:
		m.turnPage(helpPage)
	case keys.Swap:
		m.swapped = !m.swapped
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		if m.view.Entry != "" {
			return m.askOnce("quit, and "+m.view.Entry+", which is typed, is not taken", nil)
		}
		m.leaving = true
		return m, tea.Quit
	default: // a key of another screen
	}
	return m, nil
}

// entry enters what a row's key says, or asks for what belongs to it.
func (m Model) entry(r *session.CommandRow) (Model, tea.Cmd) {
	if next, cmd, ok := m.asks(r); ok {
		return next, cmd
	}
	if r.Takes() {
		return m.ask(r, "")
	}
	c, err := r.Say("", m.view.State.Set.Job.Unit)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	if r.Ends != "" {
		return m.askOnce(r.Label+", and "+r.Ends, c)
	}
	return m.start(c)
}

// enter, with nothing typed, closes a page, shows the next piece of an action, confirms, takes what the needle shows, or asks
// whether a reading in doubt is to stand, the sweep is enough, or the setting is accepted.
func (m Model) enter() (Model, tea.Cmd) {
	if m.page == helpPage {
		m.turnPage(helpPage)
		return m, nil
	}
	if m.page != noPage {
		m.page = noPage
		m.turned()
		return m, nil
	}
	if m.more() {
		m.view.Piece++
		m.calm()
		m.turned()
		return m, nil
	}
	if m.ending {
		return m.leaveEnd()
	}
	switch p := &m.view.Prompt; {
	case p.Wind.Which != nil:
		return m.askOnce("the slide stopped there", session.Stopped{})
	case p.Waits == session.ForAccept:
		return m.askOnce("accept", session.Accept{})
	case m.cfg.Bench != nil && m.situation().Measures:
		return m.takeDial()
	case m.view.Takes():
		return m.takeNeedle(false)
	case m.view.Watch != nil:
		return m.takeWind()
	case p.Waits != session.ForReading:
		return m.start(session.Confirm{})
	case p.Reading.Again:
		return m.askOnce("keep "+m.view.DoubtedReading()+" as it is", session.Keep{})
	case m.cfg.Bench != nil:
		return m.takeDial()
	case m.situation().Looking || m.tooFew(): // no sweep is open that it could end, or none that it can end yet
		return m.start(session.Confirm{})
	}
	return m.askOnce("enough stations, fit what is there", session.Enough{})
}

// tooFew reports whether the open sweep cannot be ended yet: it has neither the readings of a fit nor those of a comparison.
func (m *Model) tooFew() bool {
	_, pair := m.view.State.Pair()
	return !pair && m.view.State.TooFew()
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
		if !strings.ContainsAny(text, " ;") { // the keypad has no space: Enter stands between the two
			m.view.Entry = text + " "
			m.say(text + " is x; now y")
			return m, nil
		}
		p, err := session.ParsePoint(text, m.view.State.Set.Job.Unit)
		if err != nil {
			m.complain(err.Error(), "x y, like 12.345 -3.21")
			return m, nil
		}
		return m.start(p)
	}
	c, err := m.view.State.Figure(text)
	if err != nil {
		m.complain(err.Error(), "")
		return m, nil
	}
	if why := m.belies(c); why != "" {
		return m.askOnce(why, c)
	}
	return m.start(c)
}

// takeDial enters what the simulated needle, or another thing that is read, shows.
func (m Model) takeDial() (Model, tea.Cmd) {
	m.view.Entry = ""
	if p := m.view.Prompt; p.Waits == session.ForChore || p.Wind.Reads { // the hands measure the arc, or read the collar
		answer, _, err := m.cfg.hands().Do(p)
		if err != nil {
			m.complain(err.Error(), "")
			return m, nil
		}
		return m.start(answer)
	}
	if m.pointAsked() {
		return m.start(session.Confirm{}) // the simulated hand touches, and reads the readouts
	}
	if m.view.Takes() {
		return m.takeNeedle(false)
	}
	if !m.view.NeedleOn {
		m.complain("the needle is off the dial", "say so with *")
		return m, nil
	}
	return m.start(session.Take{Reading: m.view.Needle})
}

// afterLoss carries out a key once an entry could not be recorded: one may look and leave.
func (m Model) afterLoss(name string) (Model, tea.Cmd) {
	if name == "/" && m.page == helpPage {
		m.closeHelp()
		return m, nil
	}
	b, ok := keys.Find(m.bindings(), name)
	if !ok || b.Why != "" {
		return m, nil
	}
	return m.act(b)
}
