package pane

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/theme"
)

// everyLeaf is all that stands on the leaves of a page, column by column.
func everyLeaf(t theme.Theme, all []Chapter, w, h int) string {
	var rows []string
	_, wide := proseColumns(w)
	for _, c := range flowed(t, all, w, h).all {
		for _, r := range c {
			rows = append(rows, Clip(t, r.drawn(), wide))
		}
	}
	return strings.Join(rows, "\n")
}

// zonesOfHelp are those that the page has in a window of 40 × 10, 60 × 18, 80 × 24 and 200 × 50 at the least, and in one of
// 120 × 40; and one in which a row does not stand whole.
var zonesOfHelp = [][2]int{{40, 4}, {40, 7}, {60, 8}, {80, 14}, {120, 30}, {200, 40}}

// read is all that is drawn of a page of chapters.
func read(t theme.Theme, all []Chapter, w, h int) string {
	n, wide := proseColumns(w)
	return readLeaves(Chapters(t, all, w, h), n, wide+columnGap)
}

// readLeaves is all that is drawn of a page of n columns abreast, column by column and leaf by leaf, without the leaves' last rows.
func readLeaves(page Leaves, n, wide int) string {
	var words []string
	for leaf := range page.N {
		rows := strings.Split(ansi.Strip(page.Draw(leaf)), "\n")
		for c := range n {
			for _, r := range rows[:len(rows)-1] {
				words = append(words, strings.Fields(ansi.Cut(r, c*wide, c*wide+wide))...)
			}
		}
	}
	return strings.Join(words, " ")
}

// Dealt out, every row stands once and in its order; no column is longer than a leaf, and no block torn that fits into one; gaps
// take no column more, and none begins or ends one.
func TestDeal(t *testing.T) {
	gaps := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		h := 1 + r.IntN(9)
		var blocks []block
		var want []string
		for i := range 1 + r.IntN(12) {
			b := block{gap: r.IntN(2) == 0, apart: r.IntN(8) == 0}
			for k := range 1 + r.IntN(11) {
				b.rows = append(b.rows, line{text: fmt.Sprintf("%d.%d", i, k)})
				want = append(want, b.rows[k].text)
			}
			blocks = append(blocks, b)
		}
		var got []string
		stands := map[string]int{} // in which column a row stands
		all := deal(blocks, h)
		for c, col := range all {
			if len(col) > h || col[0].text == "" || col[len(col)-1].text == "" {
				t.Fatalf("%d: column %d of %d rows: %v", seed, c, h, col)
			}
			for _, l := range col {
				if l.text == "" {
					gaps++
					continue
				}
				got, stands[l.text] = append(got, l.text), c
			}
		}
		if !slices.Equal(got, want) || len(all) != len(fill(blocks, h, false)) {
			t.Fatalf("%d: %v in %d columns, want %v", seed, got, len(all), want)
		}
		for i, b := range blocks {
			first, last := stands[b.rows[0].text], stands[b.rows[len(b.rows)-1].text]
			if len(b.rows) <= h && first != last || b.apart && b.rows[0].text != all[first][0].text {
				t.Fatalf("%d: block %d of %d rows, apart %v, stands in columns %d to %d of %d rows", seed, i, len(b.rows), b.apart, first, last, h)
			}
		}
	}
	if gaps == 0 {
		t.Error("no gap anywhere")
	}
}

// Nothing of a list is cut, whatever its size: what it asks, and every line behind its number, however long.
func TestNothingOfAListIsCut(t *testing.T) {
	th := colourless(false)
	var words []string
	for i := range 23 {
		words = append(words, strings.TrimSpace(strings.Repeat(fmt.Sprintf("line %d is told at length, ", i+1), 1+i%4*i%9)))
	}
	for _, asks := range []string{"", "which one is meant?", strings.TrimSpace(strings.Repeat("a question that is asked at length ", 12))} {
		for _, zone := range zonesOfHelp {
			w, h := zone[0], zone[1]
			page, n := List(th, asks, words, "7", w, h), 1
			if asks == "" {
				n = max(1, min(3, w/listColumn))
			}
			said := strings.ReplaceAll(readLeaves(page, n, w/n), " what can be done now", "") // the heading of each leaf
			for i, s := range append([]string{asks}, words...) {
				if i > 0 {
					s = fmt.Sprint(i, " ", s)
				}
				if !strings.Contains(said, s) {
					t.Errorf("%v, asking %q: not whole on the page: %q", zone, asks, s)
				}
			}
			for leaf := range page.N {
				last, more := strings.Split(page.Draw(leaf), "\n")[h-1], fmt.Sprintf(" 0  more, page %d of %d", leaf+1, page.N)
				if !strings.Contains(last, "7_") || page.N > 1 && !strings.HasPrefix(last, more) {
					t.Errorf("%v, leaf %d ends in %q", zone, leaf, last)
				}
			}
		}
	}
}

// single is a text with single spaces.
func single(s string) string { return strings.Join(strings.Fields(s), " ") }

// Nothing of a page is cut, whatever its size: every sentence of what is asked, in every state of the job, every word and what
// it means, every sign of a replay and of a plan stands on it whole. The last row of a leaf says which it is.
func TestNothingOfTheHelpIsCut(t *testing.T) {
	for i, s := range append(scenes(), tableScenes()...) {
		v := s.see(t, i%2 == 1)
		all := Help(v, bindings(v))
		_, sentences := lines.Explained(&v.State, &v.Prompt, lines.Speech{Keys: true, Shown: v.Practice})
		for _, zone := range zonesOfHelp {
			page := read(v.Theme, all[:1], zone[0], zone[1])
			for _, said := range sentences {
				if !strings.Contains(page, single(v.text(said))) {
					t.Errorf("%s, %v: not whole on the page: %q", s.name, zone, said)
				}
			}
		}
	}
	v := begin(t, nil).sees(false)
	pages := map[string][]Chapter{"help": Help(v, bindings(v)), "replay": ReplayHelp(v.Theme, keys.ForReplay(keys.Replayed{})),
		"plan": PlanHelp(&PlanView{Theme: v.Theme}, keys.ForPlan(keys.Planned{Turns: true, Names: true}))}
	for name, all := range pages {
		for _, zone := range zonesOfHelp {
			page := read(v.Theme, all, zone[0], zone[1])
			if strings.Contains(page, v.Theme.Glyphs.Ellipsis) {
				t.Errorf("%s, %v: something is cut\n%s", name, zone, page)
			}
			for _, w := range lines.Words {
				if !strings.Contains(page, w.Text()) {
					t.Errorf("%s, %v: not whole on the page: %q", name, zone, w.Text())
				}
			}
			for _, c := range all {
				for _, r := range c.Rows {
					if !c.Grid && !strings.Contains(page, single(r.Text)) {
						t.Errorf("%s, %v: not whole on the page: %q", name, zone, r.Text)
					}
				}
			}
			leaves := Chapters(v.Theme, all, zone[0], zone[1])
			for leaf := range leaves.N {
				want := fmt.Sprintf("page %d of %d", leaf+1, leaves.N)
				if leaves.N > 1 && !strings.Contains(leaves.Draw(leaf), want) {
					t.Errorf("%s, %v: leaf %d does not say %q", name, zone, leaf, want)
				}
			}
		}
	}
}

// A wide window is used: every leaf but the last has as many columns as there is room for, and none is wider than can be read.
func TestHelpUsesTheRoom(t *testing.T) {
	v := begin(t, nil).answer(3+2, never).sees(false)
	all := Help(v, bindings(v))
	rows := 0
	for i := range all {
		for _, b := range all[i].blocks(&v.Theme, leastColumn) {
			rows += len(b.rows)
		}
	}
	for _, c := range [][2]int{{120, 30}, {160, 36}, {200, 40}} {
		n, _ := proseColumns(c[0])
		if got, least := Chapters(v.Theme, all, c[0], c[1]).N, rows/(n*(c[1]-1))+1; n < 2 || got > least {
			t.Errorf("%v: %d leaves of %d columns, want %d for %d rows", c, got, n, least, rows)
		}
	}
	for w := 40; w <= 300; w++ {
		n, wide := proseColumns(w)
		if wide > proseWidth || n > 1 && wide < leastColumn || n*wide+(n-1)*columnGap > w {
			t.Errorf("%d wide: %d columns of %d", w, n, wide)
		}
	}
}

// The replay's page and the plan's explain every sign that they draw.
func TestSignsAreExplained(t *testing.T) {
	th := colourless(false)
	page := everyLeaf(th, ReplayHelp(th, keys.ForReplay(keys.Replayed{})), 80, 60)
	v := begin(t, nil).answer(3+2, never).sees(false)
	m := Moment{N: 7, Of: 9, Trials: []int{1}, Overtaken: []int{2}, Surprises: []int{3}, Accepted: []int{4}, Changed: []int{5}}
	drawn := 0
	for _, sign := range strings.ReplaceAll(ansi.Strip(scale(v, &m, 9)), th.Glyphs.Rule, "") {
		drawn++
		if !strings.Contains(page, "\n "+string(sign)+" ") {
			t.Errorf("%q is drawn on the line of time, and not explained\n%s", sign, page)
		}
	}
	if drawn != len(timeMarks) {
		t.Errorf("%d signs are drawn, want all %d", drawn, len(timeMarks))
	}
	for _, flag := range []string{v.surprised(&session.Station{}), v.surprised(&session.Station{Overtaken: true})} {
		if !strings.Contains(page, "\n "+flag+" ") {
			t.Errorf("%q stands in the list, and is not explained", flag)
		}
	}
	page = everyLeaf(th, PlanHelp(&PlanView{Theme: th}, keys.ForPlan(keys.Planned{Turns: true, Names: true})), 80, 60)
	p := &record.Plan{Arcs: []record.PlanArc{{N: 1, Radius: 38, Swing: 42}, {N: 2, Radius: 38, Swing: 42}},
		Lines: []record.PlanLine{{N: 3}}, Order: []int{1, 2, 3}}
	for s := ToDo; s <= Trouble; s++ {
		v := NewPlanView(th, p, map[int]Standing{1: s})
		for row := range v.Rows {
			if word := v.word(row); !strings.Contains(page, "\n "+word+" ") {
				t.Errorf("%q stands in the plan's list, and is not explained\n%s", word, page)
			}
		}
	}
}
