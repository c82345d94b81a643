package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/indicator/lines"
)

// sizeAction asks what a touched radius that contradicts the stated one is to be: its answers stand in the work zone, numbered.
func sizeAction(v *View) action {
	q := v.Prompt.Size
	words := []string{
		fmt.Sprintf("touched R %s, stated R %s: type the number of an answer, Enter", v.length(q.Radius), v.length(q.Stated)),
		fmt.Sprintf("R %s, stated %s: which answer?", v.length(q.Radius), v.length(q.Stated)),
	}
	a := big(words, "R "+v.length(q.Radius)+"?", "R ?")
	a.title, a.answer = "which radius", "type the number of an answer, Enter"
	return a
}

// sizeTold is the question with its numbered answers, wrapped to w: none may be lost.
func sizeTold(v *View, w int) (out []string) {
	q := v.Prompt.Size
	for i, a := range lines.SizeAnswers(q) {
		out = append(out, wrap(fmt.Sprintf("%d  %s", i+1, v.text(a)), w, 3)...)
	}
	out = append(out, "")
	for _, c := range strings.Split(lines.SizeWords(&v.State, q, v.unit()), "; ") {
		out = append(out, wrap(v.text(v.Num(c)), w, 0)...)
	}
	return out
}
