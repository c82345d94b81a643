package tui_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

func records(t testing.TB, name string) []session.Record { return testdata.Records(t, name) }

// waits keeps what a replay waits for, and lets the time pass at once.
type waits struct{ all []time.Duration }

func (w *waits) after(d time.Duration) <-chan time.Time {
	w.all = append(w.all, d)
	done := make(chan time.Time, 1)
	done <- begin
	return done
}

// replayed opens a replay of 80 × 24 at an event.
func replayed(t testing.TB, name string, at int, plain bool) (*driver, *waits) {
	t.Helper()
	w := &waits{}
	d := &driver{t: t}
	d.model = tui.NewReplay(tui.ReplayConfig{Events: records(t, name), At: at, After: w.after, Plain: plain}, colours(termenv.Ascii, plain))
	return d.Size(80, 24), w
}

// The journals open at every event, and go where the keys say.
func TestReplayMoves(t *testing.T) {
	d, _ := replayed(t, "v1-every-kind.jsonl", 0, false)
	d.Expect(Line("event 1 of 88", "2025-03-04 09:00:00"), Line("opened on practice mill"))
	d.Press(tea.KeyRight).Expect(Line("event 2 of 88", "+20s"), Line("noted: plate of the belt tensioner"))
	d.Press(tea.KeyLeft, tea.KeyLeft).Expect(Line("event 1 of 88"), Line("back: this is the first event"))
	d.Press(tea.KeyEnd).Expect(Line("event 88 of 88"), Line("accepted in trial 2"))
	d.Press(tea.KeyRight).Expect(Line("on: this is the last event"))
	d.Press(tea.KeyPgUp).Expect(Line("event 62 of 88"), Line("accepted in trial 3"))
	d.Press(tea.KeyHome, tea.KeyPgDown).Expect(Line("event 62 of 88"))
	d.Press(tea.KeyDown).Expect(Line("event 63 of 88"), Line("opened on"))
	d.Press(tea.KeyUp).Expect(Line("trial 3"))
	d.Type("n").Expect(Line("2  09:00:20  plate of the belt tensioner"))
	d.Enter().Type("c").Expect(Line("correct it: this event is no reading of a sweep"))
	d.Type("q")
	if !d.quit {
		t.Error("q does not leave")
	}
}

// What was accepted and taken back is no place to go to; what is accepted behind that is.
func TestReplayPassesOverAcceptedTakenBack(t *testing.T) {
	d := reachedEnd(t, nil, nil).Type("/").Enter().Enter() // accepted, taken back, and accepted again
	all := make([]session.Record, 0, len(d.mem.Lines))
	for i, l := range d.mem.Lines {
		r, err := session.Decode(i+1, l)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, r)
	}
	n := len(all)
	if _, again := all[n-1].Event.(session.Accepted); !again || session.Kind(all[n-2].Event) != "undone" {
		t.Fatalf("the journal ends in %T %T %T", all[n-3].Event, all[n-2].Event, all[n-1].Event)
	}
	open := func(events []session.Record) *driver {
		r := &driver{t: t, model: tui.NewReplay(tui.ReplayConfig{Events: events, At: 1}, colours(termenv.Ascii, false))}
		return r.Size(80, 24)
	}
	at := func(k int) string { return fmt.Sprintf("event %d of ", k) }
	open(all).Press(tea.KeyPgDown).Expect(Line(at(n)))
	open(all[:n-2]).Press(tea.KeyPgDown).Expect(Line(at(n - 2)))
	open(all[:n-1]).Press(tea.KeyPgDown).Expect(Line(at(1)), Line("nothing is accepted behind this event"))
}

// A remark that was written later is shown with the event that it is about, not before.
func TestReplayLaterNote(t *testing.T) {
	all := records(t, "v1-misread.jsonl")
	all = append(all, session.Record{N: len(all) + 1, T: begin, Event: session.Noted{Text: "a chip under the tip", About: 7}})
	d := &driver{t: t, model: tui.NewReplay(tui.ReplayConfig{Events: all, At: 6}, colours(termenv.Ascii, false))}
	d.Size(80, 24).Type("n").Expect(Line("notes"), Nowhere("a chip under the tip"))
	d.Press(tea.KeyRight).Expect(Line("event 7 of 59"), Line("of event 7: a chip under the tip"))
	d.Press(tea.KeyEnd).Expect(Line("noted of event 7: a chip under the tip"))
}

// The biggest surprise of a misread sweep is the misread; the next press goes to the next.
func TestReplaySurprise(t *testing.T) {
	d, _ := replayed(t, "v1-misread.jsonl", 0, false)
	// The misread of trial 2 stands; the reading of trial 1 that came as the biggest surprise, for another was misread
	// before it, fits the sweep as it ended and comes behind.
	d.Type("s").Expect(Line("surprise 1 of"), Line("ten divisions"), Nowhere("overtaken"))
	first := d.Screen()
	d.Type("s").Expect(Line("surprise 2 of", "overtaken"), Line("more than chance allows"))
	if d.Screen() == first {
		t.Error("the second press stays where it was")
	}
}

// Played, the events come one by one, each after the time that lay before it, quickened as shown: the
// journal's stamps stand beside what was waited.
func TestReplayPlays(t *testing.T) {
	d, w := replayed(t, "v1-practice-7.jsonl", 0, false)
	d.Expect(Line("×10")).Send(char(' ')).Expect(Line("event 26 of 26"))
	all := records(t, "v1-practice-7.jsonl")
	if len(w.all) != len(all)-1 {
		t.Fatalf("%d waits, want %d", len(w.all), len(all)-1)
	}
	for i, got := range w.all {
		if want := all[i+1].T.Sub(all[i].T) / 10; got != want {
			t.Errorf("before event %d: %v, want %v", i+2, got, want)
		}
	}
	d.Press(tea.KeyHome).Type("vv").Expect(Line("×1")).Hold().Send(char(' ')).Expect(Line("plays ×1", "event 1 of 26"))
	d.Send(char(' ')).Release().Expect(Line("event 1 of 26"), Nowhere("plays"))
	// A wait that was begun before the speed changed counts no more.
	d.Hold().Send(char(' ')).Type("v")
	d.one()
	d.Expect(Line("event 1 of 26"))
	d.one()
	d.Expect(Line("event 2 of 26"))
	d.Release().Expect(Line("event 26 of 26"))
}

// The misread of station 3, taken as ten divisions less, and left out: what the sweep would have said.
func TestReplayWhatIf(t *testing.T) {
	d, _ := replayed(t, "v1-misread.jsonl", 7, false)
	d.Type("w").Expect(Line("what if: no reading is changed"))
	d.Type("c").Expect(Line("it read, in truth (mm):"))
	d.Type("-0.588").Enter().Expect(Line("event 7, 120°: −0.488 mm read as −0.588"), Line("as it went"), Line("as it would have gone"))
	golden(t, "80x24/replay-whatif", d.Screen())
	d.Type("x").Expect(Line("event 7, 120°: −0.488 mm left out"))
	d.Type("z").Expect(Nowhere("as it went"), Line("as it was"))
	d.Type("cabc").Enter().Expect(Line("is not a number"))
	d.Type("c").Esc().Expect(Nowhere("in truth"))
}

// The session's own panes at an event, at the usual sizes.
func TestReplayScreens(t *testing.T) {
	for name, at := range map[string]int{"sweep": 10, "wind": 40, "accepted": 58} {
		d, _ := replayed(t, "v1-misread.jsonl", at, false)
		golden(t, "80x24/replay-"+name, d.Screen())
		golden(t, "120x40/replay-"+name, d.Size(120, 40).Screen())
	}
	d, _ := replayed(t, "v1-misread.jsonl", 10, true)
	golden(t, "80x24/replay-sweep.plain", d.Screen())
}

// What a pane draws of a state is what the session's screen drew: above the line of time both are the
// same.
func TestReplayDrawsTheSession(t *testing.T) {
	live := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 5, nothing)
	var all []session.Record
	for i, l := range live.mem.Lines {
		r, err := session.Decode(i+1, l)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, r)
	}
	m := tui.NewReplay(tui.ReplayConfig{Events: all, At: len(all)}, colours(termenv.Ascii, false))
	d := (&driver{t: t, model: m}).Size(80, 24)
	got, want := strings.Split(d.Screen(), "\n")[:16], strings.Split(live.Screen(), "\n")[:16]
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("row %d replayed\n%s\nlive\n%s", i+1, got[i], want[i])
		}
	}
}

// Whatever the size of the window and the page over it, no line is lost.
func TestReplayEverySize(t *testing.T) {
	var all []view
	for _, at := range []int{1, 7, 12, 22, 40, 58} {
		for _, page := range []string{"", "?", "t", "i", "m", "f", "n", "x", "c"} {
			d, _ := replayed(t, "v1-misread.jsonl", at, at%2 == 0)
			all = append(all, view{page, d.Type(page)})
		}
	}
	n := 0
	for w := 1; w <= 200; w++ {
		for h := 1 + w%5; h <= 60; h += 5 { // every height with every fifth width
			v := all[n*29%len(all)]
			n++
			v.t = named{t, v.name}
			v.Size(w, h).Fits(w, h)
		}
	}
	if v := all[0].Size(0, 0).model.View(); v != "trammel" {
		t.Errorf("before the size is known: %q", v)
	}
}

// A plain screen is ASCII, but for what a person has typed.
func TestReplayPlain(t *testing.T) {
	for at := 1; at <= 58; at++ {
		d, _ := replayed(t, "v1-misread.jsonl", at, true)
		for _, page := range []string{"", "x", "n"} {
			for _, r := range d.Type(page).model.View() {
				if r > '~' {
					t.Fatalf("event %d, page %q: %q on a plain screen", at, page, r)
				}
			}
		}
	}
}
