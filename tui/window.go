package tui

import tea "github.com/charmbracelet/bubbletea"

// window is the terminal's window, as every screen has it.
type window struct {
	width, height int
	drawn         bool // its size has come: from then on a page can be read
}

// common carries out what comes to every screen alike, and reports whether it was that: the window's size, of which the first has a
// page drawn for the first time, the way back from a stop, and what the filter of keys or the shell refuses.
func (w *window) common(msg tea.Msg, first func(), complain func(why string)) (cmd tea.Cmd, ok bool) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		w.width, w.height = msg.Width, msg.Height
		if !w.drawn {
			w.drawn = true
			first()
		}
	case tea.ResumeMsg:
		return tea.Batch(tea.ClearScreen, tea.WindowSize()), true
	case refusedPaste:
		complain(msg.words())
	case stayed:
		complain(msg.words())
	default:
		return nil, false
	}
	return nil, true
}
