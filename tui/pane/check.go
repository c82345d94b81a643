package pane

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// checkAction checks a sign, or asks which of the statements is to be put right.
func checkAction(v *View) action {
	c := &v.Prompt.Check
	words := checkWords(v)
	if c.Plan.Slide == "" {
		numbers, _ := mendable(v)
		a := big(words, "type "+numbers+": put right", numbers+": put right", numbers+"?")
		if numbers == "" {
			a = big(words, "none is right?", "none?")
		}
		a.title, a.answer = "put right?", words[len(words)-1]
		return a
	}
	name, at := SlideName(c.Plan.Slide), v.Plain(lines.PlaceIn(&v.State, c.Plan.Bearing, v.Bearings))
	return action{words: words, parts: []deed{
		{alone: []string{"check " + name + " at " + at, name + " at " + at}}, {alone: []string{name + " clockwise"}},
	}, title: "check the sign of " + name, answer: "1 up 2 down 3 still 4 only back"}
}

// mendable are the numbers of the causes that can be put right, in words, and how many they are.
func mendable(v *View) (numbers string, n int) {
	var all []string
	for i, c := range v.Prompt.Check.Causes {
		if c.Key != "" {
			all = append(all, strconv.Itoa(i+1))
		}
	}
	return strings.Join(all, " or "), len(all)
}

// checkWords say what is to be done about what is in question, by the keys, in ever shorter forms.
func checkWords(v *View) []string {
	if v.Prompt.Check.Plan.Slide != "" {
		return lines.CheckWords(&v.State, &v.Prompt.Check)
	}
	const others = "s winds on as stated, r sweeps anew"
	switch numbers, n := mendable(v); n {
	case 0:
		return []string{"what is left in question cannot be put right here: " + others, others}
	case 1:
		return []string{
			"type " + numbers + ", then Enter: what has that number is put right; " + others,
			numbers + ": put right; s: as stated",
		}
	default:
		return []string{"type the number of the one that is wrong, " + numbers + ", then Enter: it is put right; " + others,
			numbers + ": put right; s: as stated"}
	}
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
