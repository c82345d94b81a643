package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
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
		m.view.Status, m.view.Alarm = err.Error(), true
		return
	}
	m.changes, m.tried, m.page, m.playing = changes, tried, whatIfPage, false
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

// typed takes the characters of a corrected reading.
func (m Replay) typed(msg tea.KeyMsg) (Replay, tea.Cmd) {
	switch msg.String() {
	case "esc", "ctrl+c":
		m.typing = false
		m.field.Blur()
		return m, nil
	case "ctrl+v": // would read the machine's clipboard
		return m, nil
	case "enter", "ctrl+j":
		m.typing = false
		m.field.Blur()
		v, err := geom.ParseNumber(m.field.Value())
		if err != nil {
			m.view.Status, m.view.Alarm = err.Error(), true
			return m, nil
		}
		m.change(session.Change{Event: m.at, Reading: m.view.State.Set.Job.Unit.MM(v)})
		return m, nil
	}
	var cmd tea.Cmd
	m.field, cmd = m.field.Update(msg)
	return m, cmd
}

// eventRows are the rows that tell the event of a replay, where there is room.
const eventRows = 6

// View draws the session's own zones, and the line of time where the action would be.
func (m Replay) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	v, t := m.view, m.view.Theme
	if m.typing {
		v.Note = m.field.View()
	}
	b := m.bindings()
	keysLine := pane.Box(t, pane.Keys(&v, b, m.width), m.width, 1)
	if pane.Small(m.width, m.height) {
		return m.smallView(&v, keysLine)
	}
	next := eventRows
	body := m.height - next - 4
	if body < 6 { // what was said of the event goes before the list does
		next = max(3, next-(6-body))
		body = m.height - next - 4
	}
	return strings.Join([]string{
		pane.Box(t, pane.Aim(&v, m.width), m.width, 1),
		pane.Rule(t, m.width),
		m.body(&v, m.width, body),
		pane.Rule(t, m.width),
		pane.Timeline(&v, &m.moment, m.width, next),
		keysLine,
	}, "\n")
}

// smallView is what a very small window holds.
func (m *Replay) smallView(v *pane.View, keysLine string) string {
	switch {
	case m.height == 1:
		return pane.Timeline(v, &m.moment, m.width, 1)
	case m.page != noReplayPage && m.height >= 6:
		return m.body(v, m.width, m.height-3) + "\n" + pane.Timeline(v, &m.moment, m.width, 2) + "\n" + keysLine
	}
	return pane.Timeline(v, &m.moment, m.width, m.height-1) + "\n" + keysLine
}

// body is the work and picture zones, or the page that lies over them.
func (m *Replay) body(v *pane.View, w, h int) string {
	switch m.page {
	case whatIfPage:
		return pane.Tried(v, &m.tried, m.changed(), w, h)
	case notesPage:
		return pane.NotesPage(v, m.line.notesTo(m.at), w, h)
	case replayHelp:
		return pane.Help(v, m.bindings(), w, h)
	case replayTrials:
		return pane.Trials(v, w, h)
	case replayForm:
		return pane.Form(v, w, h)
	case replaySetup:
		return pane.Setup(v, w, h)
	case replayTaught:
		return pane.Taught(v, w, h)
	case noReplayPage:
	}
	return workZones(v, false, w, h)
}
