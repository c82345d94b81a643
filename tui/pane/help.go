package pane

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/theme"
)

// Help is what the help page says: what is asked now, the keys, the words.
func Help(v *View, all []keys.Binding) []Chapter {
	what, sentences := lines.Explained(
		&v.State,
		&v.Prompt,
		lines.Speech{Keys: true, Shown: v.Practice, Needle: v.Takes() || v.Watch != nil},
	)
	var says []Row
	for _, s := range sentences {
		says = append(says, Row{Text: v.text(s)})
	}
	if v.Prompt.TakesNumber() {
		const number = "a number has digits, sign and point or comma, like -0.125 or -0,125; Enter takes it, / clears it"
		says = append(says, Row{Text: v.Num(number), Dim: true})
	}
	if v.Practice && v.Prompt.TakesReading() && !v.Prompt.Chore.May && !v.Prompt.Chore.Seen && v.Watch == nil {
		says = append(says, Row{Text: "in practice Enter with nothing typed takes what the simulated dial shows", Dim: true})
	}
	if v.Takes() {
		says = append(
			says,
			Row{Text: "Enter with nothing typed takes what the cable indicator shows, once its needle stands still", Dim: true},
		)
	}
	if v.Watch != nil {
		says = append(
			says,
			Row{Text: "the cable indicator watches this wind: wind as the page says, until its needle stands still at the goal, " +
				"then press Enter with nothing typed; the bell sounds once near the goal, and twice there", Dim: true},
		)
	}
	says = append(says, Row{Text: "* opens a list of all that can be done now: type the number of a line, then Enter", Dim: true})
	if v.State.Set.Steps {
		says = append(says, Row{Text: v.text(lines.DeferWords), Dim: true})
	}
	return append([]Chapter{{Head: v.text(what), Rows: says, Airy: true}}, keysAndWords(v.Theme, all)...)
}

// ReplayHelp is what the help page of a replay says: its signs, its keys, the words.
func ReplayHelp(t theme.Theme, all []keys.Binding) []Chapter {
	says := []Row{
		{Text: "A replay shows a session as it went, event by event, on the session's own pages. Nothing that you do here reaches the " +
			"journal."},
	}
	var along, list []Row
	for _, m := range timeMarks {
		along = append(along, Row{Name: m.sign(t), Text: m.means})
	}
	for _, m := range listMarks {
		list = append(list, Row{Name: m.sign(t), Text: m.means})
	}
	return append([]Chapter{{Head: "the replay", Rows: says, Airy: true}, {Head: "on the line of time", Rows: along},
		{Head: "in the list of stations", Rows: list},
		{Head: "what if", Rows: []Row{{Text: "At a reading of a sweep, one key leaves it out and another corrects it: two columns then " +
			"show what was found and told, and what would have been. The journal stays as it is."}}},
	}, keysAndWords(t, all)...)
}

// PlanHelp is what the help page of a plan says: its signs, its keys, the words.
func PlanHelp(v *PlanView, all []keys.Binding) []Chapter {
	t, g := v.Theme, v.Theme.Glyphs
	return append([]Chapter{
		{Head: "the plan", Airy: true, Rows: []Row{
			{
				Text: "The arcs stand in the order in which they are cut. Choose one, and set it up: its swing radius is the target, the job file " +
					"says the rest.",
			},
			{Text: "Spindle off and isolated before a hand or an indicator goes near it."},
		}},
		{Head: "in the list", Rows: []Row{
			{Name: g.Arrow + " next", Text: "the first that is still to do"},
			{Name: g.Dot + " to do", Text: "nothing is set of it yet"},
			{Name: "straight", Text: "a slide cuts it, and nothing is set for it"},
			{Name: g.Query + " begun", Text: "a setting of it is open: Enter goes on with it"},
			{Name: g.Tick + " set", Text: "accepted in a journal"},
			{Name: g.Bar + " cut", Text: "set, and cut"},
			{Name: g.Tick + " checked", Text: "measured inside its tolerance"},
			{Name: g.Cross + " out", Text: "measured outside it"},
			{Name: g.Tick + " done", Text: "done by slide, and ticked off"},
			{Name: g.Cross + " problem", Text: "it cannot be cut like this: see what stands below the list"},
		}},
		{Head: "in the picture", Rows: []Row{
			{Text: "Seen from above, X to the right. A number stands on each arc and straight."},
			{Name: "heavy", Text: "the chosen arc"},
			{Name: "thin", Text: "what is set already"},
			{Name: g.Axis, Text: "the centre of the chosen arc: the head or the table turns about it"},
			{Name: "broken", Text: "the way of the cutter's axis round it"},
			{Text: "The last line but one names the blend to worry about most, with its figure; trammel blends tells them all."},
			{Text: "The side of the metal can be turned for the chosen element; that is kept for this drawing."},
		}},
	}, keysAndWords(t, all)...)
}

// keysAndWords are the last chapters of every screen's help. Why a key cannot act now, it says itself when it is pressed.
func keysAndWords(t theme.Theme, all []keys.Binding) []Chapter {
	var now []Row
	var not []string
	for _, k := range all {
		if k.Why == "" {
			now = append(now, Row{Name: names(k), Text: printable(k.Help().Desc), Key: true})
			continue
		}
		not = append(not, names(k)+" "+printable(k.Help().Desc))
	}
	out := []Chapter{{Head: "keys", Rows: now, Grid: true}}
	if len(not) > 0 {
		out = append(out, Chapter{Rows: []Row{{Text: "not now: " + strings.Join(not, " "+t.Glyphs.Dot+" "), Dim: true}}})
	}
	screen := View{Theme: t}
	words := Chapter{Head: "the words", Apart: true}
	for _, w := range lines.Words {
		words.Rows = append(words.Rows, Row{Name: w.Name, Text: screen.text(w.Means), Prose: true})
	}
	return append(out, words)
}

// names are the keys of one binding. A line feed is what some terminals send for Enter.
func names(k keys.Binding) string {
	var out []string
	for _, n := range k.Keys() {
		switch n {
		case "ctrl+j":
			continue
		case "enter":
			n = "Enter"
		case " ":
			n = "space"
		}
		out = append(out, strings.Replace(n, "ctrl+", "^", 1))
	}
	return strings.Join(out, " ")
}

// Chapter is a part of a page that is read leaf by leaf.
type Chapter struct {
	Head string // empty: it belongs to the one before
	Rows []Row
	// Apart begins a new leaf, or a new column; Airy puts a blank line between rows where there is room; Grid puts rows side
	// by side.
	Apart, Airy, Grid bool
}

// Row is a text, with the sign, key or word that it is about, if any.
type Row struct {
	Name, Text string
	// Key and Dim say how it is drawn; Prose has the text run on behind its name, instead of a column of its own.
	Key, Dim, Prose bool
}

// lines is a row in lines of at most w cells; wide is how wide the names of its chapter are.
func (r *Row) lines(t *theme.Theme, wide, w int) []line {
	switch {
	case r.Name == "" && r.Dim:
		return styled(&t.Dim, wrap(r.Text, w, 2))
	case r.Name == "":
		return styled(nil, wrap(r.Text, w, 2))
	case r.Prose:
		out := styled(nil, wrap(r.Name+": "+r.Text, w, 2))
		if strings.HasPrefix(out[0].text, r.Name) {
			out[0].to, out[0].style = len(r.Name), &t.Strong
		}
		return out
	}
	out := styled(nil, wrap(r.Text, max(w-wide-2, 10), 0))
	for i := range out {
		out[i].text = strings.Repeat(" ", wide+2) + out[i].text
	}
	out[0].text = " " + pad(r.Name, wide+1, false) + out[0].text[wide+2:]
	out[0].from, out[0].to, out[0].style = 1, 1+len(r.Name), &t.Strong
	if r.Key {
		out[0].style = &t.Key
	}
	return out
}

// blocks are what of a chapter stays together: its rows, or all of a grid; the heading with the first.
func (c *Chapter) blocks(t *theme.Theme, w int) (out []block) {
	wide := 0
	for i := range c.Rows {
		wide = max(wide, ansi.StringWidth(c.Rows[i].Name))
	}
	var all []line
	for i := range c.Rows {
		rows := c.Rows[i].lines(t, wide, w)
		all = append(all, rows...)
		if !c.Grid {
			out = append(out, block{rows: rows, gap: c.Airy})
		}
	}
	if c.Grid {
		out = []block{{rows: styled(nil, grid(all, w))}}
	}
	if len(out) > 0 {
		out[0].apart, out[0].gap = c.Apart, c.Head != ""
		if c.Head != "" {
			out[0].rows = append(styled(&t.Strong, wrap(c.Head, w, 2)), out[0].rows...)
		}
	}
	return out
}

// grid puts short rows side by side, down the columns.
func grid(rows []line, w int) []string {
	wide := 1
	for _, l := range rows {
		wide = max(wide, ansi.StringWidth(l.text)+1)
	}
	n := max(1, min(w/wide, 4))
	c := dealt{all: slices.Collect(slices.Chunk(rows, max(1, (len(rows)+n-1)/n))), abreast: n, wide: wide}
	return c.rows(0)
}

// A column of prose is read at most so wide, and is not made narrower than that for another one beside it; between two lies a gap.
const (
	proseWidth  = 76
	leastColumn = 54
	columnGap   = 3
)

// proseColumns is how many columns of which width stand side by side.
func proseColumns(w int) (n, wide int) {
	n = max(1, (w+columnGap)/(leastColumn+columnGap))
	return n, max(1, min(proseWidth, (w-(n-1)*columnGap)/n))
}

// Chapters is the page of some chapters.
func Chapters(t theme.Theme, all []Chapter, w, h int) Leaves {
	return flowed(t, all, w, h).bound(t, turns{"Enter or ?", "next", "/"}.foot(t, w), w, h)
}

// flowed lets chapters flow into columns of the height that a leaf has for them.
func flowed(t theme.Theme, all []Chapter, w, h int) dealt {
	n, wide := proseColumns(w)
	var blocks []block
	for i := range all {
		blocks = append(blocks, all[i].blocks(&t, wide)...)
	}
	return dealt{all: deal(blocks, h-1), abreast: n, wide: wide + columnGap}
}
