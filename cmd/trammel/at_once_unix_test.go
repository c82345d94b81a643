//go:build unix

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// tester is a program that tests one slide of a machine by the needle.
type tester struct {
	slide string
	cmd   *exec.Cmd
	in    io.WriteCloser
	said  *bufio.Scanner
}

// Programs, each a process of its own, that write what they have found into one machine's file at the same time lose nothing of one
// another's: all stand at their last question, and all are answered at once.
func TestProgramsWriteOneMachineAtOnce(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	file := filepath.Join(home, "mill.toml")
	slides := []string{"x", "y", "offset", "table_x", "table_y"}
	text := "# Bench mill, as its owner wrote it.\nname = \"mill\"\n"
	for _, s := range slides {
		text += fmt.Sprintf("\n[slide.%s]\ntravel_per_turn = 2 # of %s\ndivisions = 100\nclockwise = \"increase\"\n"+
			"take_up = \"increase\"\nbacklash = 0.3\n", s, s)
	}
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var all []*tester
	for _, s := range slides {
		x := &tester{slide: s, cmd: program(t, home, "machine", "test", file, "--lines", "--json")}
		x.cmd.Env = append(x.cmd.Env, "XDG_DATA_HOME="+t.TempDir()) // people of their own, each with questions of their own
		x.begins(t)
		all = append(all, x)
	}
	for _, x := range all {
		x.answersTo(t, "take_backlash")
	}
	for _, x := range all {
		if _, err := io.WriteString(x.in, "\n"); err != nil {
			t.Fatal(err)
		}
	}
	for _, x := range all {
		for x.said.Scan() { // to its end
		}
		if err := x.cmd.Wait(); err != nil {
			t.Errorf("%s: %v", x.slide, err)
		}
	}
	m, is, err := readMachine(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, sl := range m.Slides {
		// By hand: 0.7 back by the collar where the needle goes 0.5567 of 2.0007 for a turn of 2 leaves 0.1435.
		if sl.Backlash < 0.143 || sl.Backlash > 0.145 || sl.BacklashLimit == 0 || !strings.Contains(string(is), "# of "+sl.Name+"\n") {
			t.Errorf("slide %s has a backlash of %v ± %v mm, want what was found of it, 0.144:\n%s", sl.Name, sl.Backlash, sl.BacklashLimit,
				is)
		}
	}
	if left, err := filepath.Glob(filepath.Join(home, "*")); err != nil || len(left) != 1 {
		t.Errorf("%q are left (%v), want the machine's file alone", left, err)
	}
}

func (x *tester) begins(t *testing.T) {
	t.Helper()
	var err error
	if x.in, err = x.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := x.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := x.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = x.cmd.Process.Kill() })
	x.said = bufio.NewScanner(out)
}

// needleRead is what is read in a round: before the turn, behind it, and behind 35 divisions back.
var needleRead = map[string][3]string{"round_1": {"0.100", "2.102", "1.546"}, "round_2": {"0.104", "2.104", "1.546"},
	"round_3": {"0.100", "2.100", "1.544"}}

// answersTo answers what is asked until a question comes, which it leaves unanswered.
func (x *tester) answersTo(t *testing.T, last string) {
	t.Helper()
	for x.said.Scan() {
		var l struct {
			Say, Key string
			Choices  []string
		}
		if err := json.Unmarshal(x.said.Bytes(), &l); err != nil {
			t.Fatal(err)
		}
		if l.Say == "refused" {
			t.Fatalf("%s: %s", x.slide, x.said.Text())
		}
		if l.Say != "question" {
			continue
		}
		of := strings.Split(l.Key, ".")
		answer := ""
		switch name := of[len(of)-1]; {
		case name == last:
			return
		case name == "slide":
			answer = x.slide
		case name == "side" && strings.HasPrefix(x.slide, "table_"): // the work goes, and presses the tip where it comes from
			answer = l.Choices[1]
		case name == "eye", name == "side":
			answer = l.Choices[0]
		case strings.HasPrefix(name, "read_"):
			answer = needleRead[of[len(of)-2]][name[len(name)-1]-'1']
		}
		if _, err := io.WriteString(x.in, answer+"\n"); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatalf("%s: it ends (%v) and never asks for %s", x.slide, x.said.Err(), last)
}
