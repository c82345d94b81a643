package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// checkForms is the check of a sign in large letters.
func checkForms(v *View, c session.CheckAsked) []string {
	if c.Plan.Slide == "" {
		return []string{"put right?", "which?"}
	}
	name, at := SlideName(c.Plan.Slide), v.Plain(lines.PlaceIn(&v.State, c.Plan.Bearing, v.Bearings))
	return []string{at + ": check " + name + " clockwise", at + ": check " + name, at + ": " + name}
}

// checkList is what is in question, by number.
func checkList(v *View, w int) (out []string) {
	out = append(out, v.Theme.Dim.Render("stated otherwise than the winds went"))
	for _, x := range lines.InQuestion(&v.State, &v.Prompt.Check) {
		for i, l := range wrap(x, w-2, 3) {
			if i > 0 {
				l = "   " + l
			}
			out = append(out, "  "+l)
		}
	}
	return out
}

// backAction tells the way back.
func backAction(v *View) (words, big []string) {
	b := v.Prompt.Back
	first := ""
	if b.Clear {
		first = "tip clear first, "
	}
	if len(b.Winds) == 0 {
		return []string{
			"off the dial everywhere: " + first + "bring the slides nearer by scale; Enter when done",
			first + "nearer by scale; Enter",
		}, []string{"nearer by scale", "nearer"}
	}
	return []string{
		"off the dial everywhere: " + first + "wind the last winds back, as told; Enter when done",
		first + "wind back as told; Enter",
	}, []string{"wind back", "back"}
}

// backList is the way back, wind by wind.
func backList(v *View) (out []string) {
	b := v.Prompt.Back
	out = append(out, v.Theme.Dim.Render("off the dial everywhere: the way back"))
	if b.Clear {
		out = append(out, "  first bring the tip clear")
	}
	for i, w := range b.Winds {
		parts := make([]string, len(w.Moves))
		for k, m := range w.Moves {
			parts[k] = record.HandTurn(b.Slides[i].Shown(m))
		}
		out = append(out, fmt.Sprintf("  %s  %s", SlideName(w.Slide), strings.Join(parts, ", then ")))
	}
	return out
}
