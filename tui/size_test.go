package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/tui"
)

// view is a screen in one state with one page over it.
type view struct {
	name string
	*driver
}

// views are all states of the job with all pages; some in plain, some at a practice machine.
func views(t testing.TB) []view {
	t.Helper()
	var out []view
	for i, s := range scenes() {
		for j, page := range sortedPages() {
			o := real(t, nil)
			o.plain = (i+j)%3 == 0
			d := s.open(t, o).Send(pages[page])
			if page == "none" || s.name != "noting" && s.name != "off" {
				out = append(out, view{s.name + "/" + page, d})
			}
		}
	}
	for i, end := range []float64{-0.35, -0.3, -0.28} {
		o := real(t, nil)
		o.plain = i == 1
		c := onWind(t, o)
		out = append(out, view{"watched", c.stands(-0.19).moves(turned...).stands(end).driver})
	}
	o := options{opened: opened(t, nil), colour: termenv.ANSI256, seed: 7}
	return append(out, view{"practice", loaded(t, o)}, view{"dial", loaded(t, o).Type("v")})
}

func sortedPages() []string {
	var out []string
	for p := range pages {
		out = append(out, p)
	}
	slices.Sort(out)
	return out
}

// Whatever the size of the window, no line is lost: the terminal library would drop lines that are
// too many from the top, and cut lines that are too long, without a word.
func TestEverySize(t *testing.T) {
	all := views(t)
	n := 0
	for w := 20; w <= 200; w++ {
		for h := 5; h <= 60; h++ {
			v := all[n*29%len(all)] // 29 has no divisor in common with their number
			n++
			v.t = named{t, v.name}
			v.Size(w, h).Fits(w, h)
		}
	}
	if len(all)%29 == 0 {
		t.Fatalf("%d views: choose another step", len(all))
	}
}

// Every state and page at the sizes where the layout changes, and at those that nobody has.
func TestOddSizes(t *testing.T) {
	widths := []int{1, 2, 3, 7, 13, 19, 20, 39, 40, 41, 43, 44, 59, 60, 80, 133, 134, 200}
	heights := []int{1, 2, 3, 5, 6, 13, 14, 16, 24}
	for _, v := range views(t) {
		v.t = named{t, v.name}
		for _, w := range widths {
			for _, h := range heights {
				v.Size(w, h).Fits(w, h)
			}
		}
		for _, s := range [][2]int{{0, 0}, {0, 24}, {80, 0}, {-1, -1}} {
			v.Size(s[0], s[1])
			if got := v.model.View(); got != "trammel" {
				t.Fatalf("%s at %d × %d: %q, want a word", v.name, s[0], s[1], got)
			}
		}
	}
}

// named says which view a failure belongs to.
type named struct {
	testing.TB
	name string
}

func (n named) Fatalf(format string, args ...any) {
	n.Helper()
	n.TB.Fatalf(n.name+": "+format, args...)
}

// The first screen is drawn before any size is known.
func TestBeforeTheSizeIsKnown(t *testing.T) {
	d := screen(t, real(t, nil))
	m := tui.NewModel(tui.Config{Live: d.live, Now: clock()}, colours(termenv.Ascii, false))
	if got := m.View(); got == "" || strings.Contains(got, "\n") {
		t.Errorf("before the size is known: %q, want one short line", got)
	}
	if m.Init() != nil {
		t.Error("Init asks for something; the size comes by itself")
	}
}

// In a window that is not very small, the zones still stand where they are: aim, rule, work, rule, the
// action, keys. The rule above the action stays in its row from station to station.
func TestZonesStayWhereTheyAre(t *testing.T) {
	stations := map[string]int{}
	for _, v := range views(t) {
		if strings.HasPrefix(v.name, "practice") {
			continue
		}
		for _, h := range []int{16, 24, 40} {
			v.t = named{t, v.name}
			lines := strings.Split(v.Size(80, h).Screen(), "\n")
			if len(lines) != h {
				t.Fatalf("%s: %d lines, want %d", v.name, len(lines), h)
			}
			var rules []int
			for i, l := range lines {
				if strings.Trim(l, "─") == "" || strings.Trim(l, "-") == "" {
					rules = append(rules, i)
				}
			}
			if len(rules) != 2 || rules[0] != 1 || rules[1] < 4 || rules[1] > h-5 {
				t.Errorf("%s in %d rows: rules in rows %v", v.name, h, rules)
				continue
			}
			if !strings.Contains(lines[0], "42.000") || !strings.Contains(lines[h-1], "quit") {
				t.Errorf("%s in %d rows: aim %q, keys %q", v.name, h, lines[0], lines[h-1])
			}
			if strings.HasPrefix(v.name, "station") && strings.HasSuffix(v.name, "/none") {
				which := fmt.Sprint(h, lines[1][:1])
				if was, ok := stations[which]; ok && was != rules[1] {
					t.Errorf("%s in %d rows: the action begins below row %d, before below row %d", v.name, h, rules[1], was)
				}
				stations[which] = rules[1]
			}
		}
	}
	if len(stations) < 6 {
		t.Fatalf("%d kinds of windows with stations, want those of three heights, drawn plainly and not", len(stations))
	}
}

// --plain is for a console whose font lacks the signs: there is nothing but ASCII, whatever is
// said, but for what a person has typed.
func TestPlainIsASCII(t *testing.T) {
	for _, s := range scenes() {
		for _, page := range sortedPages() {
			o := real(t, nil)
			o.plain = true
			for _, r := range s.open(t, o).Send(pages[page]).model.View() {
				if r > '~' && r != 'ø' {
					t.Errorf("%s, page %s: %q on a plain screen", s.name, page, r)
				}
			}
		}
	}
}
