package tui_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/tui"
)

const longJournal = "2025-03-04-0912-tensioner-plate-pivot-bore-arc3-42.5mm-2.jsonl"

// openAnswers are what is asked about n sessions.
func openAnswers(n int) (out []string) {
	for i := range n {
		out = append(out, fmt.Sprintf("go on: trial %d, %d stations read, last entry 2025-03-04 09:%02d; %s, bench mill", i+1, 3*i, 59-i,
			longJournal))
	}
	return append(out, "begin anew; "+longJournal+" stays as it is")
}

// openPage opens the page with a clock that the test sets, and has it seen for a minute.
func openPage(t testing.TB, n int, plain bool, colour termenv.Profile) *ticking {
	t.Helper()
	x := &ticking{driver: &driver{t: t}, now: begin}
	x.model = tui.NewOpenModel(tui.OpenConfig{Title: fmt.Sprintf("%d sessions on this job are open", n), Answers: openAnswers(n),
		Now: func() time.Time { return x.now }}, colours(colour, plain))
	x.Size(80, 24)
	x.now = x.now.Add(time.Minute)
	return x
}

// took holds the page to have ended with an answer.
func (x *ticking) took(want int) {
	x.t.Helper()
	if got := x.model.(tui.OpenModel).Taken; got != want || !x.quit {
		x.t.Errorf("answer %d, ended %v, want answer %d\n%s", got, x.quit, want, x.Screen())
	}
}

// stays holds it to wait for an answer.
func (x *ticking) stays() *ticking {
	x.t.Helper()
	if got := x.model.(tui.OpenModel).Taken; got != 0 || x.quit {
		x.t.Errorf("answer %d, ended %v, want it to wait\n%s", got, x.quit, x.Screen())
	}
	return x
}

// The page at the sizes that its goldens are looked at in, in its colours, and in ASCII with a number begun.
func TestOpenOnTheScreen(t *testing.T) {
	golden(t, "80x24/open", openPage(t, 2, false, termenv.Ascii).Screen())
	golden(t, "80x24/open.ansi256", openPage(t, 2, false, termenv.ANSI256).model.View())
	golden(t, "80x24/open.plain", openPage(t, 2, true, termenv.Ascii).Type("2").Screen())
	golden(t, "120x40/open", openPage(t, 4, false, termenv.Ascii).Size(120, 40).Screen())
	golden(t, "40x10/open", openPage(t, 1, false, termenv.Ascii).Size(40, 10).Screen())
	x := openPage(t, 3, false, termenv.Ascii)
	golden(t, "40x10/open-more", x.Type("0").Enter().Size(40, 10).Type("x").Screen())
}

// Enter alone takes the first answer, a number and Enter the one of that number; / clears what is typed, and alone it leaves,
// as q does.
func TestAnswersOpen(t *testing.T) {
	openPage(t, 2, false, termenv.Ascii).Enter().ended(t, 1)
	openPage(t, 2, false, termenv.Ascii).Press(tea.KeyCtrlJ).ended(t, 1)
	openPage(t, 2, false, termenv.Ascii).Type("3").Enter().ended(t, 3)
	openPage(t, 12, false, termenv.Ascii).Type("13").Enter().ended(t, 13)
	openPage(t, 2, false, termenv.Ascii).Type("3/2").Enter().ended(t, 2)
	openPage(t, 2, false, termenv.Ascii).Type("3").Press(tea.KeyBackspace).Type("2").Enter().ended(t, 2)
	for _, leaves := range []string{"/", "q", "2q", "2//"} {
		openPage(t, 2, false, termenv.Ascii).Type(leaves).ended(t, 0)
	}
	if d := openPage(t, 2, false, termenv.Ascii).Press(tea.KeyCtrlZ); !d.stopped || d.quit {
		t.Error("^Z does not ask to be suspended")
	}
}

func (d *driver) ended(t *testing.T, want int) {
	t.Helper()
	(&ticking{driver: d}).took(want)
}

// What is no answer is refused with what would be one. A reading that a cable types, or that was copied, is refused as a
// whole: its end of line answers nothing.
func TestRefusesOtherAnswers(t *testing.T) {
	for typed, said := range map[string]string{"4": "\"4\" is no answer here, need 1 to 3", "0.2": "\"0.2\" is no answer",
		"-1": "\"-1\" is no answer", "+2": "\"+2\" is no answer", "99999999999999999999": "is no answer here, need 1 to 3"} {
		x := openPage(t, 2, false, termenv.Ascii)
		x.Type(typed).Enter().Expect(Line("✗", said))
		x.stays().after(time.Second, enterKey).took(1)
		x = openPage(t, 2, false, termenv.Ascii)
		x.Burst(typed).Enter().Expect(Line("✗", said))
		x.stays()
		x = openPage(t, 2, false, termenv.Ascii)
		x.Paste(typed).Enter().Expect(Line("✗", said))
		x.stays()
	}
	x := openPage(t, 2, false, termenv.Ascii)
	x.Paste("q").Enter()
	x.stays()
	x.Type("x").Expect(Line("✗ x does nothing here; type a number, Enter takes it"))
	x.Esc().Expect(Line("✗ esc does nothing here"))
	x.Send(tui.RefusedPaste(70000, true)).Expect(Line("✗ 70000 bytes pasted"))
	x.stays()
}

// An Enter that comes before the page can have been read is not taken, nor is one that was typed before it was drawn, nor a
// key that is held; a number counts once it can be seen.
func TestOpenBounces(t *testing.T) {
	fresh := func() *ticking {
		x := &ticking{driver: &driver{t: t}, now: begin}
		x.model = tui.NewOpenModel(tui.OpenConfig{Title: "a session on this job is open", Answers: openAnswers(1),
			Now: func() time.Time { return x.now }}, colours(termenv.Ascii, false))
		return x
	}
	x := fresh()
	x.now = x.now.Add(time.Hour) // a slow terminal
	x.Send(enterKey)
	x.stays().Type("2")
	x.Size(80, 24)
	x.after(299*time.Millisecond, enterKey).stays().Expect(Line("only just changed: Enter is not taken"))
	x.after(time.Second, enterKey).took(1)
	x = fresh()
	x.Size(80, 24)
	x.after(100*time.Millisecond, char('/')).stays()
	for range 100 {
		x.after(33*time.Millisecond, char('/')).stays()
	}
	x = fresh()
	x.Size(80, 24)
	x.after(20*time.Millisecond, char('2')).after(time.Millisecond, enterKey).took(2)
	// The second of two Enters that turn to another leaf.
	x = openPage(t, 9, false, termenv.Ascii)
	x.Size(40, 10).Type("0").Enter()
	x.after(200*time.Millisecond, enterKey).stays().after(time.Second, enterKey).took(1)
}

// Nor does the second Enter confirm what the session asks that goes on: its first page has not been read either.
func TestFirstPageBounces(t *testing.T) {
	x := winding(t)
	x.model = tui.NewModel(tui.Config{Live: x.live, Now: func() time.Time { return x.now }}, colours(termenv.Ascii, false))
	x.Size(80, 24)
	x.after(100*time.Millisecond, enterKey).wound(t, 0).Expect(Line("only just changed: Enter is not taken"))
	x.Size(100, 30)
	x.after(time.Second, enterKey).wound(t, 1)
}

// From 40 × 10 up nothing is cut: every character of title and answers stands on one of the leaves; and whatever the size, no
// line is too long and none too many.
func TestOpenEverySize(t *testing.T) {
	n := 0
	for w := 1; w <= 200; w += 1 + w/10 {
		for h := 1; h <= 60; h += 1 + h/8 {
			n++
			x := openPage(t, 1+n%5, n%2 == 0, termenv.Ascii)
			x.Size(w, h).Fits(w, h)
			if w < 40 || h < 10 {
				continue
			}
			first := bare(x.Screen())
			seen := first
			for x.Type("0").Enter(); bare(x.Screen()) != first; x.Type("0").Enter() {
				seen += bare(x.Screen())
			}
			for i, a := range openAnswers(1 + n%5) {
				if !strings.Contains(seen, bare(fmt.Sprint(i+1, a))) {
					t.Fatalf("%d × %d: answer %d is cut:\n%s", w, h, i+1, x.Screen())
				}
			}
			if !strings.Contains(seen, bare(fmt.Sprint(1+n%5, " sessions on this job are open"))) {
				t.Fatalf("%d × %d: the title is cut:\n%s", w, h, x.Screen())
			}
		}
	}
}

// bare is a screen without its spaces.
func bare(s string) string { return strings.Join(strings.Fields(s), "") }
