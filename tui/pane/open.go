package pane

import (
	"strings"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/plot"
	"example.org/trammel/tui/theme"
)

// OpenView is everything that a page of numbered answers may show.
type OpenView struct {
	Theme theme.Theme
	// Title says what is open, or asked; Answers are the answers, by their numbers from 1.
	Title   string
	Answers []string
	// Takes says what Enter alone does; empty: go on.
	Takes string
	// Said is what was said of what was done before, line by line; Wrong that it went wrong.
	Said  []string
	Wrong bool
	// Entry is what has been typed, Status the last thing said, Alarm that it is a complaint.
	Entry  string
	Status string
	Alarm  bool
}

// Open is the page of the answers.
func Open(v *OpenView, all []keys.Binding, w, h int) Leaves {
	t := v.Theme
	last := Box(t, Keys(&View{Theme: t}, all, w), w, 1)
	if h <= 1 {
		return Leaves{1, func(int) string { return last }}
	}
	said := v.said(w, h)
	room := max(1, h-1-len(said))
	words := make([]string, len(v.Answers))
	for i, a := range v.Answers {
		words[i] = v.say(a)
	}
	blocks := append(questioned(&t, v.say(v.Title), words, w), v.before(w)...)
	c := dealt{all: deal(blocks, room), abreast: 1}
	if c.leaves() > 1 {
		c = dealt{all: deal(blocks, room-1), abreast: 1}
	}
	n := c.leaves()
	return Leaves{n, func(leaf int) string {
		rows, foot := c.rows(leaf), said
		if more := leadsOn(&t, words, leaf, n); more != "" {
			rows = append(rows, more)
		}
		if spare := room - len(rows); spare > 6 {
			rows, foot = v.enlarge(rows, foot, w, h, spare)
		}
		return Box(t, strings.Join(append(rows, foot...), "\n"), w, h-1) + "\n" + last
	}}
}

// OpenOver puts a page in the place of the answers, between their title and the keys.
func OpenOver(v *OpenView, all []keys.Binding, w, h int, page func(h int) Leaves) Leaves {
	a := AskView{Theme: v.Theme, Title: v.Title, Status: v.Status, Alarm: v.Alarm}
	return a.over(all, w, h, page)
}

// before is what was said of what was done before.
func (v *OpenView) before(w int) (out []block) {
	style := &v.Theme.Dim
	if v.Wrong {
		style = &v.Theme.Bad
	}
	for i, s := range v.Said {
		out = append(out, block{rows: styled(style, wrap(v.say(s), w, 2)), gap: i == 0})
	}
	return out
}

// enlarge puts the action in large letters below the answers, with a line between them, where some fit into the rows to spare.
func (v *OpenView) enlarge(rows, foot []string, w, h, spare int) (above, below []string) {
	t := v.Theme
	big, tall := "", 0
	for _, forms := range v.large() {
		if big, tall = plot.Big([][]string{forms}, w, min(spare-2, max(8, h*45/100)), t.Plain); tall > 0 {
			break
		}
	}
	if tall == 0 {
		return rows, foot
	}
	letters := strings.Split(big, "\n")
	for range spare - 1 - len(letters) {
		rows = append(rows, "")
	}
	rows = append(rows, Rule(t, w))
	for _, l := range letters {
		rows = append(rows, t.Big.Render(l))
	}
	if v.Status == "" && v.Entry != "" { // the letters say it
		foot = make([]string, len(foot))
	}
	return rows, foot
}

// said is what was said last, or is typed, where a window of h rows leaves something of the answers beside it.
func (v *OpenView) said(w, h int) (rows []string) {
	t := v.Theme
	switch {
	case v.Status != "" && v.Alarm:
		rows = wrapped(t.Bad, t.Glyphs.Cross+" "+v.say(v.Status), w)
	case v.Status != "":
		rows = wrapped(t.Dim, v.say(v.Status), w)
	case v.Entry != "":
		rows = wrap("answer "+v.say(v.Entry)+"_", w, 2)
	}
	return rows[:max(0, min(len(rows), h-4))]
}

// large is the action in large letters, in forms of which the largest that fits is taken, and in others where none does.
func (v *OpenView) large() [][]string {
	switch takes := v.say(v.Takes); {
	case v.Entry != "":
		return [][]string{{"answer " + v.say(v.Entry), v.say(v.Entry)}}
	case takes != "":
		return [][]string{{"Enter: " + takes}, {takes}}
	}
	return [][]string{{"Enter: go on", "go on?"}}
}

// say makes words of others fit for the screen.
func (v *OpenView) say(s string) string {
	screen := View{Theme: v.Theme}
	return screen.text(s)
}
