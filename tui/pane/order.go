package pane

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
)

// choreAction asks for a step of the order at the machine.
func choreAction(v *View) action {
	p := v.Prompt
	all := lines.ChoreWords(&v.State, p.Chore.Step, v.unit())
	short := all[len(all)-1]
	answer := "Enter when done, s skips"
	if p.TakesReading() {
		answer = "type it, s skips"
	}
	var words []string
	for _, t := range all {
		head := fmt.Sprintf("step %d of %d: %s", p.Chore.N, p.Chore.Of, v.text(t))
		words = append(words, head+"; "+answer, head)
	}
	for _, t := range all {
		words = append(words, v.text(t)+"; "+answer)
	}
	return big(words, v.text(short))
}

// choreTold is all that a step asks for, wrapped to w: nothing of it may be lost, however small the window.
func choreTold(v *View, w int) (out []string) {
	out = append(out, wrapped(v.Theme.Now, v.text(lines.ChoreWords(&v.State, v.Prompt.Chore.Step, v.unit())[0]), w)...)
	return append(out, "")
}

// choreList has what the present step asks for, and one row for every step, done, left out, asked for or to come.
func choreList(v *View, w, room int) []string {
	told := choreTold(v, w)
	if room -= len(told); room < 2 {
		return told
	}
	t := v.Theme
	all, done := v.State.Chores()
	out := []string{t.Dim.Render("     order at the machine")}
	for i, c := range all {
		words := lines.ChoreWords(&v.State, c, v.unit())
		mark, became, text := "", "", words[len(words)-1]
		switch {
		case i == len(done):
			mark = t.Glyphs.RightMark
		case i > len(done):
		case done[i].Skipped:
			became = "left out"
		case done[i].Value != nil:
			became = v.Num(geom.FormatFixed(v.unit().From(*done[i].Value), 3))
		default:
			became = t.Glyphs.Tick
		}
		r := fmt.Sprintf("%-2s%2d  %-16s%s", mark, i+1, text, became)
		switch {
		case i == len(done):
			r = t.Now.Render(r)
		case i > len(done):
			r = t.Dim.Render(r)
		}
		out = append(out, r)
	}
	return append(told, around(out, len(done)+1, room)...)
}
