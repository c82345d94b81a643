package pane

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui/keys"
)

// Every pane fills its zone exactly, whatever its size: no line too many, none too wide, and none
// too narrow for the pane beside it.
func TestPanesFillTheirZone(t *testing.T) {
	panes := map[string]func(*View, int, int) string{
		"work": Work, "picture": Picture, "next": nextIn, "trials": Trials, "dial": Dial, "form": Form,
		"setup": func(v *View, w, h int) string { return Setup(v, w, h).Draw(0) },
		"steps": func(v *View, w, h int) string { return Setup(v, w, h).Draw(1) },
		"help":  func(v *View, w, h int) string { return Chapters(v.Theme, Help(v, bindings(v)), w, h).Draw(0) },
		"ends":  func(v *View, w, h int) string { return Ends(v, w, h).Draw(1) },
		"list": func(v *View, w, h int) string {
			return List(v.Theme, "", []string{"one", "two", "three and more of it", "four"}, "7", w, h).Draw(1)
		},
		"aim":  func(v *View, w, h int) string { return Box(v.Theme, Aim(v, w), w, h) },
		"keys": func(v *View, w, h int) string { return Box(v.Theme, Keys(v, bindings(v), w), w, h) },
	}
	for i, s := range scenes() {
		v := s.see(t, i%2 == 1)
		v.Practice, v.Needle, v.NeedleOn = i%3 == 0, 0.123, i%3 == 0
		for name, draw := range panes {
			for _, w := range []int{1, 2, 5, 13, 16, 20, 31, 44, 60, 97, 160} {
				for _, h := range []int{1, 2, 3, 4, 6, 7, 14, 33} {
					drawn := draw(v, w, h)
					if got := lipgloss.Height(drawn); got != h {
						t.Fatalf("%s, %s, %d × %d: %d lines", s.name, name, w, h, got)
					}
					for _, l := range strings.Split(drawn, "\n") {
						if got := ansi.StringWidth(l); got != w {
							t.Fatalf("%s, %s, %d × %d: a line of %d: %q", s.name, name, w, h, got, l)
						}
					}
				}
			}
			for _, size := range [][2]int{{0, 5}, {5, 0}, {-1, -1}} {
				draw(v, size[0], size[1]) // must not panic
			}
		}
	}
}

// What is expected of a reading changes nothing that is drawn before the reading has been entered.
func TestExpectedIsNotDrawn(t *testing.T) {
	drawn := func(v *View) string {
		return Aim(v, 120) + Work(v, 60, 40) + Picture(v, 60, 30) + Dial(v, 60, 30) + nextAt(v, 120, 24) +
			Keys(v, bindings(v), 120) + Trials(v, 80, 40) + Setup(v, 80, 20).Draw(0) +
			Chapters(v.Theme, Help(v, bindings(v)), 80, 30).Draw(0)
	}
	seen := 0
	for _, s := range scenes() {
		v := s.see(t, false)
		if v.Prompt.Waits != session.ForReading {
			continue
		}
		seen++
		want := drawn(v)
		v.Prompt.Reading.Expected = indicator.Value{V: 0.777, U: 0.001}
		if got := drawn(v); got != want || strings.Contains(got, "0.777") {
			t.Errorf("%s: the screen tells what is expected:\n%s", s.name, got)
		}
	}
	if seen < 6 {
		t.Fatalf("%d scenes wait for a reading, want 6 or more", seen)
	}
}

// However long the sweep and however small the zone, the station that is asked for is on it.
func TestPresentStationIsSeen(t *testing.T) {
	b := begin(t, func(o *session.Opened) { o.Job.Sweep = setup.Sweep{Stations: 24, AtLeast: 24, To: 300 * geom.Degree} }).answer(3, never)
	for n := 1; n <= 24; n++ {
		v := b.sees(false)
		for h := 5; h <= 30; h++ {
			drawn := Work(v, 44, h)
			row := fmt.Sprintf("▸ %2d ", n)
			if !strings.Contains(drawn, row) {
				t.Fatalf("station %d in %d rows: no %q in\n%s", n, h, row, drawn)
			}
			if n > 3 && !strings.Contains(drawn, "centre off") {
				t.Fatalf("station %d in %d rows: no result in\n%s", n, h, drawn)
			}
		}
		b.answer(1, session.ForWind)
	}
}

// What a step asks for is told whole, and so are what a verdict leans on and the check of a sign, in the work zone or in the parts
// of the bottom zone, from 40×10 on.
func TestStepIsToldWhole(t *testing.T) {
	v := begin(t, func(o *session.Opened) {
		o.Steps, o.Machine.HeadLock, o.Job.Cut = true, true, &setup.Cut{Cutter: 8, Stock: 0.3}
	}).sees(false)
	for _, c := range session.AllChores() {
		v.Prompt.Waits, v.Prompt.Chore = session.ForChore, session.ChoreAsked{Step: c, N: 1, Of: 2}
		isTold(t, string(c), v)
	}
	leaning := begin(t, func(o *session.Opened) { o.Job.Stated = nil }).answer(40, session.ForAccept).sees(false)
	if len(mustTell(leaning, 80)) == 0 {
		t.Error("nobody has stated anything, and nothing of it must be told")
	}
	isTold(t, "settled", leaning)
}

// isTold holds every window to telling all of it, laid out as the root does.
func isTold(t *testing.T, name string, v *View) {
	t.Helper()
	want := strings.Join(strings.Fields(ansi.Strip(strings.Join(mustTell(v, 1000), " "))), " ")
	for _, c := range sizesOf {
		w, h := c[0], c[1]
		v.Piece = 0
		bottom, told := Next(v, w, h), ""
		for v.Piece = range bottom.Pieces {
			b := Next(v, w, h)
			for _, r := range b.rows {
				if !strings.HasPrefix(r, "part ") && !strings.Contains(r, ", part ") && !strings.Contains(r, "type it") {
					told += " " + r
				}
			}
		}
		if body := h - 4 - bottom.Height(); !Small(w, h) {
			left := w
			if w-44 >= 16 && !NeedsWidth(v, 44, body) {
				left = 44
			}
			told += "|" + Work(v, left, body)
		}
		if flat := strings.Join(strings.Fields(ansi.Strip(told)), " "); !strings.Contains(flat, want) {
			t.Errorf("%s at %d×%d: no %q in\n%s", name, w, h, want, told)
		}
	}
	v.Piece = 0
}

// What the hand does is seen before what the sweep has found, where there is not room for both.
func TestMovesAreSeen(t *testing.T) {
	v := begin(t, byCollar).answer(3+6, never).sees(false)
	parked := begin(t, nil).answer(3+6, never).sees(false)
	for h := 7; h <= 20; h++ {
		drawn := Work(v, 44, h)
		for _, want := range []string{"X slide  −0.110 mm", "1  back off anticlockwise 55.5 div", "2  come up clockwise 50.0 div",
			"collar ends at 94.5"} {
			if !strings.Contains(drawn, want) {
				t.Errorf("in %d rows: no %q in\n%s", h, want, drawn)
			}
		}
		// Under the needle: it shows −0.190 at 0°, the spindle goes 0.11 to the left, which frees the tip by
		// as much, and is turned back another 0.1 on.
		drawn = Work(parked, 44, h)
		for _, want := range []string{"X slide  −0.110 mm", "park at 0°", "needle now −0.190", "1  back off anticlockwise to −0.399",
			"2  come up clockwise to −0.299", "rises 0.020 a division"} {
			if !strings.Contains(drawn, want) {
				t.Errorf("in %d rows: no %q in\n%s", h, want, drawn)
			}
		}
	}
	if drawn := Work(v, 44, 14); !strings.Contains(drawn, "swing 41.700 ±0.003 mm") {
		t.Errorf("in 14 rows: no swing in\n%s", drawn)
	}
	// The name of the slide stays in the large letters, or in the words above them.
	for w := 34; w < 120; w++ {
		words, _, _ := strings.Cut(nextAt(v, w, 24), "\n")
		if !strings.HasPrefix(words, "X") && Next(v, w, 24).Pieces == 1 {
			t.Errorf("%d wide: %q, want the slide's name first", w, words)
		}
	}
}

// The reading at the turning point, from the way a tip goes when the spindle is rocked: the tip's
// distance from the head axis is largest or smallest on the radial line, and in a bore a tip that is
// farther out is pressed, on a boss one that is farther in (design: §5; no formula of the program).
func TestTurningPoint(t *testing.T) {
	for name, change := range setups() {
		v := begin(t, change).sees(false)
		s := v.job().Setup
		if !s.ReachKnown {
			if got := lines.TurningWords(v.job()); got != "highest reading with the tip away from the axis, lowest "+
				"reading towards it" {
				t.Errorf("%s: %q", name, got)
			}
			continue
		}
		reading := func(rock float64) float64 {
			z := math.Hypot(42+s.Reach*math.Cos(rock), s.Reach*math.Sin(rock))
			if s.Touch == indicator.Boss {
				return -z
			}
			return z
		}
		want := "lowest reading"
		if reading(0) > reading(0.1) && reading(0) > reading(-0.1) {
			want = "highest reading"
		}
		if got := lines.TurningWords(v.job()); got != want {
			t.Errorf("%s: turning point at the %s, want the %s", name, got, want)
		}
	}
}

// Where the set-up page has several leaves, the drawings stand on the first and the steps behind; and whatever the size, no step is
// cut.
func TestSetupLeaves(t *testing.T) {
	for name, change := range setups() {
		for _, size := range [][2]int{{40, 7}, {60, 8}, {40, 14}, {58, 10}, {80, 14}, {120, 30}, {200, 40}} {
			w, h := size[0], size[1]
			v := begin(t, change).sees(true)
			leaves, all := Setup(v, w, h), ""
			for leaf := range leaves.N {
				rows := strings.Split(leaves.Draw(leaf), "\n")
				if leaves.N > 1 && (h >= 10 || leaf > 0) { // the drawings need all of a small window
					if last := rows[h-1]; !strings.HasPrefix(last, fmt.Sprintf("page %d of %d", leaf+1, leaves.N)) {
						t.Errorf("%s, %v: leaf %d ends in %q", name, size, leaf, last)
					}
					rows = rows[:h-1]
				}
				all += " " + single(strings.Join(rows, " "))
			}
			for _, s := range lines.SetupSteps(&v.State) {
				if !strings.Contains(all, single(v.text(s))) {
					t.Errorf("%s, %v: not whole on the page: %q", name, size, s)
				}
			}
			first := single(leaves.Draw(0))
			drawn := strings.Contains(first, "o>#") || strings.Contains(first, "#<o")
			if h >= 10 && drawn != v.job().Setup.ReachKnown {
				t.Errorf("%s, %v: drawn %v, the reach known %v\n%s", name, size, drawn, v.job().Setup.ReachKnown, first)
			}
			if w >= 120 && leaves.N > 1 {
				t.Errorf("%s, %v: %d leaves, want one", name, size, leaves.N)
			}
			if !strings.Contains(first, "spindle off and isolated") {
				t.Errorf("%s, %v: the first leaf does not say that the spindle is off", name, size)
			}
		}
	}
}

// The help lists every key and what it does, whether it can act or not, on the smallest of the usual windows.
func TestHelpListsEveryKey(t *testing.T) {
	v := begin(t, nil).sees(false)
	for w := session.ForNothing; w <= session.ForAgain; w++ {
		for bits := range 8 {
			s := keys.Situation{Now: session.Now{Waits: w, Undo: bits&1 != 0}, Practice: bits&2 != 0, Lost: bits&4 != 0, Page: true}
			for _, width := range []int{40, 60, 80, 120} {
				page := strings.Join(strings.Fields(everyLeaf(v.Theme, Help(v, keys.For(s)), width, 14)), " ")
				for _, b := range keys.For(s) {
					if row := names(b) + " " + b.Help().Desc; !strings.Contains(page, row) {
						t.Errorf("%+v, %d wide: no %q on the page\n%s", s, width, row, page)
					}
					for _, k := range b.Keys() {
						k = strings.ToLower(strings.Replace(k, "ctrl+", "^", 1))
						if k != "^j" && !strings.Contains(strings.ToLower(names(b)), k) {
							t.Errorf("%s does not stand in %q", k, names(b))
						}
					}
				}
			}
		}
	}
}

// The last line holds only keys that can act, the most needed first, and none in part.
func TestKeysLine(t *testing.T) {
	v := begin(t, nil).answer(3+2, never).sees(false)
	v.Practice = true
	all := bindings(v)
	for w := range 200 {
		line := Keys(v, all, w)
		if ansi.StringWidth(line) > w {
			t.Fatalf("%d wide: %q", w, line)
		}
		for _, item := range strings.Split(line, " · ") {
			found := line == ""
			for _, b := range all {
				found = found || b.Why == "" && item == b.Help().Key+" "+b.Help().Desc
			}
			if !found {
				t.Fatalf("%d wide: %q is no key that can act", w, item)
			}
		}
	}
	if line := Keys(v, all, 80); !strings.HasPrefix(line, "Enter take dial · * list · / undo · ? help · q quit · d take dial") ||
		!strings.Contains(line, "q quit") {
		t.Errorf("80 wide: %q", line)
	}
}

// However many trials there were, the present one is seen.
func TestTrialsShowTheLast(t *testing.T) {
	b := begin(t, nil).answer(3, never)
	for n := 1; n <= 6; n++ {
		for s := b.live.State(); s.Trial < n+1 || s.Sweep.N < 1; s = b.live.State() {
			if s.Sweep.N == 0 {
				b.swing += 0.2 // somebody leans on the slide
			}
			b.answer(1, never)
		}
		head := fmt.Sprintf("%d  1 reading ", n+1)
		if drawn := Trials(b.sees(false), 80, 14); !strings.Contains(drawn, head) || !strings.HasPrefix(drawn, "trials") {
			t.Fatalf("trial %d: no %q in\n%s", n, head, drawn)
		}
	}
}

// The sweep behind the winds says what it is for until it says something itself, and a slide that comes up again says why.
func TestAgainSaysWhy(t *testing.T) {
	b := begin(t, nil).answer(3+6+3, never)
	flat := func(v *View) string { return strings.Join(strings.Fields(Work(v, 44, 20)), " ") }
	v := b.sees(false)
	if v.State.Trial != 2 || v.Prompt.Waits != session.ForReading {
		t.Fatalf("trial %d waits for %d, want the second's first station", v.State.Trial, v.Prompt.Waits)
	}
	if got := flat(v); !strings.Contains(got, "trial 2 verifies what the winds have done") {
		t.Errorf("the second sweep does not say what it is for:\n%s", got)
	}
	if got := nextAt(v, 80, 24); !strings.HasPrefix(got, "verify, station 1 of 5: swing to 0°, hand off, read the dial") {
		t.Errorf("its first station:\n%s", got)
	}
	b.ex += 0.2 // somebody leans on the slide
	v = b.answer(9, session.ForWind).sees(false)
	const why = "again: it was wound in trial 1, and this much is left by the sweep of trial 2"
	if got := flat(v); v.Prompt.Wind.Slide.Name != "x" || !strings.Contains(got, why) {
		t.Errorf("the wind of %s does not say why it comes again:\n%s", v.Prompt.Wind.Slide.Name, got)
	}
	if got := flat(begin(t, nil).answer(3+6, never).sees(false)); strings.Contains(got, "again") {
		t.Errorf("a first wind says again:\n%s", got)
	}
}
