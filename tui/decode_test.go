package tui_test

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui"
)

// silence, among the pieces that a terminal sends, is longer than anything waits for.
const silence = ""

// chunks is a terminal that sends one piece at every read.
type chunks struct{ left []string }

func (c *chunks) Read(b []byte) (int, error) {
	for len(c.left) > 0 && c.left[0] == silence {
		c.left = c.left[1:]
	}
	if len(c.left) == 0 {
		return 0, io.EOF
	}
	n := copy(b, c.left[0])
	if c.left[0] = c.left[0][n:]; c.left[0] == "" {
		c.left = c.left[1:]
	}
	return n, nil
}

// More: the next piece comes in time, but for a silence.
func (c *chunks) More(time.Duration) bool { return len(c.left) > 0 && c.left[0] != silence }

func (c *chunks) Leave()  {}
func (c *chunks) Return() {}

// last is the key behind the last piece of these tests: ctrl+].
const last = "\x1d"

// recorder keeps the keys that come of bytes, up to the last, and whatever else is said of them.
type recorder struct{ keys *[]tea.Msg }

func (r recorder) Init() tea.Cmd { return nil }
func (r recorder) View() string  { return "" }

func (r recorder) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch k, ok := msg.(tea.KeyMsg); {
	case ok && k.Type == tea.KeyCtrlCloseBracket:
		return r, tea.Quit
	case ok, strings.HasPrefix(fmt.Sprintf("%T", msg), "tui."):
		*r.keys = append(*r.keys, msg)
	}
	return r, nil
}

// decode runs bytes through the program's filter and the terminal library's own reader, one read for every piece, so
// that these tests do not rest on what somebody believes that they make of them.
func decode(t testing.TB, pieces ...string) []tea.Msg {
	t.Helper()
	var keys []tea.Msg
	in := &chunks{append(slices.Clone(pieces), silence, last)}
	var p *tea.Program
	from, filter := tui.Filtered(in, func(msg tea.Msg) { p.Send(msg) })
	p = tea.NewProgram(recorder{&keys}, tea.WithInput(from), tea.WithFilter(filter), tea.WithOutput(io.Discard), tea.WithoutRenderer(),
		tea.WithoutSignalHandler())
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

// What comes of the bytes that keyboards, keypads, cables and other terminals send. The sequences: ECMA-48; VT100 User
// Guide, table 3-8 (from memory); xterm's "Control Sequences".
func TestDecoding(t *testing.T) {
	const pressed = "\x1b[<0;12;7M"
	cases := []struct {
		pieces []string
		want   string
	}{
		{[]string{"-0.12\r"}, "-0.12 enter"},
		{[]string{"\n"}, "enter"},
		{[]string{"\r\n", "\r", "\n", "\n"}, "enter enter enter"},
		{[]string{"\x08", "\x7f"}, "ctrl+h backspace"},
		{[]string{"\x09\x0d\x1b"}, "tab enter esc"}, // ctrl+i, ctrl+m, ctrl+[
		{[]string{"0.1 mm\r"}, "0.1   mm enter"},

		// The keypad in application mode.
		{[]string{"\x1bOM"}, "enter"},
		{[]string{"\x1bOp\x1bOq"}, "0 1"},
		{[]string{"\x1bOn\x1bOl\x1bOm\x1bOk\x1bOj\x1bOo"}, ". , - + * /"},
		{[]string{"\x1bOp1\r"}, "0 1 enter"},
		{[]string{"\x1bO2p"}, ""}, // with Shift
		{[]string{"\x1bOZ2"}, "2"},

		// Cut by a slow line, at every place.
		{[]string{"\x1bO", "p"}, "0"},
		{[]string{"\x1b", "Op"}, "0"},
		{[]string{"\x1b", "O", "M"}, "enter"},
		{[]string{"\x1b", "[A"}, "up"},
		{[]string{"\x1b[", "3~"}, "delete"},
		{[]string{"\x1b[1", "5", "~"}, "f5"},
		{[]string{"1\xe2", "\x88\x92", "2"}, "1 − 2"},
		{[]string{"\x1b[20", "0~0.1\r\n\x1b[20", "1~2"}, "[0.1\r\n] 2"},
		// Cut and too late: the Esc has been carried out, and the rest would be a figure of its own.
		{[]string{"\x1b", silence, "[A", "2"}, "esc 2"},
		{[]string{"\x1b", silence, "Op", "2"}, "esc 2"},
		{[]string{"\x1b[", silence, "3~", "2"}, "2"},
		{[]string{"\x1b[3", silence, "~", "2"}, "2"},
		{[]string{"\x1bO", silence, "p", "2"}, "2"},
		{[]string{"\x1b[", silence, "2", "."}, "2 ."}, // no rest of a sequence
		{[]string{"\x1b", silence, "a"}, "esc a"},

		{[]string{"\x1b\x1b"}, "esc esc"},
		{[]string{"\x1b-0.12", "\x1b\r\x1b\x7f"}, "esc -0.12 esc enter esc backspace"}, // over a slow line
		{[]string{"\x1bx"}, "alt+x"},
		{[]string{"\x1b−"}, "alt+−"},

		// Num Lock is off: the digits 1 to 9, the point and the 0, in both modes of the cursor keys.
		{[]string{"\x1b[F\x1b[B\x1b[6~\x1b[D\x1b[E\x1b[C\x1b[H\x1b[A\x1b[5~\x1b[3~\x1b[2~"},
			"end down pgdown left insert right home up pgup delete insert"},
		{[]string{"\x1bOF\x1bOB\x1bOD\x1bOE\x1bOC\x1bOH\x1bOA"}, "end down left insert right home up"},
		{[]string{"\x1b[[A\x1bOP\x1b[11~\x1b[1;5C\x1b[7$\x1b[Z\x1b[Oa"}, "f1 f1 f1 ctrl+right shift+home shift+tab alt+ctrl+up"},

		// Nobody has pressed these: mice, windows that come and go, what terminals answer.
		{[]string{"0." + pressed + "\x1b[<0;12;7m1"}, "0.1"},
		{[]string{"0.\x1b[M #!1", "\x1b[M", " ", "#!2"}, "0.1 2"},
		{[]string{"0.\x1b[I1\x1b[O2"}, "0.12"},
		{[]string{"\x1b]11;rgb:1111/2222/3333\x1b\\1\x1b]10;?\a2", "\x1bP1$r0m\x1b", "\\3"}, "12 3"},
		{[]string{"\x1b[?64;1;2c\x1b[24;80R\x1b[>0;276;0c\x1b[0n\x1b[?2026;2$y\x1b[8;24;80t1"}, "1"},
		{[]string{"\x1b]11;rgb", silence, "1"}, "1"}, // an answer that stopped
		{[]string{"\x1b[201~1"}, "1"},

		// What cannot be read is a character that cannot be read, not none: the rest would be another number.
		{[]string{"0.1\xff2"}, "0.1 [\uFFFD] 2"},
		{[]string{"0.1\xe2", silence, "2"}, "0.1 [\uFFFD] 2"},

		{[]string{"\x1b[200~0.1\r\n\x1b[201~"}, "[0.1\r\n]"},
		{[]string{"\x1b[200~\x1b[201~"}, "[]"},
		{[]string{"\x1b[200~0.1", silence, "2"}, "{3 false} 2"},
		{[]string{"\x1b[200~" + strings.Repeat("1\r", 50_000) + "\x1b[201~2"}, "{100000 true} 2"},
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
			t.Errorf("%.60q: keys %.120q, want %q", c.pieces, got, c.want)
		}
	}
}

// However bytes are cut, what comes of them is the same; a burst of any length is one message, or the letter behind
// its last cut would be a key.
func TestDecodingWhereverItIsCut(t *testing.T) {
	const all = "\x1bOp\x1bOn1−\r\n\x1b[A\x1b[15~\x1b[<0;1;1M\x1b[M #!\x1b[200~1\r\x1b[201~\x1b]1;x\a\x1bx3\x1b[1;5C\x1bOM"
	want := ""
	for i := range len(all) {
		got := fmt.Sprint(decode(t, all[:i], all[i:]))
		if i == 0 {
			want = got
		}
		if joined := strings.ReplaceAll(got, "1 −", "1−"); joined != want {
			t.Errorf("cut behind %d bytes: %q, want %q", i, got, want)
		}
	}
	for _, n := range []int{2, 255, 256, 257, 511, 512, 513, 4000} {
		msgs := decode(t, strings.Repeat("7", n)+"\r")
		if k, ok := msgs[0].(tea.KeyMsg); len(msgs) != 2 || !ok || len(k.Runes) != n {
			t.Errorf("%d characters and Enter come in %d messages, want 2", n, len(msgs))
		}
	}
}
