package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom"
)

// door is a screen of which nothing comes to the terminal but what prints ([geom.Prints]), line feeds, and the styles that it is drawn
// in. The panes make fit what others have written where they draw it; what one of them forgets ends here.
type door struct{ tea.Model }

func (d door) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m, cmd := d.Model.Update(msg)
	return door{m}, cmd
}

func (d door) View() string { return harmless(d.Model.View()) }

// harmless puts a stand-in of one cell, as the panes do, for everything in a drawn screen that could drive a terminal.
func harmless(screen string) string {
	var out strings.Builder
	for rest := screen; rest != ""; {
		i := strings.IndexByte(rest, '\x1b')
		if i < 0 {
			i = len(rest)
		}
		out.WriteString(geom.Printable(rest[:i], '?', '\n'))
		if rest = rest[i:]; rest == "" {
			break
		}
		n := styled(rest)
		if n == 0 {
			n = 1
			out.WriteByte('?')
		} else {
			out.WriteString(rest[:n])
		}
		rest = rest[n:]
	}
	return out.String()
}

// styled is how long a sequence is that a text begins with and that only says how what follows is drawn (select graphic rendition,
// ECMA-48, 8.3.117); 0 where it is another, or none.
func styled(text string) int {
	rest, ok := strings.CutPrefix(text, "\x1b[")
	if !ok {
		return 0
	}
	rest = strings.TrimLeft(rest, "0123456789;:")
	if !strings.HasPrefix(rest, "m") {
		return 0
	}
	return len(text) - len(rest) + 1
}
