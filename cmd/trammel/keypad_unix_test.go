//go:build unix

package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// byTheWatch is the name of the programs that hands work here: by a fast clock, or where TRAMMEL_HANDS is set by the one on the
// wall, which takes a minute or two.
func byTheWatch() string {
	if os.Getenv("TRAMMEL_HANDS") != "" {
		return "trammel"
	}
	return quickly
}

// keypad is how a numeric keypad sends its keys: digits . , + - * / and Enter, and nothing else.
type keypad struct {
	name string
	// keys are the bytes of each, in writes of their own.
	keys func(r rune) []string
}

// onPad are the keys of a keypad with those of its application mode: VT100 User Guide, table 3-8 (from memory); / * + are
// xterm's, "Control Sequences", PC-style function keys.
var onPad = map[rune]string{'0': "p", '1': "q", '2': "r", '3': "s", '4': "t", '5': "u", '6': "v", '7': "w", '8': "x", '9': "y",
	'.': "n", ',': "l", '-': "m", '+': "k", '*': "j", '/': "o", '\r': "M"}

// keypads are the two modes; in that of sequences a slow line cuts one of two, behind its first byte or its second.
var keypads = []keypad{
	{"numeric", func(r rune) []string { return []string{string(r)} }},
	{"application", func(r rune) []string {
		switch {
		case strings.ContainsRune("147*\r", r):
			return []string{"\x1b", "O" + onPad[r]}
		case strings.ContainsRune("258/,", r):
			return []string{"\x1bO", onPad[r]}
		}
		return []string{"\x1bO" + onPad[r]}
	}},
}

// presser works a program by a keypad.
type presser struct {
	*terminal
	keypad
}

// presses types keys one behind the other, as one is waited for where it answers by itself.
func (p *presser) presses(keys string) {
	p.t.Helper()
	for _, r := range keys {
		answers := strings.ContainsRune("*/\r", r)
		if answers {
			p.reads(string(r))
		}
		p.sends(r)
		if answers {
			p.answered = string(r)
		}
	}
}

// sends types one key at once.
func (p *presser) sends(r rune) {
	p.t.Helper()
	if onPad[r] == "" {
		p.t.Fatalf("%q is not on a numeric keypad", r)
	}
	p.stamps()
	begun := time.Now()
	for _, piece := range p.keys(r) {
		if _, err := io.WriteString(p.master, piece); err != nil {
			p.t.Fatal(err)
		}
	}
	if len(p.keys(r)) > 1 && time.Since(begun) > mostApart {
		panic(tooFar{})
	}
}

// mostApart is how far the pieces of one key may lie apart: the program waits 50 ms for the rest. On a machine that is too busy to
// send them so soon, a walk proves nothing, and is made anew.
const mostApart = 40 * time.Millisecond

type tooFar struct{}

// unlessApart walks, and returns false where the pieces of a key came too far apart.
func unlessApart(walk func()) (walked bool) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(tooFar); !ok {
				panic(r)
			}
		}
	}()
	walk()
	return true
}

// twice types Enter twice, 50 ms apart by the program's clock; by a fast one in one write, which no machine is too busy for.
func (p *presser) twice() {
	p.t.Helper()
	p.reads("\r")
	p.stamps()
	enter := strings.Join(p.keys('\r'), "")
	writes := []string{enter + enter}
	if p.pace == 1 {
		writes = []string{enter, enter}
	}
	for i, w := range writes {
		if i > 0 {
			time.Sleep(50 * time.Millisecond)
		}
		if _, err := io.WriteString(p.master, w); err != nil {
			p.t.Fatal(err)
		}
	}
	p.answered = "\r"
}

// bounces types Enter twice, and wants the second one not to be taken.
func (p *presser) bounces() {
	p.t.Helper()
	p.twice()
	p.shows("only just changed: Enter is not taken")
}

// page is what stands on the screen.
func (p *presser) page() string { return strings.Join(p.screen(), "\n") }

// leaves waits for another page than the one that stood there.
func (p *presser) leaves(page string) {
	p.t.Helper()
	p.until("another page", func(rows []string) bool { return strings.Join(rows, "\n") != page })
}

// lists opens the list of all that can be done now and takes the line with these words, by its number.
func (p *presser) lists(words string) {
	p.t.Helper()
	p.presses("*")
	p.shows("what can be done now")
	line := regexp.MustCompile(`(?m)(?:^|\s)(\d+)  ` + regexp.QuoteMeta(words))
	for leaf := 2; ; leaf++ {
		if found := line.FindStringSubmatch(p.page()); found != nil {
			p.presses(found[1] + "\r")
			return
		}
		p.presses("0\r")
		p.shows(fmt.Sprintf("more, page %d of", leaf))
	}
}

// reading is the one that was taken last, as the status row tells it of a station.
func (p *presser) reading(station int) string {
	p.t.Helper()
	told := regexp.MustCompile(fmt.Sprintf(`(?m)^station %d, \d+°: (−?\d+\.\d+) mm`, station))
	var got []string
	p.until(fmt.Sprintf("a reading of station %d", station), func(rows []string) bool {
		got = told.FindStringSubmatch(strings.Join(rows, "\n"))
		return got != nil
	})
	return strings.ReplaceAll(got[1], "−", "-")
}

// slip is a mistake, or a look at something, on one page of the job; the page stands there again behind it, or the next one.
type slip struct {
	at   string // what the page shows
	does func(p *presser)
}

// slips are made in this order, each once.
var slips = []slip{
	{"step 1 of 2: spindle off", func(p *presser) { // Enter twice
		p.bounces()
		p.shows("step 2 of 2: rough in")
	}},
	{"step 2 of 2: rough in", func(p *presser) { // a figure where none is asked for, cleared and not taken
		p.presses("12")
		p.shows("no reading is asked for")
		p.presses("/")
		p.shows("step 2 of 2: rough in")
	}},
	{"step 2 of 5: head at ", func(p *presser) { // the help, opened and closed
		before := p.page()
		p.lists("help on this step")
		p.until("the help", func(rows []string) bool { return !strings.Contains(strings.Join(rows, "\n"), "order at the machine") })
		p.presses("/")
		p.until("the page behind the help", func(rows []string) bool { return body(strings.Join(rows, "\n")) == body(before) })
	}},
	{"step 4 of 5: lock the cutter spindle", func(p *presser) { // left out, taken back, done
		p.lists("leave the station or the step out")
		p.shows("step 5 of 5", "left out")
		p.presses("/")
		p.shows("step 4 of 5: lock the cutter spindle")
	}},
	{"step 5 of 5: locked: look opposite", func(p *presser) { // left out
		p.lists("leave the station or the step out")
		p.shows("station 1 of 6")
	}},
	{"station 1 of 6", func(p *presser) { // a digit that is mistyped, cleared: nothing else is taken back
		p.presses("\r")
		value := p.reading(1)
		p.shows("station 2 of 6")
		p.presses("/") // an undo
		p.shows("station 1 of 6", "taken back: station 1")
		p.presses("0,39")
		p.shows("Enter take ·")
		p.presses("/")
		p.shows("Enter take dial", "station 1 of 6")
		p.presses(strings.Replace(value, ".", ",", 1) + "\r")
		if got := p.reading(1); got != value {
			p.t.Errorf("reading %s at station 1, want %s, as typed", got, value)
		}
		p.shows("station 2 of 6")
	}},
	{"station 2 of 6", func(p *presser) { // the needle off, on either side, taken back
		for _, off := range []string{"over-pressed", "not touching"} {
			p.lists("needle off: " + off)
			p.shows("station 3 of 6")
			p.until("station 2 "+off, func(rows []string) bool {
				return regexp.MustCompile(`(?m)^\s*2\s+60°\s+` + off).MatchString(strings.Join(rows, "\n"))
			})
			p.presses("/")
			p.shows("station 2 of 6", "taken back")
		}
		p.presses("\r")
		p.shows("station 3 of 6")
	}},
	{"station 3 of 6", func(p *presser) { // left out, taken back
		p.lists("leave the station or the step out")
		p.shows("station 4 of 6", "station 3, 120°: left out")
		p.presses("/")
		p.shows("station 3 of 6", "taken back")
		p.presses("\r")
		p.shows("station 4 of 6")
	}},
	{"station 5 of 6", oneTurnOff},
	{"station 5 does not fit", doubts},
	{"wind 1 of 3", func(p *presser) { // the list, opened and closed; a figure mistyped, cleared; Enter twice
		before := p.page()
		p.presses("*")
		p.shows("what can be done now")
		p.presses("/")
		p.until("the page behind the list", func(rows []string) bool { return body(strings.Join(rows, "\n")) == body(before) })
		p.presses("-0.9")
		p.until("the figure", func(rows []string) bool { return body(strings.Join(rows, "\n")) != body(before) })
		p.presses("/")
		p.until("the figure gone", func(rows []string) bool { return body(strings.Join(rows, "\n")) == body(before) })
		p.bounces()
		p.shows("wind 2 of ")
	}},
	{"Enter twice accepts", func(p *presser) { // which a finger that bounces does not
		p.bounces()
		p.shows("Enter twice accepts", "Enter once more: accept")
		p.presses("\r")
		p.shows("accepted in trial", "takes back")
		p.presses("/") // taken back
		p.shows("Enter twice accepts", "taken back")
		p.presses("\r")
		p.shows("Enter once more: accept")
		p.presses("\r")
		p.shows("accepted in trial", "takes back")
	}},
	{"step 10 of 15: measure", func(p *presser) { // the ways in which it can be measured, one begun and left
		p.lists("chord C")
		p.shows("chord C (mm)")
		p.presses("12/")
		p.presses("/")
		p.shows("step 10 of 15: measure")
	}},
}

// oneTurnOff types a reading one turn of the needle too high, in place of the one that was right.
func oneTurnOff(p *presser) {
	p.presses("\r")
	right, err := strconv.ParseFloat(p.reading(5), 64)
	if err != nil {
		p.t.Fatal(err)
	}
	p.presses("/")
	p.shows("station 5 of 6", "taken back: station 5")
	p.presses(fmt.Sprintf("%+.3f\r", right+1))
	p.shows("station 6 of 6")
	p.presses("\r")
	p.shows("station 5 does not fit")
}

// doubts keeps the reading that is wrong, then has it put right; either is taken back, and it is put right for good.
func doubts(p *presser) {
	for _, way := range []func(){func() { p.lists("the reading in doubt stands") }, func() { p.lists("take −") }} {
		way()
		p.until("no doubt", func(rows []string) bool {
			return strings.Contains(rows[2], "wind 1 of 3") || strings.Contains(rows[2], "bearing") &&
				!strings.Contains(strings.Join(rows, "\n"), "does not fit")
		})
		p.presses("/")
		p.shows("station 5 does not fit")
	}
	p.lists("take −")
	p.shows("wind 1 of 3")
}

// body are the rows of a screen above its bottom zone.
func body(screen string) string {
	rows := strings.Split(screen, "\n")
	for i := len(rows) - 1; i > 1; i-- {
		if strings.HasPrefix(rows[i], "───") {
			rows = rows[:i]
			break
		}
	}
	return strings.Join(rows, "\n")
}

// The whole job by the bytes of a numeric keypad, from the first page of the practice machine to the checked arc and the end,
// with slips on the way, in both modes of the keypad. The machine tells where it truly stands, which no key can.
func TestWholeJobByKeypad(t *testing.T) {
	t.Parallel()
	for _, pad := range keypads {
		t.Run(pad.name, func(t *testing.T) {
			t.Parallel()
			for range 9 {
				if unlessApart(func() { wholeJob(t, pad) }) {
					return
				}
			}
			t.Error("the machine is too busy to send the pieces of a key in time")
		})
	}
}

// wholeJob walks through the job with each of the slips.
func wholeJob(t *testing.T, pad keypad) {
	t.Helper()
	cmd := program(t, t.TempDir(), "practice", "--seed", "7")
	cmd.Args[0] = byTheWatch()
	p := &presser{on(t, cmd, 80, 24), pad}
	p.shows("practice 7", "Enter goes on")
	left := slips
	for n := 0; ; n++ {
		p.reads("\r") // else it may be half drawn
		page := p.page()
		if strings.Contains(page, "practice machine 7: the job is done") {
			break
		}
		if n > 90 {
			t.Fatalf("not done after %d answers; the screen:\n%s", n, page)
		}
		if len(left) > 0 && strings.Contains(page, left[0].at) {
			left[0].does(p)
			left = left[1:]
			continue
		}
		p.presses("\r")
		p.leaves(page)
	}
	if len(left) > 0 {
		t.Errorf("the page %q has not come", left[0].at)
	}
	p.presses("\r")
	trulyStands(t, p.ends(exitDone))
}

// trulyStands holds the last words of practice to the tolerances of its job: swing radius 42.000 and centre, ±0.020 mm; the arc is to
// be cut to 38.00 mm.
func trulyStands(t *testing.T, end string) {
	t.Helper()
	var n int
	var swing, x, y, arc float64
	words := strings.Join(strings.Fields(end), " ")
	at := strings.Index(words, "practice machine 7: accepted in trial ")
	if at < 0 {
		t.Fatalf("the last words are %q, want where machine 7 stands", end)
	}
	if _, err := fmt.Sscanf(words[at:], "practice machine 7: accepted in trial %d for a swing radius of 42.0000 mm; after the last wind, "+
		"by what the arc measured, to its finished radius, it truly stands at swing radius %f mm, centre off by x %f mm, y %f mm its arc is cut to radius %f mm", &n, &swing, &x, &y, &arc); err != nil {
		t.Fatalf("the last words are %q: %v", end, err)
	}
	if n != 2 || math.Abs(swing-42) > 0.02 || math.Hypot(x, y) > 0.02 || math.Abs(arc-38) > 0.02 {
		t.Errorf("accepted in trial %d, swing radius %v, centre off by %v, %v, arc %v; want trial 2, 42 ± 0.02, 0 ± 0.02, 38 ± 0.02", n,
			swing, x, y, arc)
	}
}
