package pane

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// choreAction asks for a step of the order at the machine.
func choreAction(v *View) action {
	p := v.Prompt
	all := lines.ChoreWords(&v.State, p.Chore.Step, v.unit())
	short := all[len(all)-1]
	answer := "Enter when done, s skips"
	switch {
	case p.Chore.May:
		short, answer = lines.RadiusToSet(&v.State, v.unit()), "Enter when done, or type what it is set to"
	case p.TakesReading():
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
	a := big(words, v.text(short))
	a.title, a.answer = fmt.Sprintf("step %d of %d", p.Chore.N, p.Chore.Of), answer
	if parts := runDeeds(v, short); parts != nil {
		a.parts = parts
	}
	return a
}

// runDeeds are where the cutter starts, which way it is swung and where it stops, by the ring that is read, and what comes before
// the power and before anything is roughed in; nil of any other step, or where the ends are open.
func runDeeds(v *View, name string) []deed {
	switch v.Prompt.Chore.Step {
	case session.Power:
		return []deed{
			{alone: []string{"back to the start", "to the start"}}, {alone: []string{"cutter clear"}}, {alone: []string{v.text(name)}},
		}
	case session.RoughIn:
		return []deed{{alone: []string{"tip clear of everything", "tip clear"}}, {alone: []string{v.text(name)}}}
	default:
	}
	r, ok := lines.ChoreRun(&v.State, v.Prompt.Chore.Step)
	if !ok || r.Begin() == "" {
		return nil
	}
	at := func(deg, ring record.Number) string {
		if ring.Unknown() || v.Bearings == session.ByFrame {
			return v.text(record.Angle(deg))
		}
		return v.text("ring " + record.Angle(ring))
	}
	way := r.Sense
	if way == "none" {
		way = "either way"
	}
	start, stop := at(r.Start, r.RingStart()), at(r.Stop, r.RingStop())
	return []deed{
		{alone: []string{v.text(name) + ": start at " + start, "start at " + start, "start " + start}},
		{alone: []string{way + " from above", way}},
		{alone: []string{"stop at " + stop, "stop " + stop}},
	}
}

// choreList has what the present step asks for, and one row for every step, done, left out, asked for or to come.
func choreList(v *View, w, room int) []string {
	told := append(mustTell(v, w), "")
	if room -= len(told); room < 2 {
		return told
	}
	t := v.Theme
	all, done := v.State.Chores()
	out := []string{t.Dim.Render("     order at the machine")}
	for i, c := range all {
		words := lines.ChoreWordsAt(&v.State, c, i, v.unit())
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
