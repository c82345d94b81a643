package pane

import (
	"strings"

	"example.org/trammel/tui/theme"
)

// Topic is a page of help that belongs to no step: its name, what it is about in a line, and its text.
//
// In the text a blank line ends a paragraph, and a paragraph is wrapped to the width there is; a line that begins with "- " is a
// point of a list; one that begins with a tab or four spaces is kept as it stands: an example, what the program prints.
type Topic struct{ Name, About, Text string }

// OtherPages says on a help page how the others are opened.
const OtherPages = "* on this page lists the other pages of help"

// Heading is the first line of the page.
func (t *Topic) Heading() string { return t.Name + ": " + t.About }

// Page is the page as it is printed, in lines of at most w cells but for those that are kept.
func (t *Topic) Page(w int) string {
	var b strings.Builder
	for _, l := range wrap(t.Heading(), w, 2) {
		b.WriteString(l + "\n")
	}
	for _, p := range t.parts(w) {
		if p.gap {
			b.WriteString("\n")
		}
		b.WriteString(strings.Join(p.lines, "\n") + "\n")
	}
	return b.String()
}

// Hanging is a line in lines of at most w cells, those behind the first indented by in.
func Hanging(s string, w, in int) []string { return wrap(s, w, in) }

// passage is what stays together of a page: a paragraph, a point of a list, lines that are kept.
type passage struct {
	lines []string
	gap   bool // a blank line stands before it
	kept  bool
}

// parts are the passages of the page, in lines of at most w cells but for those that are kept.
func (t *Topic) parts(w int) (out []passage) {
	var now passage
	end := func(gap bool) {
		if len(now.lines) > 0 {
			if !now.kept {
				now.lines = flowing(now.lines, w)
			}
			out = append(out, now)
		}
		now = passage{gap: gap}
	}
	now.gap = true
	for _, l := range strings.Split(strings.TrimRight(t.Text, "\n"), "\n") {
		kept := strings.HasPrefix(l, "    ") || strings.HasPrefix(l, "\t")
		switch {
		case l == "":
			end(true)
			continue
		case len(now.lines) > 0 && (kept != now.kept || strings.HasPrefix(l, point)):
			end(false)
		}
		now.kept, now.lines = kept, append(now.lines, l)
	}
	end(false)
	return out
}

// point begins a point of a list.
const point = "- "

// flowing is a paragraph in lines of at most w cells.
func flowing(lines []string, w int) []string {
	in := 0
	if strings.HasPrefix(lines[0], point) {
		in = len(point)
	}
	out := wrap(stays.Replace(strings.Join(strings.Fields(strings.Join(lines, " ")), " ")), w, in)
	for i := range out {
		out[i] = strings.ReplaceAll(out[i], noBreak, " ")
	}
	return out
}

// A figure stays on the line of its unit.
const noBreak = "\u00a0"

var stays = strings.NewReplacer(" %", noBreak+"%", " mm", noBreak+"mm")

// TopicPage is a page of help on a screen. What is kept as it stands is wrapped where the window is too small for it.
func TopicPage(t theme.Theme, topic *Topic, w, h int) Leaves {
	screen := View{Theme: t}
	w = max(1, w)
	wide := min(w, proseWidth)
	blocks := []block{{rows: styled(&t.Strong, wrap(topic.Heading(), wide, 2))}}
	for _, p := range topic.parts(wide) {
		var rows []string
		for _, l := range p.lines {
			l = screen.text(strings.ReplaceAll(l, "\t", "    "))
			if p.kept {
				rows = append(rows, wrap(l, w, 6)...)
			} else {
				rows = append(rows, l)
			}
		}
		blocks = append(blocks, block{rows: styled(nil, rows), gap: p.gap})
	}
	all := dealt{all: fill(blocks, h-1, true), abreast: 1, wide: wide}
	return all.bound(t, turns{"Enter or ?", "next", "/"}.foot(t, w), w, h)
}
