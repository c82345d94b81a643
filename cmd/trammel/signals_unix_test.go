//go:build unix

package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/trammel/indicator/journal"
)

// starting is how long after its start a program may be told to end, and how many are in each row. Before its first
// instruction, a program is ended by the signal itself; it has touched nothing then.
const starting, early = 60 * time.Millisecond, 12

// A signal may come at any moment, while the program starts, too: the terminal is as it was, nothing stays switched on,
// and where the session had been begun it is on record, whole. The program either ends by itself, and its code is 128
// and the signal's number, or it was ended before it had said a word.
func TestSignalsAtTheStart(t *testing.T) {
	t.Parallel()
	// A child keeps a signal that is ignored here, as in a script's background; one that is caught it gets back.
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, leaving...)
	t.Cleanup(func() { signal.Stop(caught) })
	for i, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT, syscall.SIGHUP, syscall.SIGQUIT} {
		t.Run(s.String(), func(t *testing.T) {
			t.Parallel()
			byItself := 0
			for n := range early {
				after := starting * time.Duration(4*n+i) / (4 * early)
				byItself += endedAtTheStart(t, s, func(*terminal) { time.Sleep(after) })
			}
			// However long this machine takes to start a program, some are told right behind their first byte.
			for range 2 {
				byItself += endedAtTheStart(t, s, func(x *terminal) {
					x.until("the first byte", func([]string) bool { return x.written() != "" })
				})
			}
			if byItself < 2 {
				t.Errorf("%d programs have ended by themselves, want 2 or more: else this proves nothing", byItself)
			}
		})
	}
}

// endedAtTheStart starts a program and tells it to end; it returns 1 where it has ended by itself.
func endedAtTheStart(t *testing.T, s syscall.Signal, when func(*terminal)) int {
	t.Helper()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	x := on(t, program(t, home, "dial", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl"), 80, 24)
	when(x)
	x.signals(s)
	select {
	case err := <-x.exited:
		x.exited <- err
	case <-afterPatience():
		t.Fatalf("the program has not ended within %v of %v", patience, s)
	}
	status := x.cmd.ProcessState.Sys().(syscall.WaitStatus)
	// A Go program that does not wait for SIGQUIT writes where it was and ends with 2 (package os/signal).
	itself := !status.Signaled() && (s != syscall.SIGQUIT || status.ExitStatus() != 2)
	if itself {
		x.ends(128 + int(s))
	} else if x.after == nil || *x.after != *x.before || strings.Contains(x.written(), "\x1b") || status.Signaled() && status.Signal() != s {
		t.Errorf("ended by %v, having written %q, with the settings %+v; want %v, no escape sequence, those from before, %+v", status.Signal(),
			x.written(), x.after, s, x.before)
	}
	path := filepath.Join(home, "j.jsonl")
	j, err := journal.Read(path)
	if err == nil && (j.Err() != nil || len(j.Torn) > 0) || err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Errorf("journal: %v, %v, %d torn bytes, want it whole, or none", err, j.Err(), len(j.Torn))
	}
	if itself {
		return 1
	}
	return 0
}

// Where nobody in the session could bring a stopped program back, ^Z and a stop from outside do nothing, and say so.
// (Every program of these tests leads a session of its own, as under setsid.)
func TestNobodyToComeBackTo(t *testing.T) {
	t.Parallel()
	x, _, file := dialOn(t, 80, 24)
	x.types("\x1a")
	x.shows("no shell could bring this program back")
	x.takes(1, "0.08\r", "+0.080")
	x.shows("station 2 of 6")
	x.signals(syscall.SIGTSTP)
	x.shows("no shell could bring this program back")
	x.raws()
	x.takes(2, "0.14\r", "+0.140")
	x.types("q")
	x.ends(exitDone)
	if strings.Count(x.written(), modes[0].on) != 1 {
		t.Error("the screen has gone and come again, want it to stay")
	}
	whole(t, file, 6)
}

// Under a shell without job control the program's parent is in its session, and nobody brings anything back: only the
// system knows that, and the program, which finds itself running, goes on.
func TestShellWithoutJobControl(t *testing.T) {
	t.Parallel()
	x := shelled(t, "-c", "./trammel practice --steps=false --seed 7; echo over")
	x.shows("practice 7", "Enter goes on")
	for range 2 {
		x.types("\x1a")
		x.shows("no shell could bring this program back")
		x.raws()
		x.answers("\r")
	}
	x.shows("take up the backlash: 2 of 3")
	x.types("q")
	x.shows("over")
	x.ends(exitDone)
}

// shelled starts a shell that knows the program as ./trammel.
func shelled(t *testing.T, args ...string) *terminal {
	t.Helper()
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	// Under a name of its own, so that this binary knows what it is asked to be.
	cmd := program(t, home)
	if err := os.Symlink(cmd.Path, filepath.Join(home, "trammel")); err != nil {
		t.Fatal(err)
	}
	cmd.Path, cmd.Args = shell, append([]string{"sh"}, args...)
	cmd.Env = append(cmd.Env, "PS1=ready> ", "ENV=")
	return on(t, cmd, 80, 24)
}

// A program that is stopped from outside hands its terminal over as one does that stops itself; and told to end while it
// stands, it ends without a word to the terminal, which is the shell's.
func TestStoppedFromOutside(t *testing.T) {
	t.Parallel()
	x := shelled(t, "-i")
	x.shows("ready>")
	x.types("./trammel dial --steps=false --job " + benchFiles[0] + " --machine " + benchFiles[1] + " --journal j.jsonl\r")
	x.shows("Enter goes on")
	pid := writerOf(t, filepath.Join(x.cmd.Dir, "j.jsonl"))
	send := func(s syscall.Signal) {
		t.Helper()
		if err := syscall.Kill(pid, s); err != nil {
			t.Fatal(err)
		}
	}
	send(syscall.SIGTSTP)
	x.until("the shell's prompt after a stop", atPrompt)
	x.types("stty -a\r")
	x.shows(" icanon", " echo ")
	x.types("clear; fg\r")
	x.shows("Enter goes on")
	x.answers("\r")
	x.shows("take up the backlash: 1 of 3")

	send(syscall.SIGTSTP)
	x.until("the shell's prompt after another stop", atPrompt)
	switched := strings.Count(x.written(), modes[0].on)
	send(syscall.SIGTERM)
	send(syscall.SIGCONT)
	x.shows("paused; the journal holds ")
	x.types("\rclear; stty -a; echo it was $?\r")
	x.shows(" icanon", " echo ", "it was 0")
	if again := strings.Count(x.written(), modes[0].on); again != switched {
		t.Error("told to end while it stands, the program puts its screen up again")
	}
	x.types("exit\rexit\r") // a shell that has not heard yet of the program's end asks once more
	x.ends(exitDone)
}

// writerOf waits for the program that writes a journal to say who it is, and returns its number.
func writerOf(t *testing.T, path string) (pid int) {
	t.Helper()
	for late := afterPatience(); ; {
		by, _, err := journal.Writer(path)
		if _, amiss := fmt.Sscanf(regexp.MustCompile(`process \d+`).FindString(by), "process %d", &pid); err == nil && amiss == nil {
			return pid
		}
		select {
		case <-late:
			t.Fatalf("nobody writes %s: %q, %v", path, by, err)
		case <-time.After(time.Millisecond):
		}
	}
}
