package tui_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

// foulSizes are windows in which everything has room, and hardly anything.
var foulSizes = [][2]int{{200, 60}, {80, 24}, {60, 18}, {34, 12}, {20, 5}}

// some is of how many screens one is drawn: of all with TRAMMEL_TRAPS.
func some() int {
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		return 1
	}
	return 7
}

// drawsNothingFoul holds a screen in every size to drawing only what prints. It has no colours, so that no sequence is its own.
func drawsNothingFoul(t *testing.T, name string, d *driver) {
	t.Helper()
	for _, size := range foulSizes {
		drawn := strings.ReplaceAll(d.Size(size[0], size[1]).model.View(), "forged", "wrapped") // where a word begins a row is no matter
		if bad := testdata.Drives(drawn); bad != "" {
			t.Errorf("%s at %d × %d draws %s", name, size[0], size[1], bad)
		}
	}
}

// foulSetting is a setting in which whatever may be called otherwise has a foul name.
func foulSetting(o *session.Opened) {
	o.Program, o.By, o.Machine.Name = testdata.Foul, testdata.Foul, testdata.Foul
	o.Files = []session.File{{Name: testdata.Foul, SHA256: testdata.Foul}, {Name: testdata.Foul, SHA256: testdata.Foul}}
}

// Whatever a machine, a file or a note is called, and whatever comes over a cable, the screen of a session draws nothing that drives a
// terminal: in every state of the job, with every page, at several sizes.
func TestFoulSession(t *testing.T) {
	all := sortedPages()
	for i, s := range scenes() {
		if i%some() > 0 {
			continue
		}
		o := real(t, foulSetting)
		o.plain = i%2 == 0
		d := s.open(t, o)
		d.Send(tui.MomentMsg(gauge.Moment{Says: []string{testdata.Foul}, Lost: testdata.Foul, Unread: 1,
			UnreadWhy: &gauge.LineError{Line: testdata.Foul, Why: testdata.Foul}}))
		drawsNothingFoul(t, s.name, d)
		for j := range 3 {
			if (i+j)%some() > 0 {
				continue
			}
			page := all[(3*i+j)%len(all)]
			drawsNothingFoul(t, s.name+"/"+page, s.open(t, o).Send(pages[page]))
		}
	}
}

// What is typed, and what is pasted into a text, is drawn harmlessly too.
func TestFoulTyping(t *testing.T) {
	for _, begin := range []string{"", "n", "*", "h"} {
		d := loaded(t, real(t, foulSetting)).Type(begin)
		drawsNothingFoul(t, "typed behind "+begin, d.Paste(testdata.Foul))
		drawsNothingFoul(t, "entered behind "+begin, d.Enter())
		d = loaded(t, real(t, foulSetting)).Type(begin)
		for _, r := range testdata.Foul {
			d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
		drawsNothingFoul(t, "keys behind "+begin, d)
	}
}

// The other screens: the replay of foul journals, the start page and the lists, the questions, the plan.
func TestFoulPages(t *testing.T) {
	all, _ := testdata.FoulJournals(t, testdata.Foul)
	for i, lines := range all {
		var events []session.Record
		for n, line := range lines {
			r, err := session.Decode(n+1, line)
			if err != nil {
				t.Fatal(err)
			}
			events = append(events, r)
		}
		for at := 1 + i; at <= len(events); at += 1 + some()*len(events)/8 {
			m := tui.NewReplay(tui.ReplayConfig{Events: events, At: at, Writer: testdata.Foul, Warn: testdata.Foul, After: time.After},
				colours(termenv.Ascii, i%2 == 0))
			d := &driver{t: t, model: m}
			drawsNothingFoul(t, fmt.Sprintf("journal %d at %d", i, at), d)
			drawsNothingFoul(t, fmt.Sprintf("journal %d at %d, notes", i, at), d.Type("n"))
		}
	}
	c := tui.OpenConfig{Title: testdata.Foul, Answers: []string{testdata.Foul, "b" + testdata.Foul}, Takes: testdata.Foul,
		Leaves: testdata.Foul, Said: []string{testdata.Foul, "x"}, Alarm: true, Names: true, Now: func() time.Time { return begin }}
	drawsNothingFoul(t, "start", (&driver{t: t, model: tui.NewOpenModel(c, colours(termenv.Ascii, false))}).Paste(testdata.Foul).Type("9"))
	plan := platePlan(t, twoCutters)
	if testdata.Spoil(plan, testdata.Foul) < 20 {
		t.Error("hardly any text in a plan")
	}
	plan.Setup, plan.Hand = "carried", "right" // words of the program's own
	x := tui.PlanConfig{Plan: plan, Worry: testdata.Foul, Wrong: testdata.Foul, Reach: map[int]pane.Standing{8: pane.Begun},
		Check: func(int) (string, string) { return testdata.Foul, testdata.Foul }}
	d := &driver{t: t, model: tui.NewPlanModel(x, colours(termenv.Ascii, false))}
	drawsNothingFoul(t, "plan", d)
	drawsNothingFoul(t, "plan, refused", d.Size(80, 24).Enter())
	drawsNothingFoul(t, "plan, listed", d.Type("*"))
}

// Questions about a machine, with a foul name for every name there is.
func TestFoulQuestions(t *testing.T) {
	q := job.MachineQuestions(job.Facts{Name: testdata.Foul, Taken: []string{testdata.Foul}, Ports: []string{testdata.Foul}})
	m := tui.NewAskModel(tui.AskConfig{Q: q, Title: testdata.Foul, Keep: func(job.Asking) error { return errors.New(testdata.Foul) },
		Told: func(job.Asking) []string { return []string{testdata.Foul} }, Now: func() time.Time { return begin }},
		colours(termenv.Ascii, false))
	d := &driver{t: t, model: m}
	for i := range 12 {
		drawsNothingFoul(t, fmt.Sprintf("question %d", i), d)
		drawsNothingFoul(t, fmt.Sprintf("answer %d", i), d.Paste(testdata.Foul))
		d.Size(80, 24).Enter().Type("1").Enter()
	}
}
