//go:build unix

package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// prompt bounds the quickest run of a verb that draws nothing. Such a run takes some ten
// milliseconds, though once in a while a loaded machine takes seconds to load the program at all;
// one that asks the terminal and gets no answer takes, every time, the five seconds that the
// library waits (termenv's OSCTimeout). Half of that tells the two apart.
const prompt = 2500 * time.Millisecond

// build makes the program as people get it: the order in which packages are initialised, on which
// the cure rests, belongs to what is linked.
func build(t *testing.T) string {
	t.Helper()
	bin := filepath.Join(t.TempDir(), "trammel")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return bin
}

// On a terminal that never answers, a verb that draws nothing asks nothing and is done at once,
// although it links libraries that would ask as they start.
func TestTerminalIsNeverAsked(t *testing.T) {
	bin, home := build(t), t.TempDir()
	if err := os.WriteFile(filepath.Join(home, "three.txt"), []byte("0 0.3\n120 0\n240 0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"--version"}, {"fit", "--help"}, {"--help"}, {"fit", "three.txt"},
		{"practice", "--auto", "--seed", "7"}, {"bogus"}} {
		quickest := time.Hour
		for _, env := range []string{"", "NO_COLOR=1", "CLICOLOR_FORCE=1", "COLORTERM=truecolor"} {
			cmd := program(t, home, args...)
			cmd.Path = bin
			if env != "" {
				cmd.Env = append(cmd.Env, env)
			}
			begun := time.Now()
			x := on(t, cmd, 80, 24)
			out := x.ends(map[bool]int{true: exitUse}[args[0] == "bogus"])
			quickest = min(quickest, time.Since(begun))
			if raw := x.written(); strings.Contains(raw, "\x1b") {
				t.Errorf("trammel %q with %q sends the terminal %q, want no escape sequence", args, env, raw)
			}
			if strings.TrimSpace(out) == "" {
				t.Errorf("trammel %q with %q prints nothing", args, env)
			}
		}
		if quickest > prompt {
			t.Errorf("trammel %q takes %v at best, want well under the 5 s of an unanswered query", args, quickest)
		}
	}
}

// Where only one of the two ends is a terminal there is no screen: the other end would lose it.
// Nothing is asked, no key is stolen from the terminal, and the lines are plain.
func TestHalfATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	t.Run("input from a pipe", func(t *testing.T) {
		cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "a.jsonl")
		cmd.Stdin = strings.NewReader("done\n\n\n0.08\n")
		x := on(t, cmd, 120, 24)
		out := x.ends(exitDone)
		for _, want := range []string{"this is no terminal", "take up the backlash of the x slide", "station 1, 0°: 0.080 mm",
			"paused; the journal holds 5 lines"} {
			if !strings.Contains(out, want) {
				t.Errorf("the terminal shows %q, want %q", out, want)
			}
		}
		if strings.Contains(x.written(), "\x1b") {
			t.Errorf("plain lines hold an escape sequence: %q", x.written())
		}
	})
	t.Run("output into a pipe", func(t *testing.T) {
		var out bytes.Buffer
		cmd := program(t, home, "--json")
		cmd.Stdout = io.Writer(&out)
		x := on(t, cmd, 80, 24)
		if got := strings.TrimSpace(x.ends(exitDone)); got != "" {
			t.Errorf("the terminal shows %q, want nothing", got)
		}
		if lines := objects(t, out.String()); lines[len(lines)-1]["say"] != "accepted" {
			t.Errorf("the last line is %v, want accepted", lines[len(lines)-1])
		}
	})
	t.Run("lines asked for", func(t *testing.T) {
		x := on(t, program(t, home, "dial", "--json", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "b.jsonl"), 200, 24)
		x.shows(`{"say":"load","slide":"x"`)
		x.types("done\r")
		x.shows(`{"say":"load","slide":"y"`)
		x.types("quit\r")
		x.shows(`{"say":"paused","journal_lines":2}`)
		if out := x.ends(exitDone); strings.Contains(out, "hint") || strings.Contains(x.written(), "\x1b") {
			t.Errorf("plain lines on a terminal: %q, want neither a hint nor an escape sequence", x.written())
		}
	})
}

// A session in plain lines has no terminal to put back, so a hangup ends it as it ends any
// program, and nothing that was entered is lost.
func TestHangupOfLines(t *testing.T) {
	t.Parallel()
	// A child keeps a signal that is ignored here, as under nohup; one that is caught it gets back.
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, syscall.SIGHUP)
	defer signal.Stop(caught)
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--lines", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	x := on(t, cmd, 80, 24)
	if _, err := io.WriteString(in, "done\ndone\ndone\n0.08\n"); err != nil {
		t.Fatal(err)
	}
	x.shows("station 2 of 6")
	x.signals(syscall.SIGHUP)
	select {
	case <-x.exited:
		x.exited <- nil
	case <-afterPatience():
		t.Fatalf("the program has not ended within %v of a hangup", patience)
	}
	whole(t, filepath.Join(home, "j.jsonl"), 5)
}
