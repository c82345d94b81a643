package tui

import (
	"fmt"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// change puts a change into the what-if, in place of another of the same reading; readings of another
// sweep begin a new one.
func (m *Replay) change(c session.Change) {
	changes := []session.Change{c}
	for _, x := range m.changes {
		if x.Event != c.Event {
			changes = append(changes, x)
		}
	}
	all := make([]session.Event, len(m.cfg.Events))
	for i, r := range m.cfg.Events {
		all[i] = r.Event
	}
	tried, err := session.Try(all, changes)
	if err != nil && len(changes) > 1 {
		changes = changes[:1]
		tried, err = session.Try(all, changes)
	}
	if err != nil {
		m.complain(err.Error())
		return
	}
	m.changes, m.tried, m.page, m.playing = changes, tried, whatIfPage, false
	m.hand.turned()
	m.jump(m.at)
}

// changed spells the changes of the what-if.
func (m *Replay) changed() (out []string) {
	for _, c := range m.changes {
		e, ok := m.cfg.Events[c.Event-1].Event.(session.Took)
		if !ok {
			continue
		}
		d, u := m.view.State.Set.Job.Dial, m.view.State.Set.Job.Unit
		what := fmt.Sprintf("event %d, %s: %s %v ", c.Event, record.Degrees(e.Bearing.Degrees360()), record.Reading(d, u, e.Reading), u)
		if c.Out {
			what += "left out"
		} else {
			what += "read as " + record.Reading(d, u, c.Reading)
		}
		out = append(out, what)
	}
	return out
}

// typed takes a key while a reading is corrected.
func (m Replay) typed(msg tea.KeyMsg) (Replay, tea.Cmd) {
	how, cmd := typeInto(&m.field, msg, true)
	if how == typedOn {
		return m, cmd
	}
	m.typing = false
	m.field.Blur()
	switch how {
	case passed:
		return m.act(keys.List)
	case picked:
		v, err := geom.ParseNumber(session.Dialled(m.field.Value(), &m.view.State.Set.Job))
		if err != nil {
			m.complain(err.Error())
			return m, nil
		}
		m.change(session.Change{Event: m.at, Reading: m.view.State.Set.Job.Unit.MM(v)})
	case typedOn, closed:
	}
	return m, nil
}

// eventRows are the rows that tell the event of a replay: six where there is room, and fewer before the list has less than six.
func (m *Replay) eventRows() int { return max(3, min(6, m.height-10)) }

// View draws the session's own zones, and the line of time where the action would be.
func (m Replay) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	v, t := m.view, m.view.Theme
	if m.typing {
		v.Note = harmless(m.field.View())
	}
	b := m.bindings()
	keysLine := pane.Box(t, pane.Keys(&v, b, m.width), m.width, 1)
	if pane.Small(m.width, m.height) {
		return m.smallView(&v, keysLine)
	}
	next := m.eventRows()
	return pane.Frame(t, m.width, pane.Aim(&v, m.width), m.body(&v, m.width, m.height-pane.Framed-next),
		pane.Timeline(&v, &m.moment, m.width, next), keysLine)
}

// items are the lines of the list.
func (m *Replay) items() []item[Replay] {
	if m.page == replayHelp && m.topics.lists() {
		return topicItems(m.topics.all, Replay.openTopic)
	}
	return listedKeys(m.bindings(), Replay.do)
}

// listKey takes a key while the list is shown.
func (m Replay) listKey(name string) (Replay, tea.Cmd) {
	how := m.hand.listKey(name)
	switch how {
	case typedOn:
		m.typingNumber()
		return m, nil
	case closed, passed:
		m.hand.showList(false)
		m.view.Status, m.view.Alarm = "", false
		m.stand()
		if how == passed {
			return m.key(name)
		}
		return m, nil
	case picked:
	}
	all := m.items()
	n, why := m.hand.list.number(len(all), m.hand.leaves(m.view.Theme, wordsOf(all), m.width, m.bodyHeight()))
	m.typingNumber()
	if n == 0 {
		if why != "" {
			m.complain(why)
		}
		return m, nil
	}
	m.hand.showList(false)
	m.view.Status = ""
	return all[n-1].do(m)
}

// goTo shows the event whose number was typed.
func (m Replay) goTo() (Replay, tea.Cmd) {
	n, _ := strconv.Atoi(m.hand.number)
	m.hand.number = ""
	if n < 1 || n > m.line.Len() {
		m.complain(fmt.Sprintf("there is no event %d; type one of 1 to %d", n, m.line.Len()))
		return m, nil
	}
	m.playing = false
	m.jump(n)
	return m, nil
}

// typingNumber says what is being typed, on the list or for an event.
func (m *Replay) typingNumber() {
	m.view.Status, m.view.Alarm = "", false
	switch {
	case m.hand.listing:
		m.view.Status = listKeys
	case m.hand.number != "":
		m.view.Status = "event " + m.hand.number + "_  Enter goes there, / clears it"
	default:
		m.stand()
	}
}

// bodyHeight is the height of the zones that pages lie over.
func (m *Replay) bodyHeight() int {
	if pane.Small(m.width, m.height) {
		return max(1, m.height-3)
	}
	return m.height - pane.Framed - m.eventRows()
}

// smallView is what a very small window holds.
func (m *Replay) smallView(v *pane.View, keysLine string) string {
	switch {
	case m.height == 1:
		return pane.Timeline(v, &m.moment, m.width, 1)
	case (m.page != noReplayPage || m.hand.listing) && m.height >= 6:
		return m.body(v, m.width, m.height-3) + "\n" + pane.Timeline(v, &m.moment, m.width, 2) + "\n" + keysLine
	}
	return pane.Timeline(v, &m.moment, m.width, m.height-1) + "\n" + keysLine
}

// body is the work and picture zones, or the page that lies over them.
func (m *Replay) body(v *pane.View, w, h int) string {
	if m.hand.listing {
		return m.hand.leaves(v.Theme, wordsOf(m.items()), w, h).Draw(m.hand.listLeaf)
	}
	switch m.page {
	case whatIfPage:
		return pane.Tried(v, &m.tried, m.changed(), w, h)
	case notesPage:
		return pane.NotesPage(v, m.line.notesTo(m.at), w, h)
	case replayHelp, replaySetup:
		return m.leaves(w, h).Draw(m.leaf)
	case replayTrials:
		return pane.Trials(v, w, h)
	case replayForm:
		return pane.Form(v, w, h)
	case replayTaught:
		return pane.Taught(v, w, h)
	case noReplayPage:
	}
	return workZones(v, false, w, h)
}
