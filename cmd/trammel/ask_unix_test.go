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

// On a terminal the questions have pages, a wrong answer is refused on its page, and the screen opens with what was answered: what
// is typed ahead goes where it belongs. Asked for in lines they are.
func TestAsksOnATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--machine", benchFiles[1], "--journal", "j.jsonl")
	cmd.Args[0] = byTheWatch()
	x := on(t, cmd, 80, 24)
	p := &presser{x, keypads[0]}
	x.shows("in which unit you read and type", "Enter takes 1, mm")
	x.raws()
	p.presses("\r")
	x.shows("how it is set: carried", "stands still")
	x.types("1\r42\r0.02\r0.02\r8\r") // a number that is begun counts at once
	x.shows("how the cutter's diameter is known")
	for _, answer := range []string{"2\r", "1\r", "0.3\r"} {
		x.types(answer)
	}
	x.shows("how deep it is cut")
	p.presses("\r")
	for _, answer := range []string{"6\r", "0.01\r", "1\r", "1.6\r", "0.003\r", "1\r", "0.003\r", "3\r"} {
		x.types(answer)
	}
	x.shows("the radius of the ring")
	p.lists("type a diameter")
	p.presses("60\r")
	x.shows("how the diameter of the ring is known: radius 30 (diameter 60) mm")
	p.presses("1\r5\r0\r")
	x.shows("the dial would read zero at the target with −12 mm")
	p.presses("12\r")
	x.shows("24 mm at the target")
	p.presses("-12\r")
	x.shows("how the reach is known")
	p.presses("1\r")
	x.shows("under which name these answers are to be kept")
	p.presses("\r")
	x.shows("all is answered", "Enter shows more of the answers")
	p.presses("\r")
	x.shows("Enter goes on with these answers")
	p.presses("\r\r")
	x.shows("bore R 30.000", "swing to 42.000")
	p.types("q")
	if end := x.ends(exitDone); !strings.Contains(end, "go on with: trammel dial --resume --journal j.jsonl") {
		t.Errorf("the last words are %q, want how to go on", end)
	}
	x = on(t, program(t, home, "machine", "new", "--lines"), 80, 24)
	x.shows("[Enter: mill; ? explains, back]")
	x.types("\x04")
	if end := x.ends(exitDone); !strings.Contains(end, "the questions are left, and nothing is written") ||
		strings.Contains(x.written(), "\x1b") {
		t.Errorf("in lines the last words are %q, want that the questions are left", end)
	}
}

// Left by a key, or by a signal in the middle, the pages write nothing and the terminal is as it was.
func TestLeavesPages(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	x := on(t, program(t, home, "machine", "new"), 40, 10)
	x.shows("what the machine is called", "Enter mill")
	x.answers("\r")
	x.shows("in which unit its figures are")
	x.answers("q")
	x.shows("Enter: leave; what is answered is kept")
	x.answers("\r")
	if end := x.ends(exitDone); !strings.Contains(end, "the questions are left, and not") {
		t.Errorf("the last words are %q, want that nothing is written", end)
	}
	x = on(t, program(t, home, "machine", "new"), 80, 24)
	x.shows("these questions were begun before, and one of them is answered", "1  go on")
	x.answers("\r")
	x.shows("in which unit its figures are")
	x.signals(syscall.SIGTERM)
	x.ends(128 + int(syscall.SIGTERM))
	if all := kept(t, home); len(all) != 1 || all["data/trammel/asked/machine-.json"] == "" {
		t.Errorf("files %v are there, want that of what was answered alone", all)
	}
}
