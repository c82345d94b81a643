//go:build unix

package main

import (
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// The whole job on the practice machine with every Enter typed twice, at 80×24: the same machine and the same hands as with
// --auto, so every page is the one that the lines tell, and none is answered by an Enter that was meant for the page before.
func TestPracticeOnAScreen(t *testing.T) {
	t.Parallel()
	story := objects(t, tell(t, "", "practice", "--auto", "--steps", "--seed", "7", "--json"))
	cmd := program(t, t.TempDir(), "practice", "--seed", "7")
	cmd.Args[0] = byTheWatch()
	p := &presser{on(t, cmd, 80, 24), keypads[0]}
	page := func(texts ...string) {
		t.Helper()
		p.shows(texts...)
		if p.reads("\r"); !hasAll(p.page(), texts) { // and stays
			t.Fatalf("a page goes by, the one with %q; the screen:\n%s", texts, p.page())
		}
		p.twice()
	}
	page("practice 7", "spindle off and isolated", "Enter goes on")
	p.raws()
	loads := 0
	for i, l := range story {
		switch l["say"] {
		case "step":
			page(fmt.Sprintf("step %v of %v", l["n"], l["of"]))
		case "load":
			loads++
			page(fmt.Sprintf("take up the backlash: %d of 3", loads))
		case "ask":
			page(fmt.Sprintf("trial %v", l["trial"]), fmt.Sprintf("station %v of %v: swing to %v°", l["station"], l["of"], l["bearing"]))
		case "reading":
			if story[i+1]["say"] == "ask" { // else its list has gone
				p.lies(fmt.Sprint(l["station"]), fmt.Sprintf("%v°", l["bearing"]), asListed(float(t, l["value"])))
			}
		case "wind":
			if told := fmt.Sprintf("wind %v of %v", l["step"], l["of"]); told == "wind 1 of 1" {
				p.shows("offset slide", "cutter lifted clear", "(part 1 of ") // of a step
				parts := int(regexp.MustCompile(`\(part 1 of (\d)\)`).FindStringSubmatch(p.page())[1][0] - '0')
				for n := 1; n < parts; n++ {
					page("offset slide", fmt.Sprintf("part %d of %d", n, parts), "Enter what comes then")
				}
				page("offset slide", fmt.Sprintf("%d of %d: ", parts, parts), "Enter done")
			} else {
				page(told, "Enter done")
			}
		case "settled":
			page("✓ inside", "Enter twice accepts")
			page("✓ inside", "Enter once more: accept")
			page("practice machine 7: accepted in trial 2", "this was practice", "Enter goes on")
		}
	}
	page("practice machine 7: the job is done", "Enter leaves")
	trulyStands(t, p.ends(exitDone))
}

func hasAll(text string, all []string) bool {
	for _, s := range all {
		if !strings.Contains(text, s) {
			return false
		}
	}
	return true
}

// asListed is a length as a list of the screen shows it, mm.
func asListed(v float64) string { return strings.ReplaceAll(fmt.Sprintf("%+.3f", v), "-", "−") }

// lies waits for a row of the screen that begins with these words.
func (x *terminal) lies(words ...string) {
	x.t.Helper()
	x.until(fmt.Sprintf("row %q", words), func(rows []string) bool {
		return slices.ContainsFunc(rows, func(r string) bool {
			f := strings.Fields(r)
			if len(f) > 0 && f[0] == "▸" {
				f = f[1:]
			}
			return len(f) >= len(words) && slices.Equal(f[:len(words)], words)
		})
	})
}

// dialOn opens the practice bench's job on a terminal, with a journal, and loads the slides.
func dialOn(t testing.TB, columns, rows int) (x *terminal, home, journalFile string) {
	t.Helper()
	return dialAs(t, quickly, columns, rows)
}

// dialAs is dialOn under one of the names of TestMain.
func dialAs(t testing.TB, name string, columns, rows int) (x *terminal, home, journalFile string) {
	t.Helper()
	home = t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	journalFile = filepath.Join(home, "j.jsonl")
	cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl")
	cmd.Args[0] = name
	x = on(t, cmd, columns, rows)
	x.shows("Enter goes on")
	x.answers("\r")
	for i := range 3 {
		x.shows(fmt.Sprintf("take up the backlash: %d of 3", i+1))
		x.answers("\r")
	}
	x.shows("station 1 of 6")
	return x, home, journalFile
}

// takes types a reading as sent and waits until it stands in the list.
func (x *terminal) takes(station int, sent, shown string) {
	x.t.Helper()
	x.shows(fmt.Sprintf("station %d of 6", station))
	x.types(sent)
	x.stands(station, shown)
}

// stands waits for a reading to stand in the station's row of the list.
func (x *terminal) stands(station int, shown string) {
	x.t.Helper()
	x.lies(fmt.Sprint(station), fmt.Sprintf("%d°", (station-1)*60), shown)
}

// whole holds a journal to be undamaged and untorn, and returns its state.
func whole(t *testing.T, path string, lines int) session.State {
	t.Helper()
	got, err := journal.Read(path)
	if err != nil || got.Err() != nil || len(got.Torn) > 0 {
		t.Fatalf("journal: %v, %v, %d torn bytes, want it whole", err, got.Err(), len(got.Torn))
	}
	if len(got.Lines) != lines {
		t.Errorf("the journal holds %d lines, want %d", len(got.Lines), lines)
	}
	s, err := session.Fold(got.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A power cut in the middle of a sweep takes nothing that the screen has shown: killed with a
// signal that cannot be caught, taken up again, and brought to its end. Readings and figures:
// testdata/script/dial_session.txtar. They come as a hand types them, as a cable sends them in one
// burst, with LF for CR, and from a keypad in application mode (VT100: ESC O and a letter).
func TestKilledAndResumed(t *testing.T) {
	t.Parallel()
	x, home, file := dialOn(t, 80, 24)
	for _, key := range []string{"0", ".", "0", "8"} {
		x.types(key)
	}
	x.takes(1, "\r", "+0.080")
	x.takes(2, "0,14\r", "+0.140")
	x.takes(3, "+0.26\n", "+0.260")
	x.shows("station 4 of 6")

	// Meanwhile nobody else writes the journal.
	other := program(t, home, "dial", "--resume", "--lines", "--journal", "j.jsonl")
	if out, err := other.CombinedOutput(); other.ProcessState.ExitCode() != exitNo ||
		!strings.Contains(string(out), "in use by another program") {
		t.Errorf("a second program on the journal: %v, %q, want exit code 1 and that it is in use", err, out)
	}

	x.signals(syscall.SIGKILL)
	<-x.exited
	x.exited <- nil
	if s := whole(t, file, 7); s.Sweep.Readings() != 3 {
		t.Errorf("%d readings on record, want 3", s.Sweep.Readings())
	}

	x = on(t, program(t, home, "dial", "--resume", "--journal", "j.jsonl"), 80, 24)
	x.shows("station 4 of 6")
	x.stands(1, "+0.080")
	x.stands(2, "+0.140")
	x.stands(3, "+0.260")
	x.raws()
	x.takes(4, "\x1bOp\x1bOn\x1bOs\x1bOr\x1bOM", "+0.320")
	x.takes(5, "0.26\r", "+0.260")
	x.shows("station 6 of 6")
	x.types("0.14\r")
	x.shows("wind 1 of 2", "park at 0°", "wind clockwise to +0.200", "a division, 6.0 div")
	x.types("0.2\r")
	x.shows("wind 2 of 2", "back off anticlockwise to −0.100", "come up clockwise to +0.000")
	x.answers("\r")
	x.shows("trial 2")
	for i := range 5 {
		x.shows(fmt.Sprintf("station %d of 5", i+1))
		x.types("0\r")
	}
	x.shows("swing 42.000")
	x.accepts()
	x.shows("report: trammel report j.jsonl", "replay: trammel replay j.jsonl")
	x.answers("/")
	x.shows("taken back: the accepted setting", "swing 42.000")
	x.accepts()
	x.answers("\r")
	if end := x.ends(exitDone); !strings.Contains(end, "accepted in trial 2; journal j.jsonl") || !strings.Contains(end, "dry swing") {
		t.Errorf("the last words are %q, want that it was accepted in trial 2, where the journal is, and what comes before the cut", end)
	}
	if s := whole(t, file, 26); s.Phase != session.Ended {
		t.Errorf("phase %d, want the setting to be accepted", s.Phase)
	}
}

// However the program is told to leave, it puts the terminal back, says how to go on and has
// everything on record: a key, an interrupt that is a key, the signals of kill, of a service that
// stops, of a window that closes. Of a signal the exit code tells: 128 and its number.
func TestWaysToLeave(t *testing.T) {
	t.Parallel()
	for _, way := range []struct {
		name  string
		code  int
		leave func(*terminal)
	}{
		{"q", exitDone, func(x *terminal) { x.types("q") }},
		{"ctrl+c", exitDone, func(x *terminal) { x.types("\x03") }},
		{"SIGHUP", 129, func(x *terminal) { x.signals(syscall.SIGHUP) }},
		{"SIGINT", 130, func(x *terminal) { x.signals(syscall.SIGINT) }},
		{"SIGQUIT", 131, func(x *terminal) { x.signals(syscall.SIGQUIT) }},
		{"SIGTERM", 143, func(x *terminal) { x.signals(syscall.SIGTERM) }},
	} {
		t.Run(way.name, func(t *testing.T) {
			t.Parallel()
			x, _, file := dialOn(t, 80, 24)
			x.takes(1, "0.08\r", "+0.080")
			x.shows("station 2 of 6")
			x.raws()
			way.leave(x)
			end := x.ends(way.code)
			for _, want := range []string{"paused; the journal holds 5 lines", "go on with: trammel dial --resume --journal j.jsonl"} {
				if !strings.Contains(end, want) {
					t.Errorf("the last words are %q, want %q", end, want)
				}
			}
			if s := whole(t, file, 5); s.Sweep.Readings() != 1 {
				t.Errorf("%d readings on record, want 1", s.Sweep.Readings())
			}
		})
	}
}

// A window that closes takes the terminal with it: the program ends by itself, and the journal is
// whole.
func TestWindowCloses(t *testing.T) {
	t.Parallel()
	x, _, file := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	x.release()
	x.master.Close()
	select {
	case <-x.exited:
		x.exited <- nil
	case <-afterPatience():
		t.Fatalf("the program has not ended within %v of its terminal", patience)
	}
	if s := whole(t, file, 5); s.Sweep.Readings() != 1 {
		t.Errorf("%d readings on record, want 1", s.Sweep.Readings())
	}
}

// A defect that panics in the middle of a step leaves the terminal as it was, says where the
// journal is, and everything that was entered before is in it. (The clock of this program breaks
// at the second reading.)
func TestPanic(t *testing.T) {
	t.Parallel()
	x, home, file := dialAs(t, "trammel-breaks", 120, 24)
	x.takes(1, "0.08\r", "+0.080")
	x.shows("station 2 of 6")
	x.raws()
	x.types("0.14\r")
	end := strings.Join(strings.Fields(x.ends(exitNo)), " ")
	if !strings.Contains(end, "trammel: error: ") ||
		!strings.Contains(end, "trammel: hint: everything entered is in j.jsonl; go on with --journal and --resume") {
		t.Errorf("the last words are %q, want the error and where the journal is", end)
	}
	if s := whole(t, file, 5); s.Sweep.Readings() != 1 {
		t.Errorf("%d readings on record, want 1", s.Sweep.Readings())
	}
	out, err := program(t, home, "dial", "--lines", "--resume", "--journal", "j.jsonl").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "resumed: trial 1, 1 readings") {
		t.Errorf("resumed: %v, %q, want one reading", err, out)
	}
}

// ^Z hands the terminal back to the shell as it was, and fg brings the screen up again with what
// stood on it. The shell is a real one: only it knows what it does with a program that stops.
func TestSuspendAndBack(t *testing.T) {
	t.Parallel()
	x := shelled(t, "-i")
	x.shows("ready>")
	x.types("./trammel dial --steps=false --job " + benchFiles[0] + " --machine " + benchFiles[1] + " --journal j.jsonl\r")
	x.shows("Enter goes on")
	x.raws()
	x.answers("\r")
	x.shows("take up the backlash: 1 of 3")
	x.types("\x1a")
	x.until("the shell's prompt after ^Z", atPrompt)
	x.types("stty -a\r")
	x.shows(" icanon", " echo ")
	x.types("clear; fg\r")
	x.shows("take up the backlash: 1 of 3", "X slide", "Enter done")
	x.answers("\r")
	x.shows("take up the backlash: 2 of 3")
	x.types("q")
	x.shows("paused; the journal holds 2 lines")
	x.until("the shell's prompt at the end", atPrompt)
	x.types("exit\r")
	x.ends(exitDone)
}

// atPrompt: the last row that has anything on it is the shell's prompt.
func atPrompt(rows []string) bool {
	for i := len(rows) - 1; i >= 0; i-- {
		if rows[i] != "" {
			return rows[i] == "ready>"
		}
	}
	return false
}

// The window may change its size at any time: the action stays to be seen in the smallest, and
// back at the first size the screen is what it was.
func TestResize(t *testing.T) {
	t.Parallel()
	x, _, _ := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	x.shows("station 2 of 6", "trial 1", "Enter take", "station 1, 0°: 0.080 mm")
	before := strings.Join(x.screen(), "\n")
	for _, size := range []struct {
		columns, rows int
		shows         []string
	}{
		{120, 40, []string{"station 2 of 6", "inside bore", "trial 1", "Enter take", "+0.080"}},
		{60, 18, []string{"station 2 of 6", "Enter take", "+0.080"}},
		{44, 14, []string{"2 of 6: swing to 60°", "Enter take", "+0.080"}},
		{30, 6, []string{"2 of 6: swing", "station 60°", "Enter take"}},
		{20, 4, []string{"2 of 6"}},
		{80, 24, []string{"station 2 of 6", "bore", "trial 1", "Enter take", "+0.080"}},
	} {
		x.resize(size.columns, size.rows)
		x.shows(size.shows...)
	}
	x.until("the screen as it was", func(rows []string) bool { return strings.Join(rows, "\n") == before })
	x.types("q")
	x.ends(exitDone)
}

// resize changes the window, for the program and for the eye, which sees nothing of what stood
// there before: whatever is to be seen has to be drawn anew.
func (x *terminal) resize(columns, rows int) {
	x.t.Helper()
	x.mu.Lock()
	x.emu.Resize(columns, rows)
	io.WriteString(x.emu, "\x1b[2J")
	x.mu.Unlock()
	x.size(columns, rows)
}

// What tells our races from the terminal library's is put to the test with a report of each kind
// (shortened).
func TestOwnRace(t *testing.T) {
	const library = `WARNING: DATA RACE
Read at 0x00c000124790 by goroutine 14:
  os.(*File).Fd()
      /usr/local/go/src/os/file.go:723 +0x36
  github.com/muesli/cancelreader.(*epollCancelReader).wait()
      cancelreader_linux.go:149 +0x204

Previous write at 0x00c000124790 by main goroutine:
  os.(*File).Close()
      /usr/local/go/src/os/file_posix.go:24 +0x44
  github.com/charmbracelet/bubbletea.(*Program).Run()
      tea.go:743 +0x1a64
  example.org/trammel/tui.Run()
      run.go:45 +0x46d

Goroutine 14 (running) created at:
  example.org/trammel/tui.Run()
      run.go:45 +0x46d
`
	if ownRace(library) {
		t.Error("a race inside the library is taken for ours")
	}
	if ours := strings.Replace(library, "  github.com/muesli/cancelreader.(*epollCancelReader).wait()",
		"  example.org/trammel/tui.Model.run.func1()", 1); !ownRace(ours) {
		t.Error("a race of ours is taken for the library's")
	}
	if ownRace("") {
		t.Error("no report is taken for a race")
	}
}
