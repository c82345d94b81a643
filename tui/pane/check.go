package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// checkAction checks a sign, or asks which of the statements is to be put right.
func checkAction(v *View) action {
	c := &v.Prompt.Check
	words := lines.CheckWords(&v.State, c)
	if c.Plan.Slide == "" {
		a := big(words, "put right?", "which?")
		a.title, a.answer = "put right?", words[len(words)-1]
		return a
	}
	name, at := SlideName(c.Plan.Slide), v.Plain(lines.PlaceIn(&v.State, c.Plan.Bearing, v.Bearings))
	return action{words: words, parts: []deed{
		{alone: []string{"check " + name + " at " + at, name + " at " + at}}, {alone: []string{name + " clockwise"}},
	}, title: "check the sign of " + name, answer: "1 up 2 down 3 still 4 only back"}
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
func backAction(v *View) action {
	b := v.Prompt.Back
	first := ""
	var parts []deed
	if b.Clear {
		first = "tip clear first, "
		parts = append(parts, deed{alone: []string{"tip clear first", "tip clear"}})
	}
	if len(b.Winds) == 0 {
		return action{words: []string{
			"off the dial everywhere: " + first + "bring the slides nearer by scale; Enter when done",
			first + "nearer by scale; Enter",
		}, parts: append(parts, deed{alone: []string{"nearer by scale", "nearer"}})}
	}
	for i, w := range b.Winds {
		for _, m := range w.Moves {
			parts = append(parts, moveDeed(SlideName(w.Slide), b.Slides[i].Shown(m)))
		}
	}
	return action{words: []string{
		"off the dial everywhere: " + first + "wind the last winds back, as told; Enter when done",
		first + "wind back as told; Enter",
	}, parts: parts}
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
