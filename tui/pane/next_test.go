package pane

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui/plot"
)

// everyAction are the states of the job that ask the hand for something, in every set-up.
func everyAction() []scene {
	return slices.Concat(scenes(), tableScenes(), setupScenes())
}

// sizesOf are windows of every kind, from the smallest at which nothing may be left out.
var sizesOf = [][2]int{{40, 10}, {41, 13}, {40, 14}, {60, 18}, {58, 20}, {80, 10}, {80, 24}, {80, 50}, {100, 30}, {120, 40}, {133, 24},
	{200, 14}, {200, 50}, {200, 60}}

// At every size from 40×10 on, the pieces of an action tell all of its parts, each by itself complete: large or written, in order,
// and one after the other by Enter.
func TestNothingIsLeftOut(t *testing.T) {
	for i, s := range everyAction() {
		v := s.see(t, i%3 == 0)
		for _, c := range sizesOf {
			w, h := c[0], c[1]
			v.Piece = 0
			drawn, pieces := "", Next(v, w, h).Pieces
			for v.Piece = range pieces {
				drawn += nextAt(v, w, h) + "\n"
			}
			for k, p := range now(v).parts {
				if !toldIn(drawn, p, v.Theme.Plain) {
					t.Fatalf("%s at %d×%d: part %d, %q, is not told in %d pieces:\n%s", s.name, w, h, k+1, p.alone, pieces, drawn)
				}
			}
		}
	}
}

// toldIn reports whether a part stands in what was drawn: written, or in large letters of some size, in one line or in two.
func toldIn(drawn string, p deed, plain bool) bool {
	flat := strings.Join(strings.Fields(drawn), " ")
	for _, forms := range [][]string{p.alone, p.under} {
		for _, f := range forms {
			if strings.Contains(flat, f) || isBig(drawn, f, plain) {
				return true
			}
		}
	}
	broken := func(lines [][]string) bool {
		for _, forms := range lines {
			if !slices.ContainsFunc(forms, func(f string) bool { return isBig(drawn, f, plain) }) {
				return false
			}
		}
		return lines != nil
	}
	return broken(p.two) || broken(p.unnamed)
}

// isBig reports whether a text stands somewhere in large letters: its rows one below the other, in one column.
func isBig(drawn, text string, plain bool) bool {
	rows := strings.Split(drawn, "\n")
	for _, letters := range bigOf(text, plain) {
		for i := range rows {
			if i+len(letters) > len(rows) {
				break
			}
			whole := true
			for k, l := range letters {
				whole = whole && strings.HasPrefix(rows[i+k], l)
			}
			if whole {
				return true
			}
		}
	}
	return false
}

var lettersOf = map[string][][]string{}

// bigOf are a text's letters in every size, without the row of what hangs below the line.
func bigOf(text string, plain bool) (all [][]string) {
	key := fmt.Sprint(plain, text)
	if all, ok := lettersOf[key]; ok {
		return all
	}
	smallest, _ := plot.Big([][]string{{text}}, 10000, 8, plain) // a pixel two cells wide
	width := len([]rune(strings.Split(smallest, "\n")[0])) / 2
	for down := 1; down <= 8; down++ { // half cells that a pixel is high
		for across := down; across <= 2*down; across++ {
			for _, h := range []int{(7*down + 1) / 2, 4 * down} { // with what hangs below the line, and without
				drawn, tall := plot.Big([][]string{{text}}, (width*across+1)/2, h, plain)
				if tall == 0 {
					continue
				}
				rows := strings.Split(drawn, "\n")[:tall]
				for i := range rows {
					rows[i] = strings.TrimRight(rows[i], " ")
				}
				all = append(all, rows)
			}
		}
	}
	lettersOf[key] = all
	return all
}

// tallest is the height of the capitals of the piece that is shown, 0 where it is written.
func tallest(v *View, w, h int) int {
	z := &zone{theme: v.Theme, action: now(v), page: v.Page, w: w, h: h}
	z.lay(func(most int) []string { return statusLines(v, w, most) })
	return z.tall
}

// The letters grow with the window: four rows at least at 80×24, plain ones five, ten at least at 200×50, and never fewer in a
// larger window that tells the action in as many pieces.
func TestLettersGrow(t *testing.T) {
	for _, s := range everyAction() {
		for _, plain := range []bool{false, true} {
			v := s.see(t, plain)
			for _, c := range []struct{ w, h, least int }{{80, 24, 4}, {200, 50, 10}, {240, 60, 10}} {
				if v.Page { // which has the room
					c.least = 4
				}
				if plain {
					c.least = max(c.least, 5)
				}
				if got := tallest(v, c.w, c.h); got < c.least {
					t.Errorf("%s at %d×%d, plain %v: capitals of %d rows, want %d at least\n%s", s.name, c.w, c.h, plain, got, c.least,
						nextAt(v, c.w, c.h))
				}
			}
			for w := 80; w <= 200; w += 40 {
				was, in := 0, 0
				for h := 24; h <= 60; h += 4 {
					got, pieces := tallest(v, w, h), Next(v, w, h).Pieces
					if got < was && pieces == in {
						t.Errorf("%s at %d×%d, plain %v: capitals of %d rows, of %d in a lower window", s.name, w, h, plain, got, was)
					}
					was, in = got, pieces
				}
			}
		}
	}
}

// What is typed stands large, whatever is asked; the message that follows is told to its last word.
func TestTypedIsLarge(t *testing.T) {
	for _, s := range everyAction() {
		v := s.see(t, false)
		if v.Page || v.Lost || !v.Prompt.TakesNumber() {
			continue
		}
		v.Entry = "-0.123"
		if drawn := nextAt(v, 80, 24); !isBig(drawn, v.entered()+": −0.123_", false) && !isBig(drawn, "−0.123_", false) {
			t.Errorf("%s: what is typed does not stand in large letters\n%s", s.name, drawn)
		}
	}
}

// A slide that is sent farther than the dial sees is told the tip first, large, in words and in the list: the ring is 30, the tip
// stands at it, and the swing is to be 4 larger than where the sweep was made.
func TestTipClearStandsFirst(t *testing.T) {
	b := begin(t, func(o *session.Opened) {
		byCollar(o)
		o.Job.Target.SwingRadius = 46
	}).answer(3+6, never)
	for b.prompt().Wind.Slide.Name != "offset" {
		if b.prompt().Waits != session.ForWind {
			t.Fatal("the offset slide is not wound")
		}
		b.answer(1, never)
	}
	v := b.sees(false)
	a := now(v)
	if !strings.HasPrefix(a.parts[0].alone[0], "tip clear") || !strings.HasPrefix(a.words[0], "tip clear") {
		t.Errorf("first is %q: %q", a.parts[0].alone, a.words[0])
	}
	if got := Work(v, 44, 14); !strings.Contains(got, "tip clear of the work") {
		t.Errorf("the list does not say it:\n%s", got)
	}
	if got := nextAt(v, 80, 24); !isBig(got, "tip clear of the work", false) {
		t.Errorf("it does not stand large:\n%s", got)
	}
}

// The cutter is in and the slide locked when stock is left on and taken off again: the spindle stands, the cutter comes clear and the
// slide is unlocked before any movement, or backing off drives it into the wall; and it is locked before the cut. Where a collar keeps
// its figures, each movement names the one that it stops at. Written as small as at 40×10, nothing of it is missing.
func TestCutterClearStandsFirst(t *testing.T) {
	for _, keeps := range []bool{false, true} {
		for _, step := range []session.Chore{session.LeaveStock, session.LastWind} {
			b := begin(t, func(o *session.Opened) {
				o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8, Stock: 0.3}
				byCollar(o)
				for i := range o.Machine.Slides {
					o.Machine.Slides[i].Keeps = keeps
				}
			})
			for p := b.prompt(); p.Chore.Step != step || p.Waits != session.ForWind; p = b.prompt() {
				switch {
				case p.Wind.Reads:
					b.do(session.Take{Reading: 12.5})
				case p.Waits == session.ForChore && p.TakesReading():
					b.do(session.Skip{})
				case p.Waits == session.ForChore:
					b.do(session.Confirm{})
				default:
					b.answer(1, never)
				}
			}
			v := b.sees(false)
			a := now(v)
			var told []string
			for _, p := range a.parts {
				told = append(told, p.alone[0])
			}
			n := len(told)
			if n < 5 || told[0] != "spindle stopped, cutter lifted clear" || told[1] != "unlock" || told[n-1] != "lock" {
				t.Errorf("%s: told %q", step, told)
			}
			stops := lines.Stops(&v.State, &v.Prompt.Wind)
			for i, m := range told[3 : n-1] {
				if ends := strings.HasSuffix(m, " div to "+stops[i]); ends != keeps {
					t.Errorf("%s, figures kept %v: %q, which stops at %s", step, keeps, m, stops[i])
				}
			}
			drawn := ""
			for v.Piece = range Next(v, 40, 10).Pieces {
				drawn += nextAt(v, 40, 10) + "\n"
			}
			at := 0
			flat := strings.Join(strings.Fields(drawn), " ")
			for k, p := range told {
				i := strings.Index(flat[at:], fmt.Sprintf("%d %s", k+1, p))
				if i < 0 {
					t.Fatalf("%s at 40×10: %q does not follow:\n%s", step, p, drawn)
				}
				at += i
			}
			list := Work(v, 44, 14)
			first, lock := strings.Index(list, "  spindle stopped"), strings.LastIndex(list, "  lock")
			if begins := strings.Index(list, "collar"); first < 0 || begins < first || lock < begins {
				t.Errorf("%s: the list tells it otherwise:\n%s", step, list)
			}
		}
	}
}
