package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// heard is a screen whose clock stands until it is moved, and whose bell is heard.
type heard struct {
	*driver
	now   time.Time
	rings []int
}

func listening(t testing.TB, quiet bool) *heard {
	t.Helper()
	h := &heard{now: begin}
	mem := &session.Memory{}
	live := session.NewLive(session.State{}, mem)
	clock := func() time.Time { return h.now }
	if _, err := live.Do(session.Open{Opened: opened(t, nil)}, clock()); err != nil {
		t.Fatal(err)
	}
	shell := tui.Shell{Ring: func(n int) { h.rings = append(h.rings, n) }}
	if quiet {
		shell.Ring = nil
	}
	h.driver = &driver{t: t, live: live, mem: mem}
	h.model = tui.NewModel(tui.Config{Live: live, Now: clock, Shell: shell}, colours(termenv.Ascii, false))
	h.Size(80, 24)
	for range 4 { // each read before it is answered
		h.now = h.now.Add(time.Second)
		h.Enter()
	}
	h.Waits(session.ForReading)
	h.rings = nil
	return h
}

// rang holds the bell to how often it has sounded since it was last asked.
func (h *heard) rang(want ...int) *heard {
	h.t.Helper()
	if len(h.rings) != len(want) {
		h.t.Fatalf("the bell sounds %d, want %d\n%s", h.rings, want, h.Screen())
	}
	for i := range want {
		if h.rings[i] != want[i] {
			h.t.Fatalf("the bell sounds %d, want %d\n%s", h.rings, want, h.Screen())
		}
	}
	h.rings = nil
	return h
}

// Every key that a keypad sends without Num Lock, at a station: none is a digit, and at the first it is said, once.
func TestNumLockIsOff(t *testing.T) {
	const off = "✗ Num Lock seems to be off"
	for _, k := range []string{"\x1b[A", "\x1bOB", "\x1b[C", "\x1b[D", "\x1b[E", "\x1bOE", "\x1b[H", "\x1bOF", "\x1b[1~", "\x1b[4~",
		"\x1b[5~", "\x1b[6~", "\x1b[2~", "\x1b[3~"} {
		h := listening(t, false)
		h.Bytes(k).Expect(Line(off)).Readings()
		h.rang(1)
		h.now = h.now.Add(time.Minute)
		h.Bytes(k).Expect(Line("✗", "does nothing here"), Nowhere(off)).Readings()
		h.Bytes("0.12\r").Readings(0.12)
	}
	// Delete with something typed is what it says; on a page, and where no reading is asked for, nobody types digits.
	listening(t, false).Bytes("0.13\x1b[3~2\r").Expect(Nowhere(off)).Readings(0.12)
	h := listening(t, false)
	h.Type("?").Bytes("\x1b[A")
	h.Expect(Nowhere(off)).Type("/").Bytes("\x1b[A").Expect(Line(off))
}

// A key that does nothing says so, and again only when a second has passed, whichever key it is: one may be held down.
func TestKeysThatDoNothing(t *testing.T) {
	h := listening(t, false)
	h.Press(tea.KeyF5).Expect(Line("✗ f5 does nothing here; ? lists the keys"))
	h.rang(1)
	h.now = h.now.Add(999 * time.Millisecond)
	h.Type("J").Expect(Line("✗ f5 does nothing here"))
	h.rang()
	h.now = h.now.Add(time.Millisecond)
	h.Type("J").Expect(Line("✗ J does nothing here"))
	h.rang(1)
	h.now = h.now.Add(-time.Hour) // a clock that was put back
	h.Type(" ").Expect(Line("✗ the space bar does nothing here"))
	h.rang(1)
	h.now = h.now.Add(time.Second)
	h.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'\u009b'}}).Expect(Line("does nothing here"))
	if strings.ContainsRune(h.model.View(), '\u009b') {
		t.Error("a control character that was typed is sent to the terminal")
	}
}

// A paste that is too long or has no end is refused as a whole, in one line, on every screen.
func TestRefusedPaste(t *testing.T) {
	h := listening(t, false)
	h.Bytes("\x1b[200~" + strings.Repeat("0.12\r", 20_000) + "\x1b[201~").Readings().
		Expect(Line("✗ 100000 bytes pasted, need at most 65536; nothing of it is taken"))
	h.rang(1)
	h.Bytes("\x1b[200~0.12\r0.13\r", silence).Readings().Expect(Line("✗ a paste without its end; nothing of it is taken"))
	h.rang(1)
	h.Bytes("0.14\r").Readings(0.14)
	for name, d := range map[string]*driver{"plan": planScreen(t, false, twoCutters, termenv.Ascii),
		"replay": func() *driver { d, _ := replayed(t, "v1-practice-7.jsonl", 3, false); return d }()} {
		d.Send(tui.RefusedPaste(100_000, true))
		if !strings.Contains(strings.Join(strings.Fields(d.Screen()), " "), "100000 bytes pasted") {
			t.Errorf("%s does not say that a paste is refused:\n%s", name, d.Screen())
		}
	}
}

// The bell: once for what is refused and for a doubt, twice for the page behind a closed sweep, and never for what went
// as it should. Who wants quiet hears nothing.
func TestBell(t *testing.T) {
	h := listening(t, false)
	h.Bytes("0.3\r").Readings(0.3)
	h.rang()
	h.Bytes("abc\r").Expect(Line("is not a number"))
	h.rang(1)
	h.Bytes("abc\r") // at the same moment: a cable that repeats itself
	h.rang()
	h.now = h.now.Add(time.Second)
	h.Bytes("abc\r")
	h.rang(1)
	h.Bytes("5\r").Expect(Line("off the dial"))
	h.rang(1)

	h = listening(t, false)
	w := &stand{41.7, -0.11, 0.15}
	w.work(h.driver, 3, nothing)
	h.rang()
	h.Bytes("0.7\r").Bytes("-0.7\r").Bytes("0.7\r") // none of which fits the others
	if p := h.prompt(); !p.Reading.Again {
		t.Fatalf("no doubt has come up:\n%s", h.Screen())
	}
	h.rang(1)

	h = listening(t, false)
	(&stand{41.7, -0.11, 0.15}).work(h.driver, 20, session.ForWind)
	h.now = h.now.Add(time.Second)
	h.Waits(session.ForWind)
	h.rang(2)
	h.Type("a").Expect(Line("✗ accept"))
	h.rang(1)

	rings := 0
	shell := tui.Shell{Ring: func(n int) { rings += n }}
	p := tui.NewPlanModel(tui.PlanConfig{Plan: platePlan(t, twoCutters), Shell: shell}, colours(termenv.Ascii, false))
	(&driver{t: t, model: p}).Size(80, 24).Press(tea.KeyF5, tea.KeyF5, tea.KeyDown)
	r := tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-practice-7.jsonl"), Shell: shell}, colours(termenv.Ascii, false))
	(&driver{t: t, model: r}).Size(80, 24).Press(tea.KeyLeft, tea.KeyRight) // there is no event before the first
	if rings != 2 {
		t.Errorf("the bell sounds %d times for what plan and replay refuse, want once each", rings)
	}

	h = listening(t, true)
	h.Bytes("abc\r", "\x1b[15~", "5\r")
	(&stand{41.7, -0.11, 0.15}).work(h.driver, 20, session.ForWind)
	h.rang()
}
