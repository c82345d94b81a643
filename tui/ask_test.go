package tui_test

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui"
)

// asker answers the pages of some questions by the keys of a numeric keypad.
type asker struct{ *ticking }

// askPages opens the pages with a clock that the test sets, in a window of w × h cells.
func askPages(t testing.TB, q job.Asking, keep func(job.Asking) error, w, h int) *asker {
	t.Helper()
	x := &asker{&ticking{driver: &driver{t: t}, now: begin}}
	x.model = tui.NewAskModel(tui.AskConfig{Q: q, Title: "a new machine", Keep: keep, Now: func() time.Time { return x.now }},
		colours(termenv.Ascii, false))
	x.Size(w, h)
	return x
}

// presses presses keys of the keypad, each when its page has been read; \r is Enter.
func (x *asker) presses(keys string) *asker {
	x.t.Helper()
	for _, r := range keys {
		if !strings.ContainsRune("0123456789.,+-*/\r", r) {
			x.t.Fatalf("%q is not on a numeric keypad", r)
		}
		x.now = x.now.Add(time.Minute)
		if r == '\r' {
			x.Enter()
		} else {
			x.Type(string(r))
		}
	}
	return x
}

// asks is what is asked now; over says that all is answered.
func (x *asker) asks() (q job.Question, over bool) {
	all, _ := x.model.(tui.AskModel).Answers()
	q, more := all.Next()
	return q, !more
}

func (x *asker) key() string {
	q, _ := x.asks()
	return q.Key
}

func (x *asker) text() string {
	all, _ := x.model.(tui.AskModel).Answers()
	return string(all.Text())
}

// lists takes the line of the list that begins with some words, by its number.
func (x *asker) lists(words string) *asker {
	x.t.Helper()
	x.presses("*")
	line := regexp.MustCompile(`(\d+)  ` + regexp.QuoteMeta(words)).FindStringSubmatch(x.Screen())
	if line == nil {
		x.t.Fatalf("the list has no line %q:\n%s", words, x.Screen())
	}
	return x.presses(line[1] + "\r")
}

// figures are what a hand types where nothing is proposed, by the end of the key; of a choice it takes the first.
var figures = map[string]string{"swing_radius": "42", "tolerance": "0,02", "cutter": "8", "reference_radius": "30", "reach": "-12",
	"graduation": "0.01", "travel": "0\r60", "error": "0.003", "repeatability": "0.003", "backlash": "0.15"}

// takes is what the hand types at a question before it presses Enter; empty where Enter alone takes what is proposed.
func takes(q *job.Question, fills bool) string {
	figure, ok := figures[q.Key[strings.LastIndex(q.Key, ".")+1:]]
	switch {
	case q.Default != "" || q.Optional && !fills:
		return ""
	case ok:
		return figure
	}
	return "1"
}

// answers answers one question, leaving it out where it is the one that is to be.
func (x *asker) answers(out bool) {
	x.t.Helper()
	q, _ := x.asks()
	n := len(x.given())
	if typed := takes(&q, true); out && q.Closed {
		x.presses(fmt.Sprint(len(q.Choices)) + "\r") // don't know is the last
	} else if out {
		x.lists(cmp.Or(q.Out, "don't know"))
	} else {
		x.presses(typed + "\r")
	}
	for range 9 { // a page may have several leaves, which Enter alone turns
		if len(x.given()) > n {
			return
		}
		x.presses("\r")
	}
	x.t.Fatalf("%s is not answered:\n%s", q.Key, x.Screen())
}

func (x *asker) given() []job.Answered {
	all, _ := x.model.(tui.AskModel).Answers()
	return all.Answered()
}

// slips are wrong answers, a look at the explanation and at the list, and the way back and again: the question stays.
func (x *asker) slips() {
	x.t.Helper()
	key, text := x.key(), x.text()
	x.presses("--+\r")
	if q, _ := x.asks(); q.Two {
		x.presses("7\r")
	}
	x.Expect(Line("✗"))
	x.presses("12/")
	x.lists("explain what is asked")
	x.presses("/*/")
	if x.key() != key || x.text() != text {
		x.t.Fatalf("after slips at %s the question is %s:\n%s", key, x.key(), x.Screen())
	}
	if len(x.given()) == 0 {
		return
	}
	last := x.given()[len(x.given())-1]
	x.presses("/")
	before := x.key()
	if before == key {
		x.t.Fatalf("/ does not go back from %s:\n%s", key, x.Screen())
	}
	q, _ := x.asks()
	for i, c := range q.Choices { // it is answered as before: by its number, its figure, or what is proposed
		if now, _, _ := strings.Cut(last.Answer, ", "); q.Closed && c == now {
			x.presses(fmt.Sprint(i+1) + "\r")
		}
	}
	if x.key() == before {
		x.answers(last.Answer == "not known" || q.Out != "" && last.Answer == q.Out)
	}
	if x.key() != key || x.text() != text {
		x.t.Fatalf("back from %s and again: the question is %s, the answers\n%swant\n%s", key, x.key(), x.text(), text)
	}
}

// askers are what is asked: a machine with each set of slides, and the job on it.
func askers(t testing.TB) map[string]job.Asking {
	t.Helper()
	out := map[string]job.Asking{"machine": job.MachineQuestions(job.Facts{})}
	q := job.MachineQuestions(job.Facts{Name: "mill"})
	for {
		now, more := q.Next()
		if !more {
			break
		}
		var err error
		if q, err = q.Answer(strings.ReplaceAll(takes(&now, false), "\r", " ")); err != nil {
			t.Fatal(err)
		}
	}
	m, err := job.ParseMachine("mill", q.Text())
	if err != nil {
		t.Fatal(err)
	}
	out["job"] = job.JobQuestions(job.Facts{Machine: &m})
	return out
}

// needleAsked is the needle test of an X slide, as far as its first reading.
func needleAsked(t testing.TB) job.Asking {
	t.Helper()
	m, err := job.ParseMachine("mill.toml", []byte("name = \"mill\"\n[slide.x]\ntravel_per_turn = 2\ndivisions = 100\n"+
		"clockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.3\n"))
	if err != nil {
		t.Fatal(err)
	}
	q := job.NeedleQuestions(job.Facts{Machine: &m})
	for _, a := range []string{"", "", "", "", "", "right", "", "right"} {
		if q, err = q.Answer(a); err != nil {
			t.Fatal(err)
		}
	}
	return q
}

// Every question of a machine and of a job is answered by a numeric keypad alone: all of them, with slips at each on the way, and
// each that may be left out left out in turn. What it ends in is what the same answers make in lines.
func TestAskedByKeypad(t *testing.T) {
	for name, q := range askers(t) {
		optional := -1 // which is left out; -1 for none, with slips
		for n := 0; optional < n; optional++ {
			x := askPages(t, q, nil, 80, 24)
			n = 0
			want := q
			for {
				now, over := x.asks()
				if over {
					break
				}
				if optional < 0 {
					x.slips()
				}
				out := now.Optional && n == optional
				x.answers(out)
				typed := strings.ReplaceAll(takes(&now, true), "\r", " ")
				if out {
					typed = job.Unknown
				}
				if now.Optional {
					n++
				}
				var err error
				if want, err = want.Answer(typed); err != nil {
					t.Fatal(err)
				}
			}
			if x.text() != string(want.Text()) {
				t.Errorf("%s, %d left out: answered\n%swant\n%s", name, optional, x.text(), want.Text())
			}
			for range 9 {
				x.presses("\r")
			}
			if _, done := x.model.(tui.AskModel).Answers(); !done || !x.quit {
				t.Errorf("%s, %d left out: not done:\n%s", name, optional, x.Screen())
			}
		}
		if optional < 3 {
			t.Errorf("%s: %d questions may be left out, want some", name, optional)
		}
	}
}

// At every size the page fits its window, and from 40 × 10 on nothing that must be read is cut: the question, each choice, what Enter
// takes; nor is a row of an explanation, its drawing included.
func TestAskEverySize(t *testing.T) {
	for _, q := range askers(t) {
		for i := 0; ; i++ {
			now, more := q.Next()
			if !more {
				break
			}
			sizes := [][2]int{{40, 10}, {40, 14}, {80, 24}}
			if i%5 == 0 {
				sizes = append(sizes, [][2]int{{61, 17}, {120, 30}, {200, 50}}...)
			}
			for _, s := range sizes {
				x := askPages(t, q, nil, s[0], s[1])
				seen, before := "", ""
				for range 9 {
					x.Fits(s[0], s[1])
					seen += bare(left(x.Screen(), s[0]))
					if before = x.Screen(); !strings.Contains(before, "shows more") {
						break
					}
					x.presses("\r")
				}
				want := []string{now.Text}
				if now.Closed && now.Choices[0] != "true" {
					want = append(want, now.Choices...)
				}
				for _, words := range want {
					if !strings.Contains(seen, strings.ReplaceAll(bare(words), "-", "−")) && !strings.Contains(seen, bare(words)) {
						t.Fatalf("%d × %d, %s: %q is cut:\n%s", s[0], s[1], now.Key, words, x.Screen())
					}
				}
				x.now = x.now.Add(time.Minute)
				x.Type("?")
				seen = ""
				for range 3 {
					x.Fits(s[0], s[1])
					seen += x.Screen()
					x.presses("\r")
				}
				if strings.Contains(seen, "…") {
					t.Fatalf("%d × %d: the explanation of %s is cut:\n%s", s[0], s[1], now.Key, seen)
				}
			}
			small := 1 + i%39
			askPages(t, q, nil, small, 1+i%13).Fits(small, 1+i%13)
			var err error
			if q, err = q.Answer(strings.ReplaceAll(takes(&now, true), "\r", " ")); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// left is a screen without the answers so far that stand at its right where it is wide.
func left(screen string, w int) string {
	if w < 120 {
		return screen
	}
	rows := strings.Split(screen, "\n")
	for i, r := range rows {
		rows[i] = string([]rune(r)[:w-46])
	}
	return strings.Join(rows, "\n")
}

// answered are questions answered up to a key, with what a hand takes.
func answered(t testing.TB, q job.Asking, key string) job.Asking {
	t.Helper()
	for {
		now, more := q.Next()
		if !more || now.Key == key {
			return q
		}
		var err error
		if q, err = q.Answer(strings.ReplaceAll(takes(&now, true), "\r", " ")); err != nil {
			t.Fatal(err)
		}
	}
}

// Pages of questions as they look: a name, a collar, a choice that nothing is proposed for, how a figure is known, the reach with what
// nulls the dial, two figures, and the end.
func TestAskOnTheScreen(t *testing.T) {
	all := askers(t)
	sizes := [][2]int{{80, 24}, {200, 50}, {40, 10}}
	for _, c := range []struct {
		name, of, key, typed string
		sizes                int
	}{
		{"name", "machine", "name", "", 3}, {"collar", "machine", "slide.offset.travel_per_turn", "", 3},
		{"turn", "machine", "slide.x.clockwise", "2", 2}, {"known", "job", "setup.reference_radius_error", "", 3},
		{"reach", "job", "setup.reach", "-12,", 3}, {"kind", "job", "setup.kind", "", 3}, {"end", "job", "", "", 3},
	} {
		q := answered(t, all[c.of], c.key)
		for _, s := range sizes[:c.sizes] {
			x := askPages(t, q, nil, s[0], s[1])
			golden(t, fmt.Sprintf("%dx%d/ask-%s", s[0], s[1], c.name), x.presses(c.typed).Screen())
		}
	}
	q := needleAsked(t)
	for _, s := range sizes {
		x := askPages(t, q, nil, s[0], s[1])
		golden(t, fmt.Sprintf("%dx%d/ask-needle", s[0], s[1]), x.Screen())
	}
	q, err := q.Answer("0.1")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "80x24/ask-needle-on", askPages(t, q, nil, 80, 24).Screen())
	x := askPages(t, answered(t, all["machine"], "slide.offset.backlash"), nil, 80, 24)
	golden(t, "80x24/ask-list", x.presses("*").Screen())
	golden(t, "80x24/ask-help", x.presses("*").after(time.Minute, char('?')).Screen())
	x.model = tui.NewAskModel(tui.AskConfig{Q: all["machine"], Title: "a new machine"}, colours(termenv.Ascii, true))
	golden(t, "80x24/ask.plain", x.Size(80, 24).Screen())
}

// Two Enters never answer two questions; a number that is begun counts at once. An answer that is not taken is told, and heard.
func TestAskBounces(t *testing.T) {
	x := askPages(t, job.MachineQuestions(job.Facts{Name: "mill"}), nil, 80, 24)
	x.after(100*time.Millisecond, enterKey).Expect(Line("only just changed: Enter is not taken"))
	x.after(time.Minute, enterKey)
	x.after(50*time.Millisecond, enterKey).Expect(Line("only just changed"))
	if x.key() != "slides" {
		t.Errorf("the question is %s, want slides: one Enter is taken", x.key())
	}
	x.after(50*time.Millisecond, char('4')).after(time.Millisecond, enterKey)
	if x.key() != "slide.offset.travel_per_turn" {
		t.Errorf("the question is %s: a number that was typed is not taken", x.key())
	}
	x.after(100*time.Millisecond, char('/')).after(100*time.Millisecond, char('*')).Expect(Line("only just changed: * is not taken"))
	x.presses("0\r").Expect(Line("✗ 0, must be 0.001 mm or above"))
	x.presses("+\r").Expect(Line("✗"))
	x.Press(tea.KeyUp).Expect(Line("Num Lock seems to be off"))
	x.Paste("2.5\n").Expect(Line("Enter takes"))
}

// A diameter can be typed by a keypad, which has no d, and by its letter; two figures have Enter between them.
func TestAskDiameterAndPair(t *testing.T) {
	all := askers(t)
	x := askPages(t, answered(t, all["job"], "target.swing_radius"), nil, 80, 24)
	x.lists("type a diameter").presses("84\r")
	if !strings.Contains(x.text(), "swing_radius = 42 # diameter 84") {
		t.Errorf("a diameter of 84 makes\n%s", x.text())
	}
	x = askPages(t, answered(t, all["machine"], "slide.offset.travel"), nil, 80, 24)
	x.presses("60\r0\r").Expect(Line("✗", "lower first"))
	x.presses("0\r60\r")
	if !strings.Contains(x.text(), "travel = [0, 60]") {
		t.Errorf("two figures make\n%s", x.text())
	}
	x = askPages(t, answered(t, all["job"], "setup.touch"), nil, 80, 24)
	x.Type("Ring").Enter()
	if !strings.Contains(x.text(), `touch = "bore" # ring`) {
		t.Errorf("a choice in its words makes\n%s", x.text())
	}
}

// What is answered is kept before the next question is shown: after every answer that is taken, and one taken back. Keys that come
// meanwhile wait, and a lone Enter among them is not taken for the page behind. Where it cannot be kept, that is told.
func TestAskKeeps(t *testing.T) {
	var kept []string
	var full error
	x := askPages(t, job.MachineQuestions(job.Facts{Name: "mill"}), func(q job.Asking) error {
		kept = append(kept, string(q.Text()))
		return full
	}, 80, 24)
	x.Hold()
	x.presses("2\r")
	x.Expect(Line("Enter takes 2, in"))
	x.Send(enterKey, char('3'), enterKey)
	x.Release()
	if len(kept) != 2 || !strings.Contains(kept[0], `unit = "in"`) || x.key() == "slides" {
		t.Errorf("kept %q, asked then %s", kept, x.key())
	}
	x.presses("/")
	if len(kept) != 3 || kept[2] != kept[0] || x.text() != kept[2] {
		t.Errorf("kept %q after one was taken back, want the last to be the first", kept)
	}
	full = errors.New("no space left on device")
	x.presses("4\r").Expect(Line("✗", "no space left on device"))
	if x.key() != "slide.offset.travel_per_turn" {
		t.Errorf("the question is %s: an answer that cannot be kept stands", x.key())
	}
}

// Leaving is asked for once more where something has been answered, by the key, by the list and by ^C alike.
func TestAskLeaves(t *testing.T) {
	fresh := job.MachineQuestions(job.Facts{})
	if x := askPages(t, fresh, nil, 80, 24).presses("/"); !x.quit {
		t.Error("/ does not leave where nothing is answered")
	}
	if x := askPages(t, fresh, nil, 80, 24); !x.Press(tea.KeyCtrlZ).stopped || x.quit {
		t.Error("^Z does not ask to be suspended")
	}
	for _, leaves := range []func(*asker){
		func(x *asker) { x.after(time.Minute, char('q')) }, func(x *asker) { x.lists("leave the questions") },
		func(x *asker) { x.Press(tea.KeyCtrlC) },
	} {
		x := askPages(t, fresh, nil, 80, 24).presses("\r")
		leaves(x)
		x.Expect(Line("Enter once more: leave; nothing is written"))
		if x.presses("/"); x.quit || x.key() != "unit" {
			t.Errorf("/ leaves, or answers %s", x.key())
		}
		leaves(x)
		x.presses("\r")
		if _, done := x.model.(tui.AskModel).Answers(); !x.quit || done {
			t.Errorf("Enter does not leave, or says done:\n%s", x.Screen())
		}
	}
}
