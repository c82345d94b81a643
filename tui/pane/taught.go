package pane

import (
	"strings"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// Taught is the page of what is learnt of the machine: of each slide what is known and how well, and
// where it would start this radius from.
func Taught(v *View, w, h int) string {
	t := v.Theme
	out := []string{t.Strong.Render("what is learnt of this machine")}
	for _, l := range record.Taught(v.State.Lessons, v.unit()) {
		name, rest, _ := strings.Cut(l.Text(), ": ")
		slide, by, _ := strings.Cut(name, " ")
		out = append(out, "", t.Now.Render(v.text(SlideName(slide)+" "+by)))
		for _, part := range strings.Split(rest, ", ") {
			out = append(out, wrap("   "+v.Num(v.text(part)), w, 5)...)
		}
	}
	if l := lines.Start(&v.State, v.unit()); l != nil {
		out = append(append(out, ""), wrap(v.Num(v.text(l.Text())), w, 2)...)
	}
	if l := lines.Feedback(&v.State, v.unit()); l != nil {
		out = append(append(out, ""), wrap(v.Num(v.text(l.Text())), w, 2)...)
	}
	if len(out) == 1 {
		out = append(append(out, ""), wrap("nothing yet. A screw's error is learnt from winds by the collar; what a lock moves, under the "+
			"needle; where to start the next radius, from one accepted with the collar's count (w before a)", w, 0)...)
	}
	for _, o := range v.State.Odd {
		out = append(append(out, ""), wrap(t.Glyphs.Cross+" "+v.Num(v.text(lines.OddText(o, v.unit()))), w, 2)...)
	}
	return Box(t, strings.Join(out, "\n"), w, h)
}
