//go:build unix

package main

import (
	"bufio"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// machineAnswers answer what is asked of a machine with an offset slide alone, and which way it goes.
var machineAnswers = []string{"", "offset", "2", "100", "away", "", "0.1", "", "", "", "", "", "1"}

// Killed behind any of the answers, with a signal that cannot be caught, the program has written nothing of the machine: its name
// is free, and the questions can be answered from their beginning.
func TestKilledAmongQuestions(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	file := filepath.Join(home, ".config", "trammel", "machines", "mill.toml")
	for n := range machineAnswers {
		cmd := program(t, home, "machine", "new", "mill", "--lines", "--json")
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		said := bufio.NewScanner(out)
		for i := 0; i <= n && said.Scan(); i++ { // the question that stands when it is killed
			if !strings.Contains(said.Text(), `"say":"question"`) {
				t.Fatalf("after %d answers it says %s, want a question", i, said.Text())
			}
			if i < n {
				if _, err := io.WriteString(in, machineAnswers[i]+"\n"); err != nil {
					t.Fatal(err)
				}
			}
		}
		if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait() // killed
		if _, err := os.Stat(file); !os.IsNotExist(err) {
			t.Fatalf("killed after %d answers, %s is there (%v)", n, file, err)
		}
	}
	cmd := program(t, home, "machine", "new", "mill", "--lines")
	cmd.Stdin = strings.NewReader(strings.Join(machineAnswers, "\n") + "\n")
	if told, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, told)
	}
	if _, err := os.Stat(file); err != nil {
		t.Error(err)
	}
}

// On a terminal the questions are asked in plain lines, also where they are typed ahead, and then the screen
// opens with what was answered.
func TestAsksOnATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	x := on(t, program(t, home, "dial", "--machine", benchFiles[1], "--journal", "j.jsonl"), 100, 30)
	x.shows("in which unit you read and type", "[Enter: mm; ? explains, back]")
	x.types("\r")
	x.shows("how it is set: carried", "[Enter: carried")
	x.types("?\r")
	x.shows("stands still")
	x.types("\r42\r0.02\r\r\r\r\r\r1.6\r\r\r")
	x.shows("what the tip touches")
	x.types("ring\rd 60\r\r\r")
	x.shows("the dial would read zero at the target with -12 mm")
	x.types("12\r")
	x.shows("not taken: \"12\"", "24 mm at the target")
	x.types("-12\r")
	x.shows("how the reach is known")
	x.types("1\r")
	x.shows("bore R 30.000", "swing to 42.000")
	x.raws()
	x.types("q")
	if end := x.ends(exitDone); !strings.Contains(end, "go on with: trammel dial --resume --journal j.jsonl") {
		t.Errorf("the last words are %q, want how to go on", end)
	}
}
