//go:build unix

package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// beside starts a second dial on the journal of dialOn's session.
func beside(t *testing.T, home string, more ...string) *terminal {
	t.Helper()
	args := append([]string{"dial", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl"}, more...)
	return on(t, program(t, home, args...), 120, 30)
}

// Two programs on one journal, on two terminals: the second says who writes, shows what stands, goes along
// with what comes, takes nothing down, and says when the first has gone. Its terminal is put back.
func TestSecondProgramLooksOn(t *testing.T) {
	t.Parallel()
	x, home, file := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	second := beside(t, home)
	second.shows("event 5 of 5", "station 1, 0°: 0.080 mm", fmt.Sprintf("written by process %d since ", x.cmd.Process.Pid),
		"looking on, nothing is taken down here")
	second.raws()
	second.types("7")
	second.shows(fmt.Sprintf("not taken down: process %d since", x.cmd.Process.Pid))
	second.types("\x1b[D")
	second.shows("event 4 of 5", "looking on, nothing is taken down here")
	x.takes(2, "0.14\r", "+0.140")
	second.shows("event 4 of 6") // who has gone back is left there
	second.types("\x1b[F")
	second.shows("event 6 of 6")
	x.takes(3, "0.26\r", "+0.260")
	second.shows("event 7 of 7", "station 3, 120°: 0.260 mm")

	x.signals(syscall.SIGKILL)
	<-x.exited
	x.exited <- nil
	second.shows("its writer has ended; q leaves, dial --resume goes on with it")
	second.answers("q")
	second.ends(exitDone)
	if s := whole(t, file, 7); s.Sweep.Readings() != 3 {
		t.Errorf("%d readings on record, want the 3 of the first program", s.Sweep.Readings())
	}
}

// A tail that is not whole is no event and no fault to a looker-on; when the rest is there, it is shown.
func TestLooksOnAtHalfALine(t *testing.T) {
	t.Parallel()
	x, home, file := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	cut := len(whole) - 20
	if err := os.Truncate(file, int64(cut)); err != nil {
		t.Fatal(err)
	}
	second := beside(t, home)
	second.shows("event 4 of 4", "looking on")
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.Write(whole[cut : len(whole)-1]); err != nil {
		t.Fatal(err)
	}
	second.types("\x1b[D")
	second.shows("event 3 of 4")
	if _, err := f.Write(whole[len(whole)-1:]); err != nil {
		t.Fatal(err)
	}
	second.shows("event 3 of 5")
	second.answers("q")
	second.ends(exitDone)
}

// In lines the second program says what the first has said, goes on with it, refuses what it is told, and
// ends with the first: exit 1, for nothing was taken down.
func TestSecondProgramInLines(t *testing.T) {
	t.Parallel()
	x, home, _ := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	cmd := program(t, home, "dial", "--lines", "--resume", "--journal", "j.jsonl")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var complaints strings.Builder
	cmd.Stderr = &complaints
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer time.AfterFunc(patience, func() { _ = cmd.Process.Kill() }).Stop()
	rows := bufio.NewScanner(out)
	says := func(want string) {
		t.Helper()
		for rows.Scan() {
			if strings.Contains(rows.Text(), want) {
				return
			}
		}
		t.Fatalf("the second program ended without %q; it complained %q", want, complaints.String())
	}
	says("station 1, 0°: 0.080 mm")
	x.takes(2, "0.14\r", "+0.140")
	says("station 2, 60°: 0.140 mm")
	fmt.Fprintln(in, "0.3")
	says("nothing is taken down here")
	x.types("q")
	x.ends(exitDone)
	for rows.Scan() {
	}
	_ = cmd.Wait() // its exit code is looked at below
	if code := cmd.ProcessState.ExitCode(); code != exitNo {
		t.Errorf("exit code %d, want %d", code, exitNo)
	}
	for _, want := range []string{fmt.Sprintf("j.jsonl: written by process %d since", x.cmd.Process.Pid),
		"looking on, nothing is taken down here",
		"in use by another program", "has ended; trammel dial --resume --journal j.jsonl goes on with it"} {
		if !strings.Contains(complaints.String(), want) {
			t.Errorf("standard error lacks %q:\n%s", want, complaints.String())
		}
	}
	if s := whole(t, filepath.Join(home, "j.jsonl"), 6); s.Sweep.Readings() != 2 {
		t.Errorf("%d readings on record, want 2", s.Sweep.Readings())
	}
}
