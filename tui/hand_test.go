package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/record"
	"example.org/trammel/tui"
)

// onlyKeypad fails for a key that a numeric keypad has not.
func onlyKeypad(t *testing.T, typed string) string {
	t.Helper()
	if i := strings.IndexFunc(typed, func(r rune) bool { return !strings.ContainsRune("0123456789+-*/.\r", r) }); i >= 0 {
		t.Fatalf("%q is not on a numeric keypad", typed[i:])
	}
	return typed
}

// pad types keys of a numeric keypad.
func (d *driver) pad(t *testing.T, typed string) *driver {
	t.Helper()
	for _, r := range onlyKeypad(t, typed) {
		if r == '\r' {
			d.Enter()
			continue
		}
		d.Send(char(r))
	}
	return d
}

// The plan by the keypad alone: an arc by its number, or by the signs, set up by Enter; the rest by the list.
func TestPlanByKeypad(t *testing.T) {
	// The order is 8 3 5 4 14 10 12 7 9 1 11 13 2 6.
	open := func() *driver { return planScreen(t, false, twoCutters, termenv.Ascii) }
	taken := func(d *driver) int { return d.model.(tui.PlanModel).Taken }
	d := open().pad(t, "14").Expect(Line("Enter goes there, / clears it"), Line("▸", "5")).pad(t, "\r").Expect(Line("▸", "14"))
	if taken(d) != 0 || d.quit {
		t.Fatalf("the Enter behind a number sets arc %d up", taken(d))
	}
	if d.pad(t, "\r"); taken(d) != 14 || !d.quit {
		t.Errorf("Enter sets up %d, want 14", taken(d))
	}
	d = open().pad(t, "+").Expect(Line("▸", "4")).pad(t, "--").Expect(Line("▸", "3")).pad(t, "-----").Expect(Line("▸", "8"))
	d.pad(t, "77\r").Expect(Line("✗ there is no element 77")).pad(t, "12/9\r").Expect(Line("▸", "9")).pad(t, "1/")
	d.pad(t, "*").Expect(Line("what can be done now"), Line("1  the element before"))
	d.pad(t, d.number("help: the signs, the keys")+"\r").Expect(Line("the plan"))
	d.pad(t, "\r").Expect(Nowhere("✓ set: accepted")).pad(t, "**").Expect(Nowhere("what can be done now"))
	d.pad(t, "*9\r").Expect(Line("✗ there is no line 9"), Line("what can be done now")).pad(t, "*")
	if d.pad(t, "*").pad(t, d.number("leave; what is accepted stays")+"\r"); taken(d) != 0 || !d.quit {
		t.Errorf("taken %d, left %v", taken(d), d.quit)
	}
	// Signs that come in one message were pressed one after the other, as a key that is held sends them.
	if d = open().Burst("++").Expect(Line("▸", "14")); d.quit {
		t.Error("left")
	}
}

// The side of the metal is turned by the list.
func TestPlanSideByKeypad(t *testing.T) {
	x, turned := platePlan(t, twoCutters), 0
	d := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: x, Turn: func(n int) (*record.Plan, string) {
		turned = n
		return x, "turned"
	}}, colours(termenv.Ascii, false))}
	d.Size(80, 24).pad(t, "1\r*")
	if d.pad(t, d.number("turn the side of the chosen element's metal")+"\r"); turned != 1 {
		t.Errorf("element %d is turned, want 1", turned)
	}
}

// The replay by the keypad alone: on and back by the signs or Enter, to an event by its number, the rest by the list.
func TestReplayByKeypad(t *testing.T) {
	d, _ := replayed(t, "v1-misread.jsonl", 0, false)
	d.pad(t, "++\r").Expect(Line("event 4 of 58")).pad(t, "-").Expect(Line("event 3 of 58"))
	d.pad(t, "7").Expect(Line("event 7_"), Line("event 3 of 58")).pad(t, "\r").Expect(Line("event 7 of 58"))
	d.pad(t, "99\r").Expect(Line("✗ there is no event 99; type one of 1 to 58"), Line("event 7 of 58")).pad(t, "12/0\r").
		Expect(Line("there is no event 0"))
	d.pad(t, "*").Expect(Line("what can be done now"), Line("1  one event on")).pad(t, d.number("what if this reading were another")+"\r")
	d.Expect(Line("it read, in truth (mm):")).pad(t, "1/-0.588\r").Expect(Line("event 7, 120°: −0.488 mm read as −0.588"))
	d.pad(t, "*").pad(t, d.number("the readings as they were")+"\r").Expect(Line("as it was"))
	d.pad(t, "*").pad(t, d.number("to the last event")+"\r").Expect(Line("event 58 of 58")).pad(t, "*")
	d.pad(t, d.number("the trials so far")+"\r").Expect(Line("Enter", "go on")).pad(t, "\r").Expect(Line("event 58 of 58"))
	if d.pad(t, "*").pad(t, d.number("quit")+"\r"); !d.quit {
		t.Error("the list does not leave")
	}
	// Held, a sign runs on; several may come in one message.
	d, _ = replayed(t, "v1-misread.jsonl", 0, false)
	d.Burst(strings.Repeat("+", 20)).Expect(Line("event 21 of 58"))
	if d.Burst("0.12"); d.quit {
		t.Error("left")
	}
}

// timed is a screen beside the session's, with a clock that a test sets.
func timed(t *testing.T, open func(now func() time.Time) tea.Model) *ticking {
	x := &ticking{driver: &driver{t: t}, now: begin}
	x.model = open(func() time.Time { return x.now })
	x.Size(80, 24)
	return x
}

// On the plan what sets up, turns or leaves is not taken before the page can have been read, nor from a key that is held; on the
// replay, where one only looks, only what leaves is guarded, and a key that is held runs on.
func TestBounceBesideTheSession(t *testing.T) {
	plan := func() *ticking {
		return timed(t, func(now func() time.Time) tea.Model {
			return tui.NewPlanModel(tui.PlanConfig{Plan: platePlan(t, twoCutters), Now: now,
				Turn: func(int) (*record.Plan, string) { return platePlan(t, twoCutters), "turned" }}, colours(termenv.Ascii, false))
		})
	}
	const ms = time.Millisecond
	x := plan().after(100*ms, enterKey)
	x.Expect(Line("✗ the page had only just changed: Enter is not taken"))
	for range 100 { // held on from the page before
		x.after(33*ms, enterKey)
	}
	if x.quit {
		t.Error("a held Enter sets an arc up")
	}
	if x.after(time.Second, enterKey); !x.quit {
		t.Error("Enter does not set an arc up once it was let go")
	}
	x = plan().after(time.Second, char('1')).after(10*ms, char('4')).after(10*ms, enterKey).after(40*ms, enterKey)
	if x.Expect(Line("▸", "14"), Line("Enter is not taken")); x.quit {
		t.Error("the Enter that bounces behind a number sets the arc up")
	}
	for _, name := range []rune{'p', 'q', '*'} {
		x = plan().after(299*ms, char(name))
		if x.Expect(Line("only just changed: " + string(name) + " is not taken")); x.quit {
			t.Errorf("%c leaves at once", name)
		}
	}
	if x = plan().after(10*ms, tea.KeyMsg{Type: tea.KeyCtrlC}); !x.quit {
		t.Error("ctrl+c does not leave at once")
	}

	replay := timed(t, func(now func() time.Time) tea.Model {
		return tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-misread.jsonl"), Now: now}, colours(termenv.Ascii, false))
	})
	replay.after(10*ms, char('q')).Expect(Line("only just changed: q is not taken"))
	replay.now = replay.now.Add(time.Second)
	for range 30 {
		replay.after(33*ms, tea.KeyMsg{Type: tea.KeyRight})
	}
	replay.Expect(Line("event 31 of 58"), Nowhere("not taken"))
	if replay.after(10*ms, char('q')); !replay.quit {
		t.Error("q does not leave from a place that was run to")
	}
}

// The number that is typed on a list is seen in every window that holds a list, on every screen.
func TestTypedNumberIsSeen(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {60, 18}, {40, 14}, {38, 10}, {30, 8}} {
		r, _ := replayed(t, "v1-misread.jsonl", 10, false)
		for name, d := range map[string]*driver{"session": loaded(t, real(t, nil)), "plan": planScreen(t, false, twoCutters, termenv.Ascii),
			"replay": r} {
			d.t = named{t, name}
			d.Size(size[0], size[1]).pad(t, "*12").Expect(Line("12_"))
			d.Fits(size[0], size[1])
		}
	}
}
