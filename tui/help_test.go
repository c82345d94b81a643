package tui_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/tui"
)

// leavesOf presses a key until the help page is closed again, and returns what stood on its leaves.
func leavesOf(t *testing.T, d *driver, key tea.KeyMsg) (out []string) {
	t.Helper()
	before := d.Screen()
	for d.Send(char('?')); d.Screen() != before; d.Send(key) {
		if out = append(out, d.Screen()); len(out) > 100 {
			t.Fatalf("the page never ends:\n%s", d.Screen())
		}
	}
	return out
}

// In every state of the job ? and Enter both turn through all leaves and then close the page, and nothing is entered; / closes it
// from any leaf, and takes nothing back.
func TestHelpIsTurnedAndClosed(t *testing.T) {
	for _, s := range scenes() {
		if s.name == "noting" || s.name == "off" || s.name == "typing" || strings.HasSuffix(s.name, "-typing") || s.name == "holding" {
			continue // ? is a character there, or something is typed
		}
		d := s.open(t, real(t, nil))
		if d.Esc(); d.quit {
			continue
		}
		events := len(d.mem.Lines)
		byKey, byEnter := leavesOf(t, d, char('?')), leavesOf(t, d, tea.KeyMsg{Type: tea.KeyEnter})
		if len(byKey) < 3 || len(byKey) != len(byEnter) {
			t.Errorf("%s: %d leaves by ?, %d by Enter; want as many, and the step, the keys and the words", s.name, len(byKey), len(byEnter))
		}
		if n := len(byKey); !strings.Contains(byKey[n-1], fmt.Sprintf("page %d of %d", n, n)) {
			t.Errorf("%s: %d leaves, of which the last is:\n%s", s.name, n, byKey[n-1])
		}
		st, p := d.state(), d.prompt()
		if what, _ := lines.Explained(&st, &p, lines.Speech{Keys: true}); !strings.Contains(byKey[0], what) {
			t.Errorf("%s: the first leaf is not of %q:\n%s", s.name, what, byKey[0])
		}
		before := d.Screen()
		if d.Type("??/"); d.Screen() != before || len(d.mem.Lines) != events {
			t.Errorf("%s: / does not close the page, or enters something:\n%s", s.name, d.Screen())
		}
	}
}

// The keypad reaches it by the list, and Enter alone leads through it and out.
func TestHelpByKeypad(t *testing.T) {
	d := loaded(t, real(t, nil))
	number := ""
	for _, it := range d.model.(tui.Model).Items() {
		if strings.HasPrefix(it.Words, "help") {
			number = it.Number
		}
	}
	d.Type("*"+number).Enter().Expect(Line("a reading at a station"), Line("page 1 of "))
	for n := 0; strings.Contains(d.Screen(), "page "); n++ {
		if n > 100 {
			t.Fatal("Enter never closes the page")
		}
		d.Enter()
	}
	d.Expect(Line("station 1 of 6")).Readings()
}

// A second press that bounces on the last leaf confirms nothing, and a second / takes nothing back.
func TestHelpDoesNotBounceIntoTheWork(t *testing.T) {
	x := winding(t)
	events := len(x.mem.Lines)
	x.after(time.Second, char('?'))
	for n := 0; strings.Contains(x.Screen(), "page "); n++ {
		if n > 100 {
			t.Fatal("Enter never closes the page")
		}
		x.after(time.Second, enterKey)
	}
	x.after(40*time.Millisecond, enterKey).wound(t, 0)
	x.after(time.Second, char('?')).after(time.Second, char('/')).after(40*time.Millisecond, char('/'))
	if len(x.mem.Lines) != events {
		t.Errorf("%d events, want %d: / has taken something back", len(x.mem.Lines), events)
	}
	x.after(time.Second, enterKey).wound(t, 1)
}

// In a replay and in a plan the same keys turn and close it.
func TestHelpOfReplayAndPlan(t *testing.T) {
	for name, d := range map[string]*driver{
		"replay": {t: t, model: tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-every-kind.jsonl")}, colours(termenv.Ascii, false))},
		"plan":   planScreen(t, false, twoCutters, termenv.Ascii),
	} {
		d.Size(80, 24)
		byKey, byEnter := leavesOf(t, d, char('?')), leavesOf(t, d, tea.KeyMsg{Type: tea.KeyEnter})
		if len(byKey) != len(byEnter) || len(byKey) < 3 {
			t.Errorf("%s: %d leaves by ?, %d by Enter", name, len(byKey), len(byEnter))
		}
		all := strings.Join(byKey, "\n")
		for _, want := range []string{"keys", "the words", "turning point: "} {
			if !strings.Contains(all, want) {
				t.Errorf("%s: no %q on its leaves", name, want)
			}
		}
		before := d.Screen()
		if d.Type("??/"); d.Screen() != before || d.quit {
			t.Errorf("%s: / does not close the page:\n%s", name, d.Screen())
		}
	}
}

// Looked at: the first leaf at the sizes that matter, in plain, and the replay's and its words.
func TestHelpLooks(t *testing.T) {
	for _, size := range [][2]int{{40, 10}, {60, 18}, {80, 24}, {120, 40}, {200, 50}} {
		d := loaded(t, real(t, nil)).Size(size[0], size[1]).Type("?")
		golden(t, fmt.Sprintf("%dx%d/help", size[0], size[1]), d.Screen())
	}
	o := real(t, nil)
	o.plain = true
	golden(t, "80x24/help.plain", loaded(t, o).Type("?").Screen())
	golden(t, "80x24/help-words", loaded(t, real(t, nil)).Type("???").Screen())
	all := records(t, "v1-every-kind.jsonl")
	replay := &driver{t: t, model: tui.NewReplay(tui.ReplayConfig{Events: all, At: 9}, colours(termenv.Ascii, false))}
	golden(t, "80x24/replay-help", replay.Size(80, 24).Type("?").Screen())
	golden(t, "120x40/replay-help", replay.Type("/").Size(120, 40).Type("?").Screen())
}

// The set-up page is turned by its own key in a session and in a replay alike, up to its last step, and then closed.
func TestSetupIsTurnedByItsKey(t *testing.T) {
	for name, d := range map[string]*driver{
		"session": loaded(t, real(t, nil)),
		"replay":  {t: t, model: tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-every-kind.jsonl")}, colours(termenv.Ascii, false))},
	} {
		d.Size(40, 10)
		before, all, n := d.Screen(), "", 0
		for d.Type("i"); d.Screen() != before; d.Type("i") {
			if n++; n > 20 {
				t.Fatalf("%s: i never closes the page:\n%s", name, d.Screen())
			}
			all += read(d)
		}
		for _, want := range []string{"page 2 of", "always swing the same way round", fmt.Sprintf("page %d of %d", n, n)} {
			if !strings.Contains(all, want) {
				t.Errorf("%s: %d leaves, and %q on none:\n%s", name, n, want, all)
			}
		}
	}
}
