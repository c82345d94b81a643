package tui

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// Seen is what a look at the journal of a session that goes on has found.
type Seen struct {
	Events []session.Record // those that are new
	Anew   bool             // they are all there are: what was seen before counts no more
	Writer string           // who writes the journal; empty where the writer has left no word
	Writes bool             // somebody does
	Err    error            // why no further look would help; what came before it counts
}

// watchEvery is the time between two looks.
const watchEvery = time.Second

// seenMsg is what a look has found.
type seenMsg struct{ Seen }

// watch waits a while and looks.
func (m Replay) watch() tea.Cmd {
	if m.cfg.Watch == nil || m.broken != "" {
		return nil
	}
	after, see := m.cfg.After, m.cfg.Watch
	return func() tea.Msg {
		<-after(watchEvery)
		return seenMsg{see()}
	}
}

// seen puts what is new behind what was there. Who stands at the last event goes with it, unless a
// correction is being typed or a play goes on; anybody else stays.
func (m Replay) seen(msg seenMsg) (Replay, tea.Cmd) {
	if msg.Err != nil {
		m.broken = msg.Err.Error()
	}
	was := m.written
	m.writer, m.written = msg.Writer, msg.Writes
	last := m.at == m.line.Len()
	switch {
	case msg.Anew && len(msg.Events) > 0:
		m.cfg.Events, m.line = msg.Events, newTimeline(msg.Events)
		m.changes, m.tried, m.playing, m.typing, m.surprise = nil, session.WhatIf{}, false, false, 0
		if m.page == whatIfPage {
			m.page = noReplayPage
		}
	case len(msg.Events) > 0:
		m.line, m.cfg.Events = m.line.and(msg.Events), slices.Concat(m.cfg.Events, msg.Events)
	}
	switch {
	case len(msg.Events) > 0 && (msg.Anew || (last && !m.typing)):
		m.jump(m.line.Len())
	case len(msg.Events) > 0:
		m.show()
	}
	if was != m.written || m.broken != "" {
		m.view.Status, m.view.Alarm = "", false
	}
	m.stand()
	return m, m.watch()
}

// stand says, where nothing else is told, that the journal is another program's.
func (m *Replay) stand() {
	switch {
	case m.cfg.Watch == nil || m.view.Status != "":
	case m.broken != "":
		m.complain(m.broken + "; what stands before it is here")
	case m.written:
		m.view.Status = "written by " + m.by() + "; looking on, nothing is taken down here"
	default:
		m.view.Status = "its writer has ended; q leaves, dial --resume goes on with it"
	}
}

// untaken says why a key that is none of a replay's does nothing, where a session could be taken for
// one's own.
func (m *Replay) untaken(name string) {
	switch {
	case m.cfg.Watch == nil:
		m.complain(nothing(name, seeKeys))
	case m.written:
		m.complain("not taken down: " + m.by() + " writes this journal")
	default:
		m.complain("not taken down: this only looks on; q leaves, dial --resume goes on")
	}
}

// by is the writer in words.
func (m *Replay) by() string {
	if m.writer == "" {
		return "another program"
	}
	return m.writer
}
