//go:build unix

package main

import (
	"bufio"
	"encoding/json"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// killedAnswers answer what is asked of a machine with an offset slide alone, by their keys; all else takes what Enter does.
var killedAnswers = map[string]string{"slides": "offset", "slide.offset.travel_per_turn": "2.5", "slide.offset.divisions": "125",
	"slide.offset.clockwise": "towards", "slide.offset.backlash": "0,12", "slide.offset.travel": "0 60", "table.graduation": "0.25"}

// Killed at moments by chance, with a signal that cannot be caught, the questions begin again where they stood: of what was
// answered behind a question that was said nothing is lost, the file that keeps it is whole, of the machine there is nothing before
// all is answered, and what is written in the end is what one who was never killed is given.
func TestKilledAmongQuestions(t *testing.T) {
	t.Parallel()
	want, _ := killedMachine(t, t.TempDir(), nil)
	chance := rand.New(rand.NewPCG(3, 18))
	rounds := min(3, kills(t))
	if os.Getenv("TRAMMEL_KILLS") != "" {
		rounds = kills(t)
	}
	died := 0
	for range rounds {
		home := t.TempDir()
		for {
			text, answered := killedMachine(t, home, chance)
			if text != nil {
				if string(text) != string(want) {
					t.Fatalf("killed, the machine is\n%s\nwant\n%s", text, want)
				}
				break
			}
			died++
			keptWhole(t, home, answered)
		}
	}
	if died < rounds {
		t.Errorf("killed %d times in %d rounds, which proves little", died, rounds)
	}
}

// killedMachine answers the questions until the machine is written, whose text it returns, or until the program is killed; then it
// returns the keys that were answered as the last question was said.
func killedMachine(t *testing.T, home string, chance *rand.Rand) (text []byte, answered []string) {
	t.Helper()
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
	stop := 1 << 20
	if chance != nil {
		stop = 1 + chance.IntN(6)
	}
	said := bufio.NewScanner(out)
	asked := ""
	for n := 1; said.Scan(); n++ {
		var l struct{ Say, Key string }
		if err := json.Unmarshal(said.Bytes(), &l); err != nil {
			break // the kill came in the middle of a line
		}
		if l.Say != "question" {
			continue
		}
		if asked != "" && asked != "begun" {
			answered = append(answered, asked)
		}
		asked = l.Key
		if n == stop {
			time.AfterFunc(time.Duration(chance.IntN(1500))*time.Microsecond, func() { _ = cmd.Process.Signal(syscall.SIGKILL) })
		}
		if _, err := io.WriteString(in, killedAnswers[l.Key]+"\n"); err != nil {
			break // killed
		}
	}
	in.Close()
	failed := cmd.Wait()
	text, err = os.ReadFile(filepath.Join(home, ".config", "trammel", "machines", "mill.toml"))
	switch left, _ := filepath.Glob(askedFile(home)); {
	case failed == nil && len(left) > 0:
		t.Fatalf("all is answered, and %v is there still", left)
	case err == nil: // written whole, whatever came after
		return text, answered
	case chance == nil || failed == nil:
		t.Fatalf("not killed, and there is no machine: %v, %v", failed, err)
	}
	return nil, answered
}

// askedFile is where the answers are kept.
func askedFile(home string) string {
	return filepath.Join(home, "data", "trammel", "asked", "machine-mill.json")
}

// keptWhole wants the answers that were taken to be kept, in a file that can be read to its end.
func keptWhole(t *testing.T, home string, answered []string) {
	t.Helper()
	text, err := os.ReadFile(askedFile(home))
	if err != nil && len(answered) > 0 {
		t.Fatalf("%q are answered, and nothing is kept: %v", answered, err)
	}
	var kept struct{ Answers []struct{ Key, Typed string } }
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	for _, key := range answered {
		if !slices.ContainsFunc(kept.Answers, func(a struct{ Key, Typed string }) bool { return a.Key == key }) {
			t.Fatalf("%s is answered, and not kept (%v): %s", key, err, text)
		}
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
