package tui_test

import (
	"fmt"
	"io"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// chunks is a terminal that sends one piece at every read.
type chunks struct{ left []string }

func (c *chunks) Read(b []byte) (int, error) {
	if len(c.left) == 0 {
		return 0, io.EOF
	}
	n := copy(b, c.left[0])
	if c.left[0] = c.left[0][n:]; c.left[0] == "" {
		c.left = c.left[1:]
	}
	return n, nil
}

// recorder keeps the keys that the terminal library makes of bytes, up to ctrl+].
type recorder struct{ keys *[]tea.Msg }

func (r recorder) Init() tea.Cmd { return nil }
func (r recorder) View() string  { return "" }

func (r recorder) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok {
		if k.Type == tea.KeyCtrlCloseBracket {
			return r, tea.Quit
		}
		*r.keys = append(*r.keys, k)
	}
	return r, nil
}

// decode runs bytes through the terminal library's own reader, one read for every piece, so that
// these tests do not rest on what somebody believes that it makes of them.
func decode(t testing.TB, pieces ...string) []tea.Msg {
	t.Helper()
	var keys []tea.Msg
	in := &chunks{append(slices.Clone(pieces), "\x1d")}
	p := tea.NewProgram(recorder{&keys}, tea.WithInput(in), tea.WithOutput(io.Discard), tea.WithoutRenderer(), tea.WithoutSignalHandler())
	if _, err := p.Run(); err != nil {
		t.Fatalf("%q: %v", pieces, err)
	}
	return keys
}

// Bytes sends what a terminal sends, one read for every piece.
func (d *driver) Bytes(pieces ...string) *driver {
	d.t.Helper()
	return d.Send(decode(d.t, pieces...)...)
}

// What the terminal library makes of the sequences that the keypad and the entry stand on. Where
// one of these changes with a new version of it, tui/keypad.go has to.
func TestDecoding(t *testing.T) {
	cases := []struct {
		pieces []string
		want   string
	}{
		{[]string{"-0.12\r"}, "-0.12 enter"},
		{[]string{"\n"}, "ctrl+j"},
		{[]string{"\x08", "\x7f"}, "ctrl+h backspace"},
		{[]string{"\x1bOM"}, "alt+O M"},
		{[]string{"\x1bOp\x1bOq"}, "alt+O p alt+O q"},
		{[]string{"\x1bOp1\r"}, "alt+O p1 enter"},
		{[]string{"\x1bO", "p"}, "alt+O p"},
		{[]string{"\x1b", "Op"}, "esc Op"},
		{[]string{"\x1b", "[A"}, "esc [A"},
		{[]string{"\x1b[", "3~"}, "alt+[ 3~"},
		{[]string{"\x1b[E"}, ""}, // the 5 of a keypad without NumLock
		{[]string{"\x1b[200~0.1\r\n\x1b[201~"}, "[0.1\r\n]"},
		{[]string{"\x09\x0d\x1b"}, "tab enter esc"}, // ctrl+i, ctrl+m, ctrl+[
		{[]string{"0.1 mm\r"}, "0.1   mm enter"},
	}
	for _, c := range cases {
		got := ""
		for i, k := range decode(t, c.pieces...) {
			if i > 0 {
				got += " "
			}
			got += fmt.Sprint(k)
		}
		if got != c.want {
			t.Errorf("%q: keys %q, want %q", c.pieces, got, c.want)
		}
	}
}
