package tui_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// deadline is how long one command of the screen may take: far more than an append needs, so that
// only a command that waits for something runs into it.
const deadline = 10 * time.Second

// driver works a screen as the terminal library would, but on the goroutine of the test: it calls
// Update, carries out the commands that come back, and feeds their results in again.
//
// While it holds, commands lie where they are until Release; with a shuffle, several that lie
// there are carried out in any order, as the library may do.
type driver struct {
	t       testing.TB
	model   tea.Model
	live    *session.Live
	bench   *practice.Machine // in practice, else nil
	seed    uint64            // and its number
	mem     *session.Memory
	held    []tea.Cmd
	holds   bool
	shuffle *rand.Rand
	quit    bool
	stopped bool // the screen has asked to be suspended
	most    int  // commands that have lain there at one time
}

// Send hands a message to the screen.
func (d *driver) Send(msgs ...tea.Msg) *driver {
	d.t.Helper()
	for _, msg := range msgs {
		var cmd tea.Cmd
		d.model, cmd = d.model.Update(msg)
		d.lay(cmd)
	}
	if !d.holds {
		d.Release()
	}
	return d
}

// lay puts a command to the others.
func (d *driver) lay(cmd tea.Cmd) {
	if cmd != nil {
		d.held = append(d.held, cmd)
		d.most = max(d.most, len(d.held))
	}
}

// Hold leaves commands lying until Release.
func (d *driver) Hold() *driver { d.holds = true; return d }

// Release carries out the commands that lie there, those that they cause too, and holds no longer.
func (d *driver) Release() *driver {
	d.t.Helper()
	d.holds = false
	for len(d.held) > 0 {
		d.one()
	}
	return d
}

// one carries out one of the commands that lie there.
func (d *driver) one() {
	d.t.Helper()
	i := 0
	if d.shuffle != nil {
		i = d.shuffle.IntN(len(d.held))
	}
	cmd := d.held[i]
	d.held = append(d.held[:i:i], d.held[i+1:]...)
	watch := time.AfterFunc(deadline, func() { panic(fmt.Sprintf("a command of the screen takes more than %v", deadline)) })
	msg := cmd()
	watch.Stop()
	switch msg := msg.(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.lay(c)
		}
	case tea.QuitMsg:
		d.quit = true
	case tea.SuspendMsg:
		d.stopped = true
	default:
		var next tea.Cmd
		d.model, next = d.model.Update(msg)
		d.lay(next)
	}
}

// Type presses the keys of a text one by one, as a hand does.
func (d *driver) Type(text string) *driver {
	d.t.Helper()
	for _, r := range text {
		d.Send(char(r))
	}
	return d
}

// Burst sends a text in one message, as a cable does.
func (d *driver) Burst(text string) *driver {
	d.t.Helper()
	return d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)})
}

// Paste sends a text as a bracketed paste.
func (d *driver) Paste(text string) *driver {
	d.t.Helper()
	return d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
}

// Press presses keys that send no character.
func (d *driver) Press(keys ...tea.KeyType) *driver {
	d.t.Helper()
	for _, k := range keys {
		d.Send(tea.KeyMsg{Type: k})
	}
	return d
}

// Enter, Esc: the keys.
func (d *driver) Enter() *driver { d.t.Helper(); return d.Press(tea.KeyEnter) }
func (d *driver) Esc() *driver   { d.t.Helper(); return d.Press(tea.KeyEsc) }

// Confirm presses Enter until something has come of it: an action may be told in pieces.
func (d *driver) Confirm() *driver {
	d.t.Helper()
	for range 9 {
		before := d.state().Events
		if d.Enter(); d.holds || d.state().Events != before {
			break
		}
	}
	return d
}

func char(r rune) tea.KeyMsg {
	if r == ' ' {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
}

// Size makes the window so large.
func (d *driver) Size(w, h int) *driver {
	d.t.Helper()
	return d.Send(tea.WindowSizeMsg{Width: w, Height: h})
}

// Screen is what can be read on the screen, without colours.
func (d *driver) Screen() string { return ansi.Strip(d.model.View()) }

// state is what the session has on record; prompt is what it waits for.
func (d *driver) state() session.State { return d.live.State() }

func (d *driver) prompt() session.Prompt {
	s := d.state()
	return s.Prompt()
}

// expectation is something that a screen should show.
type expectation struct {
	words []string
	ok    func(screen string) bool
}

// Line expects one line that holds all the words.
func Line(words ...string) expectation {
	return expectation{words, func(screen string) bool {
		for _, l := range strings.Split(screen, "\n") {
			if hasAll(l, words) {
				return true
			}
		}
		return false
	}}
}

// Nowhere expects that none of the words is to be read anywhere.
func Nowhere(words ...string) expectation {
	return expectation{append([]string{"none of"}, words...), func(screen string) bool {
		for _, w := range words {
			if strings.Contains(screen, w) {
				return false
			}
		}
		return true
	}}
}

func hasAll(l string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(l, w) {
			return false
		}
	}
	return true
}

// Expect holds the screen to what it should show.
func (d *driver) Expect(all ...expectation) *driver {
	d.t.Helper()
	screen := d.Screen()
	for _, e := range all {
		if !e.ok(screen) {
			d.t.Fatalf("the screen shows no line with %q:\n%s", e.words, screen)
		}
	}
	return d
}

// Readings holds the present sweep to these entries in millimetres, exactly.
func (d *driver) Readings(want ...float64) *driver {
	d.t.Helper()
	s := d.state()
	var got []float64
	for _, st := range s.Sweep.Stations[:s.Sweep.N] {
		got = append(got, st.Reading)
	}
	if len(got) != len(want) {
		d.t.Fatalf("readings %v, want %v\n%s", got, want, d.Screen())
	}
	for i := range got {
		if got[i] != want[i] {
			d.t.Fatalf("readings %v, want %v", got, want)
		}
	}
	return d
}

// Waits holds the session to what it waits for.
func (d *driver) Waits(w session.Waits) *driver {
	d.t.Helper()
	if got := d.prompt().Waits; got != w {
		d.t.Fatalf("the session waits for %d, want %d\n%s", got, w, d.Screen())
	}
	return d
}

// Fits holds the screen to the window.
func (d *driver) Fits(w, h int) {
	d.t.Helper()
	view := d.model.View()
	if got := lipgloss.Height(view); got > h {
		d.t.Fatalf("%d × %d: %d lines", w, h, got)
	}
	for i, l := range strings.Split(view, "\n") {
		if got := ansi.StringWidth(l); got > w {
			d.t.Fatalf("%d × %d: line %d is %d wide: %q", w, h, i+1, got, l)
		}
	}
}
