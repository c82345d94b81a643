package tui_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/session"
)

// While a step is on its way to the disk, what is typed waits: no key is lost, none is taken out of
// turn, and no second step sets out.
func TestKeysWaitForTheStep(t *testing.T) {
	d := loaded(t, real(t, nil)).Hold()
	d.Bytes("0.12\r", "0.13\r").Type("0.14").Enter().Type("0.1")
	if len(d.held) != 1 {
		t.Fatalf("%d steps are in flight, want 1", len(d.held))
	}
	d.Readings().Expect(Line("station 1 of 6"))
	d.Release().Readings(0.12, 0.13, 0.14).Expect(Line("station 4 of 6"))
	d.Type("5").Enter().Readings(0.12, 0.13, 0.14, 0.15)
}

// A key means what it means when its turn comes, not when it was pressed: the reading typed behind
// the Enter of the last wind is the first of the next sweep, and a shortcut finds the new state.
func TestKeysMeetTheStateOfTheirTurn(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 8, nothing).Expect(Line("wind 3 of 3"))
	d.Hold().Bytes("\r", "0.12\r", "0.13\r").Type("?").Release()
	d.Readings(0.12, 0.13).Expect(Line("trial 2"), Line("a station of the verifying sweep"))

	// The last station closes the sweep: the Enter behind it was pressed before the wind could be read.
	d = (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 5, nothing)
	d.Hold().Bytes("-0.114\r", "\r").Release().Expect(Line("wind 1 of 3"), Line("only just changed"), Nowhere("once more"))
}

// Leaving waits for the step too, and nothing behind it is taken.
func TestLeavingWaitsForTheStep(t *testing.T) {
	for _, leave := range []tea.KeyMsg{char('q'), {Type: tea.KeyCtrlC}} {
		d := loaded(t, real(t, nil)).Hold().Bytes("0.12\r").Send(leave).Bytes("0.13\r")
		if len(d.held) != 1 || d.quit {
			t.Fatalf("%v while a step is in flight: %d commands, left %v; want 1, not yet", leave, len(d.held), d.quit)
		}
		if d.Release(); !d.quit {
			t.Fatalf("%v: not left", leave)
		}
		d.Readings(0.12).Bytes("0.14\r").Readings(0.12)
		if lines := len(d.mem.Lines); lines != d.state().Events {
			t.Errorf("%v: %d lines, %d events", leave, lines, d.state().Events)
		}
	}
}

// Ten thousand keys while one step hangs: every one of them is carried out, in order.
func TestFlood(t *testing.T) {
	const cycles = 1250
	d := loaded(t, real(t, nil)).Hold().Type("/") // takes back the last load
	d.Enter()
	keys := 0
	for i := range cycles {
		for _, r := range fmt.Sprintf("%.4f\r/", float64(i+1)/10000) {
			if r == '\r' {
				d.Enter()
			} else {
				d.Type(string(r))
			}
			keys++
		}
	}
	if keys < 10000 || len(d.held) != 1 {
		t.Fatalf("%d keys, %d steps in flight, want 10000 and 1", keys, len(d.held))
	}
	before := len(d.mem.Lines)
	d.Release()
	if d.most != 1 {
		t.Errorf("%d commands at one time, want 1", d.most)
	}
	lines := d.mem.Lines[before:]
	if want := 2 + 2*cycles; len(lines) != want {
		t.Fatalf("%d lines, want %d", len(lines), want)
	}
	for i, line := range lines[2:] {
		r, err := session.Decode(before+2+i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		want := session.Event(session.Undone{})
		if i%2 == 0 {
			want = session.Took{Reading: float64(i/2+1) / 10000}
		}
		if r.Event != want {
			t.Fatalf("line %d: %+v, want %+v", i, r.Event, want)
		}
	}
}

// The library carries commands out side by side. In whatever order their results come, a session
// that is typed ahead comes out the same.
func TestShuffledResults(t *testing.T) {
	ahead := func(shuffle *rand.Rand) *driver {
		o := real(t, nil)
		o.tick = time.Second // what waits is no older than keys may be
		d := loaded(t, o)
		d.shuffle = shuffle
		d.Hold().Bytes("-0.188\r-0.376\r", "-0.484\r").Type("njaws greased").Enter()
		d.Bytes("-0.406\r", "o", "p", "/", "-0.228\r-0.114\r\r\r\r").Size(100, 30)
		return d.Release()
	}
	want := ahead(nil) // Enter before the wind could be read confirms none
	want.Readings(-0.188, -0.376, -0.484, -0.406, -0.228, -0.114).Expect(Line("wind 1 of 3"))
	for seed := range uint64(10) {
		got := ahead(rand.New(rand.NewPCG(seed, 1)))
		if len(got.mem.Lines) != len(want.mem.Lines) {
			t.Fatalf("seed %d: %d lines, want %d", seed, len(got.mem.Lines), len(want.mem.Lines))
		}
		for i := range got.mem.Lines {
			if string(got.mem.Lines[i]) != string(want.mem.Lines[i]) {
				t.Fatalf("seed %d, line %d: %s, want %s", seed, i+1, got.mem.Lines[i], want.mem.Lines[i])
			}
		}
	}
}

// The driver itself: what it holds it keeps, and a batch is unrolled.
func TestDriver(t *testing.T) {
	d := &driver{t: t, model: recorder{new([]tea.Msg)}}
	ran := 0
	count := func() tea.Msg { ran++; return nil }
	d.Hold().lay(tea.Batch(count, count, tea.Batch(count, count)))
	if ran != 0 {
		t.Fatalf("%d commands carried out while held", ran)
	}
	if d.Release(); ran != 4 {
		t.Fatalf("%d commands carried out, want 4", ran)
	}
}
