package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

// topicPages are two pages of help: one of several leaves, and one with lines that are kept as they stand.
var topicPages = []pane.Topic{
	{
		Name:  "signs",
		About: "which way",
		Text: strings.Repeat("A paragraph about signs that takes two lines of a window of eighty columns, "+
			"or more of one.\n\n", 20),
	},
	{Name: "files", About: "what a file holds", Text: "Words before it:\n\n" +
		"    unit = \"mm\"      # kept\n    name = \"bench\"   # as it stands\n\n" +
		"- one\n- two ± 3°\n"},
}

// reading is a screen at a station, with the pages of help.
func reading(t *testing.T) *driver {
	t.Helper()
	d := loaded(t, real(t, nil))
	c := tui.Config{Live: d.live, Now: clock(), Topics: topicPages}
	d.model = tui.NewModel(c, colours(termenv.Ascii, false))
	return d.Size(80, 24)
}

// From the help page the keypad alone opens every other page by its number, turns it leaf by leaf and comes back to the work;
// nothing is entered.
func TestTopicsByKeypad(t *testing.T) {
	d := reading(t)
	work, events := d.Esc().Screen(), len(d.mem.Lines)
	d.Type("?").Expect(Line("* pages"))
	d.Type("?").Expect(Line("* on this page lists the other pages of help"))
	d.Type("*").Expect(Line("1  signs: which way"), Line("2  files: what a file holds"))
	d.Type("2").Enter().Expect(Line("files: what a file holds"), Line(`    unit = "mm"      # kept`), Line("- two ± 3°"))
	if d.Enter(); d.Screen() != work {
		t.Errorf("Enter does not lead back to the work:\n%s", d.Screen())
	}
	d.Type("?*1").Enter().Expect(Line("signs: which way"), Line("page 1 of "))
	rows := strings.Split(d.Screen(), "\n")
	for i, row := range rows[1:] {
		if strings.Contains(row, "A paragraph about signs") && strings.TrimSpace(rows[i]) != "" {
			t.Errorf("no blank line before a paragraph, but %q", rows[i])
		}
	}
	n := 0
	for ; strings.Contains(d.Screen(), "page "); n++ {
		if n > 20 {
			t.Fatal("Enter never closes the page")
		}
		d.Enter()
	}
	if n < 2 || d.Screen() != work {
		t.Errorf("%d leaves, want several and then the work:\n%s", n, d.Screen())
	}
	if d.Type("?*1").Enter().Type("?/"); d.Screen() != work || len(d.mem.Lines) != events {
		t.Errorf("/ does not close a page from its second leaf, or enters something:\n%s", d.Screen())
	}
	// * elsewhere is the list of all that can be done, on such a page too.
	d.Type("?*1").Enter().Type("*").Expect(Line("what can be done now"))
}

// A page of help lies over the work as any other: a number that is typed at it is a reading.
func TestReadingClosesATopic(t *testing.T) {
	d := reading(t)
	d.Type("?*1").Enter()
	d.Burst("0.125\r").Readings(0.125)
	if strings.Contains(d.Screen(), "signs: which way") {
		t.Errorf("the page still lies there:\n%s", d.Screen())
	}
}

// Nothing of a page is lost in a small window, nor wider than it.
func TestTopicInASmallWindow(t *testing.T) {
	d := reading(t).Size(40, 10)
	d.Type("?*2").Enter()
	all := ""
	for n := 0; strings.Contains(d.Screen(), "page "); n++ {
		if n > 20 {
			t.Fatal("Enter never closes the page")
		}
		all += d.Screen()
		d.Enter()
	}
	for _, want := range []string{"what a file holds", "# kept", "# as it stands", "- two ± 3°"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in a window of 40x10:\n%s", want, all)
		}
	}
}

// In a replay and in a plan the same keys open them, and everywhere ? comes back to the help page itself.
func TestTopicsOfReplayAndPlan(t *testing.T) {
	plan := platePlan(t, twoCutters)
	for name, m := range map[string]tea.Model{
		"replay": tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-every-kind.jsonl"), Topics: topicPages},
			colours(termenv.Ascii, false)),
		"plan": tui.NewPlanModel(tui.PlanConfig{Plan: plan, Topics: topicPages}, colours(termenv.Ascii, false)),
	} {
		d := &driver{t: t, model: m}
		work := d.Size(80, 24).Screen()
		d.Type("?").Expect(Line("* pages"), Line("* on this page lists the other pages of help"))
		d.Type("*").Expect(Line("the pages of help"), Line("1  signs: which way"), Line("2  files: what a file holds"))
		d.Type("2").Enter().Expect(Line("files: what a file holds"), Line("- two ± 3°"))
		if d.Enter(); d.Screen() != work {
			t.Errorf("%s: Enter does not lead back:\n%s", name, d.Screen())
		}
		d.Type("?*1").Enter().Expect(Line("signs: which way"))
		if d.Type("?/"); d.Screen() != work || d.quit {
			t.Errorf("%s: / does not close a page from its second leaf:\n%s", name, d.Screen())
		}
		if d.Type("?"); strings.Contains(d.Screen(), "signs: which way") {
			t.Errorf("%s: help does not begin with the help page:\n%s", name, d.Screen())
		}
		d.Type("/*").Expect(Line("what can be done now"))
	}
}

// On a page of numbered answers, which has no help of its own, ? lists the pages of help, and * what can be answered with help behind
// it: no answer is taken by reading.
func TestTopicsFromAnswers(t *testing.T) {
	x := &ticking{driver: &driver{t: t}, now: begin}
	x.model = tui.NewOpenModel(tui.OpenConfig{Title: "trammel", Answers: []string{"practice", "a new setting", "leave"}, Topics: topicPages,
		Now: func() time.Time { return x.now }}, colours(termenv.Ascii, false))
	press := func(keys string) *ticking {
		t.Helper()
		for _, k := range strings.Split(keys, "") {
			x.now = x.now.Add(time.Second)
			if k == "\r" {
				x.Enter()
			} else {
				x.Type(k)
			}
		}
		return x.stays()
	}
	x.Size(80, 24)
	page := press("9/").Screen()
	press("?").Expect(Line("the pages of help"), Line("1  signs: which way"), Line("2  files: what a file holds"))
	press("2\r").Expect(Line("files: what a file holds"), Line(`    unit = "mm"      # kept`))
	if press("\r"); x.Screen() != page {
		t.Errorf("Enter does not lead back:\n%s", x.Screen())
	}
	press("?1\r").Expect(Line("signs: which way"), Line("page 1 of "))
	press("?").Expect(Line("page 2 of "))
	press("*").Expect(Line("2  files: what a file holds"))
	press("*?").Expect(Line("the pages of help"))
	press("9\r").Expect(Line("✗ there is no line 9"))
	if press("/"); x.Screen() != page {
		t.Errorf("/ does not close the list:\n%s", x.Screen())
	}
	press("*").Expect(Line("what can be done now"), Line("1  practice"), Line("4  help: its pages"))
	press("4\r").Expect(Line("the pages of help"))
	press("1\r").Expect(Line("signs: which way"))
	if press("/"); x.Screen() != page {
		t.Errorf("/ does not close the page:\n%s", x.Screen())
	}
	x.now = x.now.Add(time.Second)
	x.Type("*2")
	x.now = x.now.Add(time.Second)
	x.Enter().ended(t, 2)
}

// The page that explains a question lists the other pages of help, as that of a session does; a page leads back to the question.
func TestTopicsFromAQuestion(t *testing.T) {
	d := &driver{t: t, model: tui.NewAskModel(tui.AskConfig{Q: job.MachineQuestions(job.Facts{}), Title: "a machine", Topics: topicPages},
		colours(termenv.Ascii, false))}
	question := d.Size(80, 24).Screen()
	d.Type("?").Expect(Line("* pages"), Line("* on this page lists the other pages of help"))
	d.Type("*").Expect(Line("the pages of help"), Line("2  files: what a file holds"))
	d.Type("2").Enter().Expect(Line("files: what a file holds"), Line("- two ± 3°"))
	if d.Enter(); d.Screen() != question {
		t.Errorf("Enter does not lead back to the question:\n%s", d.Screen())
	}
	if d.Type("?*1").Enter().Expect(Line("signs: which way")).Type("/"); d.Screen() != question {
		t.Errorf("/ does not lead back to the question:\n%s", d.Screen())
	}
	d.Type("*").Expect(Line("what can be done now"), Line("explain what is asked"))
}
