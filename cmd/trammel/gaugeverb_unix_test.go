//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// heldLine is a program that sends what is written into a pipe, and the pipe.
func heldLine(t *testing.T, home string) (spec string, into *os.File) {
	t.Helper()
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	into, err := os.OpenFile(pipe, os.O_RDWR, 0) // which waits for nobody
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { into.Close() })
	return "exec:" + sendsAt(t, home) + " @" + pipe, into
}

func writeTo(t *testing.T, f *os.File, text string) {
	t.Helper()
	if _, err := f.WriteString(text); err != nil {
		t.Fatal(err)
	}
}

// A cable indicator is set up in lines: what comes is shown harmless beside what it means, what is set shows at once, what cannot be
// is refused with what is needed, and what is right is written into the machine's file and nowhere else.
func TestGaugeIsSetUpInLines(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(home, benchFiles[1])
	was, err := os.ReadFile(machine)
	if err != nil {
		t.Fatal(err)
	}
	was = append(was, "\n[gauge] # the old one\nbaud = 4800 # as bought\nstable = 3\n"...)
	if err := os.WriteFile(machine, was, 0o600); err != nil {
		t.Fatal(err)
	}
	spec, line := heldLine(t, home)
	x := startTalk(t, home, "gauge", spec, "--machine", benchFiles[1], "--json")
	x.says(sayLine{"say": "settings", "source": spec})
	writeTo(t, line, "A1 \x02\x1b[2J0.1\r\nA1 -10.118 mm\r\n")
	x.says(sayLine{"say": "heard", "raw": "A1 <STX><ESC>[2J0.1", "value": nil, "because": "has bytes in it that are no text"})
	x.says(sayLine{"say": "heard", "raw": "A1 -10.118 mm", "value": nil})
	x.types("pattern (?P<value>")
	x.says(sayLine{"say": "refused", "input": "pattern (?P<value>"})
	x.types("pattern")
	x.says(sayLine{"say": "setting", "key": "pattern", "is": "the first number of the line"})
	x.types("pattern 2")
	x.says(sayLine{"say": "heard", "raw": "A1 -10.118 mm", "value": -10.118})
	x.types("preset -10", "pressed fall")
	x.says(sayLine{"say": "heard", "raw": "A1 -10.118 mm", "value": 0.118})
	x.types("unit in")
	x.says(sayLine{"say": "heard", "value": nil, "because": `it sends "mm", need in`})
	x.types("unit 1", "baud 300")
	x.says(sayLine{"say": "refused", "input": "baud 300"}) // a program has none
	writeTo(t, line, strings.Repeat("A1 -10.2 mm\r\n", 3))
	x.says(sayLine{"say": "heard", "raw": "A1 -10.2 mm", "value": 0.2, "steady": true})
	x.types("source serial:no/such/line")
	x.says(sayLine{"say": "refused", "input": "source serial:no/such/line"})
	writeTo(t, line, "A1 -10.3 mm\r\n") // the line that was there is there again
	x.says(sayLine{"say": "heard", "raw": "A1 -10.3 mm", "value": 0.3})
	x.types("keep")
	x.says(sayLine{"say": "refused", "input": "keep",
		"because": "its figure was seen to move by 0 mm, need more than 0.03 mm: it may be no needle's"})
	writeTo(t, line, "A1 -10.4 mm\r\n")
	x.says(sayLine{"say": "heard", "raw": "A1 -10.4 mm", "value": 0.4})
	x.types("keep")
	x.says(sayLine{"say": "changed", "key": "gauge.source", "was": ""})
	x.says(sayLine{"say": "changed", "key": "gauge.preset", "was": "", "is": "-10"})
	if err := x.cmd.Wait(); err != nil || !x.stop() {
		t.Fatal(err)
	}
	is, err := os.ReadFile(machine)
	if err != nil {
		t.Fatal(err)
	}
	rest, added, _ := strings.Cut(string(is), "stable = 3\n")
	if rest+"stable = 3\n" != string(was) || !strings.HasPrefix(added, "source = \""+spec+"\"\npattern = '") ||
		!strings.HasSuffix(added, "\npressed = \"falls\"\npreset = -10\n") {
		t.Errorf("the machine's file is\n%s", is)
	}
}

// On a terminal a cable indicator is set up by the keypad's keys, with a thousand lines a second coming in over a serial line, noise
// among them; what is kept stands in the machine's file, and the terminal is as it was.
func TestGaugeIsSetUpOnAScreen(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	c := &cable{t: t, name: filepath.Join(home, "line"), value: -0.118}
	c.plug()
	cmd := program(t, home, "gauge", "line", "--machine", benchFiles[1]) // whole, the name may be longer than a row
	cmd.Args[0] = quickly
	x := on(t, cmd, 100, 30)
	x.shows("cable indicator: serial:line", "-0.118 mm")
	x.types("*2\r")
	x.shows("pressed, its figures", "3  fall; now 0.118 mm")
	x.types("3\r")
	x.shows("pressed, its figures    fall", "it stands still")
	c.shows(-0.218)
	x.shows("-0.218 mm")
	c.pull()
	x.shows("nothing is plugged in there any more")
	x.answers("\r")
	x.shows("gauge.pressed = \"falls\" is new", "Enter: write it")
	x.answers("\r")
	said := x.ends(0)
	if !strings.Contains(said, "gauge.source = \"serial:line\" is new") || strings.Contains(said, "\x1b[2J\xff") {
		t.Errorf("it said %q", said)
	}
	is, err := os.ReadFile(filepath.Join(home, benchFiles[1]))
	if err != nil || !strings.HasSuffix(string(is), "\n[gauge]\nsource = \"serial:line\"\npressed = \"falls\"\n") {
		t.Errorf("%v: the machine's file is\n%s", err, is)
	}
}

// Whoever answers for a new machine that it has a cable indicator is led on to its page, and what is kept there is in the new file.
func TestNewMachineLeadsToItsCable(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	asked := filepath.Join(home, "data", "trammel", "asked")
	if err := os.MkdirAll(asked, 0o700); err != nil {
		t.Fatal(err)
	}
	var answers []string
	for _, a := range [][2]string{{"unit", "mm"}, {"slides", "offset"}, {"slide.offset.travel_per_turn", "2"},
		{"slide.offset.divisions", "100"},
		{"slide.offset.clockwise", "away"}, {"slide.offset.take_up", "clockwise"}, {"slide.offset.backlash", "0.1"},
		{"slide.offset.readout", "false"}, {"slide.offset.lock", "false"}, {"slide.offset.travel", "unknown"}, {"table.zero", "0"},
		{"table.sense", "grow"}, {"table.graduation", "1"}, {"table.handwheel", "unknown"}, {"gauge", "a program"}} {
		answers = append(answers, `{"key":"`+a[0]+`","typed":"`+a[1]+`"}`)
	}
	kept := `{"version":1,"of":"machine","answers":[` + strings.Join(answers, ",") + "]}\n"
	if err := os.WriteFile(filepath.Join(asked, "machine-mill.json"), []byte(kept), 0o600); err != nil {
		t.Fatal(err)
	}
	spec, line := heldLine(t, home)
	writeTo(t, line, "A1 -0.118 mm\n")
	cmd := program(t, home, "machine", "new", "mill")
	cmd.Args[0] = quickly
	x := on(t, cmd, 120, 40)
	x.shows("1  go on")
	x.answers("\r")
	x.shows("which program reads the cable indicator")
	x.types(strings.TrimPrefix(spec, "exec:") + "\r")
	x.shows("when the cable indicator sends")
	x.answers("\r")
	x.shows("Enter goes on")
	x.answers("\r")
	x.shows("cable indicator: exec:", "A1 -0.118 mm")
	x.types("1\r")
	x.shows("2  the last number of the line", "now −0.118 mm")
	x.types("2\r")
	x.shows("where the figure stands the last number")
	writeTo(t, line, "A1 -0.218 mm\n")
	x.shows("A1 -0.218 mm")
	x.answers("\r")
	x.shows("gauge.pattern = ")
	x.answers("\r")
	x.ends(0)
	is, err := os.ReadFile(filepath.Join(home, ".config", "trammel", "machines", "mill.toml"))
	if err != nil || !strings.Contains(string(is), "\nsource = \""+spec+"\"\nmode = \"stream\"\npattern = '") {
		t.Errorf("%v: the machine's file is\n%s", err, is)
	}
}
