package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/theme"
)

// AskView is everything that the page of a question may show.
type AskView struct {
	Theme theme.Theme
	// Title says what is asked about: a new machine.
	Title string
	// Question is what is asked, About what explains it. Over says that nothing more is, and then Question is empty.
	Question job.Question
	About    string
	Over     bool
	// Told is what the answers so far have shown, which is read before the question.
	Told []string
	// Given is what was answered so far.
	Given []job.Answered
	// Cuts says which arc is cut, once nothing more is asked; empty for none.
	Cuts string
	// Entry is what has been typed, Status the last thing said, Alarm that it is a complaint.
	Entry  string
	Status string
	Alarm  bool
	// Once is what Enter does, which is asked for once more; empty for nothing.
	Once string
}

// sideWidth is what the answers so far take beside a question, and sideFrom how wide a window is that has room for them.
const (
	sideWidth = 46
	sideFrom  = 120
)

// Ask is the page of a question, in a window of w × h cells: what must be read comes in leaves where one does not hold it. What
// explains it, and what was answered so far, stand where there is room.
func Ask(v *AskView, all []keys.Binding, w, h int) Leaves {
	last := Box(v.Theme, Keys(&View{Theme: v.Theme}, all, w), w, 1)
	if h <= 1 {
		return Leaves{1, func(int) string { return last }}
	}
	if !Small(w, h) {
		if l, ok := v.zones(last, w, h); ok {
			return l
		}
	}
	return v.close(last, w, h)
}

// zones lays the page out with what is asked in large letters; false where what must be read has not the room beside them.
func (v *AskView) zones(last string, w, h int) (Leaves, bool) {
	t, side := v.Theme, 0
	if w >= sideFrom && len(v.Given) > 0 {
		side = sideWidth
	}
	must, help := v.asked(w-side), v.explained(w-side, false)
	needs := len(slices.Concat(deal(must, 1<<20)...))
	z := &zone{theme: t, action: v.action(), w: w, h: h, body: needs + 1 + rowsOf(help), keeps: v.Alarm, must: make([]string, needs)}
	if v.Over {
		return v.end(z, last)
	}
	cut := false
	bottom := z.lay(func(most int) []string {
		cut = len(v.said(w, 1<<20)) > most
		return v.said(w, most)
	})
	if cut {
		return Leaves{}, false
	}
	room := h - Framed - bottom.Height()
	c := dealt{all: deal(must, room), abreast: 1}
	if c.leaves() > 1 {
		return Leaves{}, false
	}
	return Leaves{1, func(leaf int) string {
		body := Box(t, strings.Join(v.below(c.rows(leaf), help, w-side, room, side == 0), "\n"), w-side, room)
		if side > 0 {
			body = Beside(body, Box(t, strings.Join(v.given(side, room), "\n"), side, room))
		}
		return Frame(t, w, v.aim(w), body, bottom.Draw(t, w, bottom.Height()), last)
	}}, true
}

// below puts what explains a question below it, and what was answered so far where that is wanted, as far as they fit.
func (v *AskView) below(rows []string, help []block, w, room int, given bool) []string {
	add := func(more []string) {
		if len(more) > 0 && len(rows)+1+len(more) <= room {
			rows = append(append(rows, ""), more...)
		}
	}
	if all := drawnRows(help); len(rows)+1+len(all) <= room {
		add(all)
	} else {
		add(drawnRows(v.explained(w, true)))
	}
	if given {
		add(v.given(w, room-len(rows)-1))
	}
	return rows
}

// close is the page of a window that has no room for large letters.
func (v *AskView) close(last string, w, h int) Leaves {
	t := v.Theme
	said := v.said(w, max(1, h-4))
	if len(said) == 1 && said[0] == "" {
		said = nil
	}
	if v.Entry != "" {
		said = append(wrap(v.typed()+": "+v.say(v.Entry)+"_", w, 2), said...)
	}
	said = said[:max(0, min(len(said), h-4))]
	blocks := append(v.asked(w), block{rows: styled(&t.Big, wrap(first(w, v.action().words), w, 2))})
	room := max(1, h-1-len(said))
	c := dealt{all: deal(blocks, room), abreast: 1}
	if c.leaves() > 1 && room > 1 {
		c = dealt{all: deal(blocks, room-1), abreast: 1}
	}
	n := c.leaves()
	return Leaves{n, func(leaf int) string {
		rows := c.rows(leaf)
		if n > 1 && room > 1 {
			more := whichLeaf(leaf, n)
			if leaf+1 < n {
				more = "Enter shows more, " + more
			}
			rows = append(rows, t.Dim.Render(Clip(t, more, w)))
		}
		return Box(t, strings.Join(append(rows, said...), "\n"), w, h-1) + "\n" + last
	}}
}

// aim is the top line.
func (v *AskView) aim(w int) string {
	t := v.Theme
	left, right := v.say(v.Title), ""
	if n := len(v.Given); n > 0 {
		right = fmt.Sprintf("%d answered", n)
	}
	if gap := w - len([]rune(left)) - len(right); gap >= 2 {
		return t.Strong.Render(left) + strings.Repeat(" ", gap) + t.Dim.Render(right)
	}
	return t.Strong.Render(Clip(t, left, w))
}

// asked is what must be read: the question with its choices, or all answers once nothing more is asked.
func (v *AskView) asked(w int) (out []block) {
	t, q := v.Theme, &v.Question
	out = v.news(w)
	if v.Over {
		return append(append(out, v.ended(w)), v.all(w)...)
	}
	for row := range strings.Lines(q.Text) { // first thing first, each in a row
		out = append(out, block{rows: styled(&t.Strong, wrap(v.say(strings.TrimRight(row, "\n")), w, 0))})
	}
	tell := func(words string) { out = append(out, block{rows: styled(&t.Text, wrap(v.say(words), w, 2))}) }
	switch {
	case q.Closed:
		words := make([]string, len(q.Choices))
		for i, c := range q.Choices {
			words[i] = v.say(spoken(q, c))
		}
		out = append(out, numbered(&t, words, w)...)
	case q.Path && len(q.Choices) > 0:
		words := make([]string, len(q.Choices))
		for i, c := range q.Choices {
			words[i] = v.say(c)
		}
		out = append(out, numbered(&t, words, w)...)
		tell("another is typed by its name")
	case len(q.Choices) > 0:
		figures := slices.DeleteFunc(slices.Clone(q.Choices), func(c string) bool { return q.ShortOf(c) != "" })
		switch {
		case q.Are != "":
			tell("* lists the " + q.Are + "s at hand by number")
		case len(figures) > 0:
			tell(strings.TrimSpace("commonly "+orList(figures)+" "+unitWord(q)) + "; the figure itself is typed")
		}
		for _, c := range q.Choices {
			if q.ShortOf(c) != "" {
				tell("* lists it: " + c)
			}
		}
	}
	if q.Said && q.Out != "" {
		tell("* lists it: " + q.Out)
	}
	if q.ZeroAt != nil {
		tell("the dial would read zero at the target with " + v.num(fmt.Sprint(record.RoundTo(*q.ZeroAt, 4))) + " " + q.Unit)
	}
	if q.Hand != nil && q.ZeroAt == nil { // where the reach is asked the reference is chosen
		tell(v.num(record.HandWords(q.Hand, q.Unit)))
	}
	return out
}

// news is what there is to tell of the answers so far.
func (v *AskView) news(w int) (out []block) {
	for _, words := range v.Told {
		for line := range strings.Lines(words) {
			out = append(out, block{rows: styled(&v.Theme.Text, wrap(v.say(strings.TrimRight(line, "\n")), w, 2))})
		}
	}
	return out
}

// answered are the answers so far, as rows.
func (v *AskView) answered() (rows []Row) {
	for _, a := range v.Given {
		rows = append(rows, Row{Name: v.say(a.Short), Text: v.say(spokenAs(a.Answer))})
	}
	return rows
}

// given are the answers so far, the last of them where there is not the room for all.
func (v *AskView) given(w, room int) []string {
	t := v.Theme
	rows := v.answered()
	for from := range rows {
		head := "answered so far"
		if from > 0 {
			head = fmt.Sprintf("answered so far, the last %d of %d", len(rows)-from, len(rows))
		}
		c := Chapter{Head: head, Rows: rows[from:]}
		if out := drawnRows(c.blocks(&t, w)); len(out) <= room {
			return out
		}
	}
	return nil
}

// explained is what explains a question; only its drawing where that is wanted.
func (v *AskView) explained(w int, drawing bool) []block {
	out := helpBlocks(v.Theme, v.About, min(w, proseWidth), v.say)
	if drawing {
		out = slices.DeleteFunc(out, func(b block) bool { return !b.gap })
	}
	return out
}

// AskHelp is the page that explains a question, with what was answered so far; pages says that others can be listed.
func AskHelp(v *AskView, all []keys.Binding, pages bool, w, h int) Leaves {
	t := v.Theme
	foot := turns{"Enter or ?", "next", "/"}.foot(t, w)
	return v.over(all, w, h, func(h int) Leaves {
		blocks := helpBlocks(t, v.About, min(w, proseWidth), v.say)
		if given := v.answered(); len(given) > 0 {
			c := Chapter{Head: "answered so far", Rows: given}
			blocks = append(blocks, c.blocks(&t, min(w, proseWidth))...)
		}
		if pages {
			blocks = append(blocks, block{rows: styled(&t.Dim, wrap(OtherPages, min(w, proseWidth), 2)), gap: true})
		}
		return dealt{all: deal(blocks, h-1), abreast: 1}.bound(t, foot, w, h)
	})
}

// AskTopic is a page of help over a question.
func AskTopic(v *AskView, all []keys.Binding, topic *Topic, w, h int) Leaves {
	return v.over(all, w, h, func(h int) Leaves { return TopicPage(v.Theme, topic, w, h) })
}

// AskList is the page of all that can be done at a question, or of what asks names, by numbers; typed is the number so far.
func AskList(v *AskView, all []keys.Binding, asks string, words []string, typed string, w, h int) Leaves {
	return v.over(all, w, h, func(h int) Leaves { return List(v.Theme, asks, words, typed, w, h) })
}

// over puts a page between the top line and the keys.
func (v *AskView) over(all []keys.Binding, w, h int, page func(h int) Leaves) Leaves {
	t := v.Theme
	last := Box(t, Keys(&View{Theme: t}, all, w), w, 1)
	top := Box(t, v.aim(w), w, 1) + "\n" + Rule(t, w) + "\n"
	rows := 3
	if Small(w, h) {
		top, rows = "", 1
	}
	said := []string(nil)
	if v.Status != "" && h > 6 {
		said = v.said(w, h-6)
	}
	l := page(max(1, h-rows-len(said)))
	return Leaves{l.N, func(leaf int) string {
		if h <= 1 {
			return last
		}
		body := l.Draw(leaf)
		if len(said) > 0 {
			body += "\n" + Box(t, strings.Join(said, "\n"), w, len(said))
		}
		return top + body + "\n" + last
	}}
}

// said is the last thing said, in at most so many rows.
func (v *AskView) said(w, most int) []string {
	t := v.Theme
	switch {
	case v.Status == "":
		return []string{""}
	case v.Alarm:
		return told(t, t.Bad, t.Glyphs.Cross+" "+v.say(v.Status), w, most)
	}
	return told(t, t.Dim, v.say(v.Status), w, most)
}

// say makes words of others fit for the screen.
func (v *AskView) say(s string) string {
	screen := View{Theme: v.Theme}
	return screen.text(s)
}

func (v *AskView) num(s string) string {
	screen := View{Theme: v.Theme}
	return screen.Num(s)
}
