package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// once is what is asked for once more before it is done: it ends or sets aside something.
type once struct {
	// warns stands before that, where something speaks against it.
	warns, words string
	// command is what is done then; nil leaves the screen.
	command session.Command
	// does is done instead of a command.
	does func(Model) (Model, tea.Cmd)
}

// askOnce asks for it: Enter does it, and any other key means what it says.
func (m Model) askOnce(words string, c session.Command) (Model, tea.Cmd) {
	return m.asksOnce(once{words: words, command: c})
}

func (m Model) asksOnce(o once) (Model, tea.Cmd) {
	m.once = &o
	m.say(m.onceWords())
	m.turned()
	return m, nil
}

// onceWords are the question that is open; empty where none is.
func (m *Model) onceWords() string {
	if m.once == nil {
		return ""
	}
	if m.once.warns != "" {
		return m.once.warns + "; Enter once more " + m.once.words
	}
	return "Enter once more: " + m.once.words
}

// answeredOnce does what was asked for, or drops the question; done is false where the key goes on to mean what it says.
func (m Model) answeredOnce(name string) (next Model, cmd tea.Cmd, done bool) {
	asked := m.once
	m.once = nil
	m.say("")
	switch {
	case !isEnter(name):
		m.turned()
		return m, nil, name == "/" || name == "esc"
	case asked.does != nil:
		m, cmd = asked.does(m)
		return m, cmd, true
	case asked.command == nil:
		m.leaving = true
		return m, tea.Quit, true
	}
	m, cmd = m.start(asked.command)
	return m, cmd, true
}
