package tui_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// body is what stands between the rules of a screen.
func body(screen string) string {
	_, below, _ := strings.Cut(screen, strings.Repeat("─", 80)+"\n")
	above, _, _ := strings.Cut(below, strings.Repeat("─", 80))
	rows := strings.Split(above, "\n")
	var left []string // the head of the list: how much room there is beside and below it depends on what is said at the bottom
	for _, l := range rows[:min(7, len(rows))] {
		left = append(left, strings.TrimRight(string([]rune(l)[:min(38, len([]rune(l)))]), " "))
	}
	return strings.Join(left, "\n")
}

// The disk is full at the k-th line of a whole session, for every k: the screen says so and stays,
// takes nothing more, and shows nothing that is not on record.
func TestNotRecorded(t *testing.T) {
	whole := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForNothing)
	last := len(whole.mem.Lines)
	if last < 20 {
		t.Fatalf("a whole session has %d lines, want 20 or more", last)
	}
	for k := 1; k < last; k++ { // the first line opens the setting, before there is a screen
		disk := &failing{left: k}
		o := real(t, nil)
		o.append = disk
		d := screen(t, o)
		(&stand{41.7, -0.11, 0.15}).work(d, 40, session.ForNothing)
		d.t = named{t, fmt.Sprintf("line %d fails", k+1)}
		d.Expect(Line("✗ not recorded: write plate.jsonl: no space left on device"), Line("nothing more is taken", "q quits"),
			Line("q quit"))

		before := d.Screen()
		d.Type("0.12").Enter().Enter().Type("/srando").Bytes("0.13\r", "\x1b[200~0.14\r\x1b[201~").Press(tea.KeyEsc, tea.KeyBackspace,
			tea.KeyTab)
		if d.Screen() != before {
			t.Fatalf("line %d fails: keys change the screen from\n%s\nto\n%s", k+1, before, d.Screen())
		}
		if d.state().Events != k || len(disk.lines) != k {
			t.Fatalf("line %d fails: %d events, %d lines, want %d", k+1, d.state().Events, len(disk.lines), k)
		}
		folded, err := session.Fold(disk.lines, nil)
		if err != nil {
			t.Fatal(err)
		}
		m := tea.Model(tui.NewModel(tui.Config{Live: session.NewLive(folded, disk), Now: clock()}, colours(termenv.Ascii, false)))
		m, _ = m.Update(tea.WindowSizeMsg{Width: 80, Height: 60})
		if strings.Contains(m.View(), "Enter goes on") {
			m, _ = m.Update(tea.KeyMsg{Type: tea.KeyEnter})
		}
		if got, want := body(d.Size(80, 60).Screen()), body(m.View()); got != want || len(got) < 100 {
			t.Fatalf("line %d fails: the work zone shows\n%s\nwant what is on record:\n%s", k+1, got, want)
		}
		// One may still look round, and leave.
		d.Type("t").Expect(Line("trials")).Enter().Expect(Line("✗ not recorded")).Type("?")
		for n := 0; n < 3 && !strings.Contains(d.Screen(), "not now: "); n++ {
			d.Type("?")
		}
		d.Expect(Line("not now: ", "a accept")).Type("/")
		if d.Type("q"); !d.quit {
			t.Fatalf("line %d fails: q does not leave", k+1)
		}
	}
}

// What was typed ahead of a line that fails is not taken: it was typed by somebody who believed
// that the line before it stood.
func TestNotRecordedDropsWhatWasTypedAhead(t *testing.T) {
	o := real(t, nil)
	o.append = &failing{left: 5}
	d := loaded(t, o).Hold().Bytes("0.12\r0.13\r0.14\r", "*", "njaws\r").Type("q").Release()
	d.Readings(0.12).Expect(Line("not recorded"), Line("2", "60°"), Nowhere("0.130", "0.140"))
	if d.Press(tea.KeyTab); d.quit {
		t.Error("a q that was typed ahead leaves: the screen has to stay until it has been read")
	}
}

// A refusal leaves the sweep as it was and says why; the next entry is taken.
func TestRefusalLeavesTheSweep(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
	for _, typed := range []string{"0.9", "-0.8001", "99999999999999", "1..2", "+-1"} {
		before, lines := body(d.Screen()), len(d.mem.Lines)
		d.Type(typed).Enter().Expect(Line("✗ "))
		if got := body(d.Screen()); got != before || len(d.mem.Lines) != lines {
			t.Fatalf("%q is refused, and yet the work zone shows\n%s\nwant\n%s", typed, got, before)
		}
	}
	d.Type("-0.228").Enter().Expect(Line("station 5, 240°: −0.228 mm"), Nowhere("✗ reading"))
}

// A journal's message may hold anything, and may be long.
func TestNotRecordedMessage(t *testing.T) {
	o := real(t, nil)
	o.append = appender(func([]byte) error { return nil })
	d := loaded(t, o)
	d.live = session.NewLive(d.state(),
		appender(func([]byte) error { return errors.New("write \x1b]0;x\a" + strings.Repeat("long/", 60)) }))
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: clock()}, colours(termenv.Ascii, false))
	d.Size(60, 20).Enter().Type("0.1").Enter().Expect(Line("✗ not recorded: write"), Line("?]0;x?long/")).Fits(60, 20)
	if got := strings.Count(strings.Join(strings.Fields(d.Screen()), ""), "long/"); got != 60 {
		t.Errorf("the message says long %d times, want 60: none of it is cut", got)
	}
}

type appender func([]byte) error

func (f appender) Append(line []byte) error { return f(line) }

// Once the disk is mended y records again what was lost, and the session goes on as if nothing had been; while
// it is not, y changes nothing.
func TestRecordedAgain(t *testing.T) {
	whole := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForNothing)
	for k := 1; k < len(whole.mem.Lines); k++ {
		disk := &failing{left: k}
		o := real(t, nil)
		o.append = disk
		d := screen(t, o)
		w := &stand{41.7, -0.11, 0.15}
		for !strings.Contains(d.Screen(), "not recorded") {
			w.work(d, 1, nothing)
		}
		d.t = named{t, fmt.Sprintf("line %d fails", k+1)}
		d.Type("y").Expect(Line("✗ not recorded"))
		if d.state().Events != k {
			t.Fatalf("line %d fails: y made %d events of %d on a full disk", k+1, d.state().Events, k)
		}
		disk.left = 1000
		d.Type("y").Expect(Nowhere("not recorded"))
		if d.state().Events <= k || len(disk.lines) != d.state().Events {
			t.Fatalf("line %d fails: %d events and %d lines after y, want more than %d", k+1, d.state().Events, len(disk.lines), k)
		}
		w.work(d, 40, session.ForNothing)
		if s := d.state(); s.Phase != session.Ended {
			t.Fatalf("line %d fails: the session does not end after it (phase %d)", k+1, s.Phase)
		}
	}
}

// What came in one burst with a reading that could not be recorded goes with it: mended, that reading is recorded and no other takes its
// place, nor follows it.
func TestRestOfABurstIsNotTakenBehindALoss(t *testing.T) {
	disk := &failing{left: 5}
	o := real(t, nil)
	o.append = disk
	d := loaded(t, o).Burst("0.12\r0.13\r0.14\r").Readings(0.12).Expect(Line("not recorded"))
	disk.left = 1000
	d.Type("y").Readings(0.12, 0.13).Type("0.15").Enter().Readings(0.12, 0.13, 0.15)
}

// Behind an entry that could not be recorded no key makes another one, though the disk is mended by then: it would stand on what is lost.
func TestNoEntryBehindALoss(t *testing.T) {
	for _, key := range []string{"s", "d", "\r", "u", "/", ">", "e", "k", "a", "&"} {
		disk := &failing{left: 5}
		o := real(t, nil)
		o.append = disk
		d := loaded(t, o).Type("0.12").Enter().Type("0.13").Enter().Expect(Line("not recorded"))
		events := d.state().Events
		disk.left = 1000
		if d.Bytes(key).Bytes(key).Readings(0.12); d.state().Events != events || len(disk.lines) != events {
			t.Errorf("%q behind a loss: %d events, %d lines; want %d", key, d.state().Events, len(disk.lines), events)
		}
		d.Type("y").Readings(0.12, 0.13)
	}
}
