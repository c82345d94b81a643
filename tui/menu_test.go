package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/tui"
)

// startAnswers are the lines of a start page, with an open session.
var startAnswers = []string{
	"go on with swing 42.5 mm on bench mill: trial 2, 3 stations read; last entry 2025-03-04 09:12, " + longJournal,
	"a new setting: bring a swing radius, or a centre, in", "the arcs of a drawing, one after the other", "leave"}

// menu opens such a page, and has it seen for a minute.
func menu(t testing.TB, c tui.OpenConfig, plain bool) *ticking {
	t.Helper()
	x := &ticking{driver: &driver{t: t}, now: begin}
	c.Now = func() time.Time { return x.now }
	x.model = tui.NewOpenModel(c, colours(termenv.Ascii, plain))
	x.Size(80, 24)
	x.now = x.now.Add(time.Minute)
	return x
}

// The start page: what Enter alone does in large letters, and below the lines what was said of what was done last.
func TestStartOnTheScreen(t *testing.T) {
	c := tui.OpenConfig{Title: "trammel: a swing radius and its centre", Answers: startAnswers, Takes: "go on", Leaves: "leave"}
	golden(t, "80x24/start", menu(t, c, false).Screen())
	golden(t, "80x24/start.plain", menu(t, c, true).Screen())
	golden(t, "200x50/start", menu(t, c, false).Size(200, 50).Screen())
	golden(t, "40x10/start", menu(t, c, false).Size(40, 10).Screen())
	c.Said = []string{"error: plate.dxf: no such file", "hint: see whether the name is right"}
	c.Alarm = true
	golden(t, "80x24/start-said", menu(t, c, false).Screen())
	x := menu(t, c, false)
	x.Size(40, 10)
	seen := ""
	for range 4 {
		seen += bare(x.Screen())
		x.Type("0").Enter()
	}
	for _, words := range append(c.Said, startAnswers...) {
		if !strings.Contains(seen, bare(words)) {
			t.Errorf("%q is cut on 40 × 10:\n%s", words, x.Screen())
		}
	}
}

// Where a file may be named, letters and bars belong to its name, the keys of correcting correct it, and a number still is an answer;
// the number of none is refused.
func TestNamesAFile(t *testing.T) {
	named := func(x *ticking, n int, name string) {
		t.Helper()
		if m := x.model.(tui.OpenModel); m.Taken != n || m.Named != name || !x.quit {
			t.Errorf("answer %d, name %q, ended %v; want %d, %q\n%s", m.Taken, m.Named, x.quit, n, name, x.Screen())
		}
	}
	c := tui.OpenConfig{Title: "which drawing", Answers: []string{"a.dxf", "b.dxf"}, Takes: "a.dxf", Leaves: "back", Names: true}
	x := menu(t, c, false)
	x.Type("2").Enter()
	named(x, 2, "")
	x = menu(t, c, false)
	x.Type("3").Enter().Expect(Line("\"3\" is no answer here, need 1 to 2"))
	x.Type("2 plates/q.dxff").Press(tea.KeyBackspace).Enter()
	named(x, 0, "2 plates/q.dxf")
	x = menu(t, c, false)
	x.Type("no").Esc().Type("12/1").Enter()
	named(x, 1, "")
	x = menu(t, c, false)
	x.Type("/")
	named(x, 0, "")
	x = menu(t, c, false)
	x.Paste("/tmp/" + strings.Repeat("long/", 60) + "é.dxf").Press(tea.KeyCtrlJ)
	named(x, 0, "/tmp/"+strings.Repeat("long/", 60)+"é.dxf")
}
