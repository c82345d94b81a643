package pane

import (
	"fmt"
	"slices"
	"strings"

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
	case p.Chore.Seen:
		answer = lines.StopAsked(&v.State, v.unit()) + " Enter: yes, or type what the ring shows; s skips"
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
		return powerDeeds(v, name)
	case session.Pass:
		return passDeeds(v)
	case session.SetStops:
		return stopDeeds(v, name)
	case session.RoughIn:
		return []deed{{alone: []string{"tip clear of everything", "tip clear"}}, {alone: []string{v.text(name)}}}
	default:
	}
	r, ok := lines.ChoreRun(&v.State, v.Prompt.Chore.Step)
	if !ok || r.Begin() == "" {
		return nil
	}
	all := swungDeeds(v, r)
	all[0].alone = append([]string{v.text(name) + ": " + all[0].alone[0]}, all[0].alone...)
	return all
}

// swungDeeds are start, way and stop of a run, by the ring that is read; the way alone where the ends are not known.
func swungDeeds(v *View, r record.Run) []deed {
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
	sense := deed{alone: []string{way + " from above", way}}
	switch {
	case r.OpenEnds:
		return []deed{sense}
	case r.Begin() == "":
		return []deed{{alone: []string{"start anywhere"}}, sense, {alone: []string{"one turn and a little"}}}
	}
	start, stop := at(r.Start, r.RingStart()), at(r.Stop, r.RingStop())
	return []deed{
		{alone: []string{"start at " + start, "start " + start}}, sense, {alone: []string{"stop at " + stop, "stop " + stop}},
	}
}

// passDeeds are what the hand does in a pass of the cut, first thing first.
func passDeeds(v *View) []deed {
	s := &v.State
	p, ok := s.PassAt(v.Prompt.Chore.N - 1)
	if !ok {
		return nil
	}
	name, depth := lines.PassName(p), v.Num(lines.DepthWords(p.Depth, v.unit()))
	out := []deed{{alone: []string{v.text(name + "  depth " + depth)}, two: [][]string{{v.text(name)}, {v.text("depth " + depth)}}}}
	if p.Fresh {
		out = append(out, deed{alone: lines.EntryBrief(s)})
	}
	if jump := lines.JumpBrief(p, v.unit()); jump != nil {
		out = append(out, deed{alone: jump})
	}
	if !p.Spring { // whose quill stays locked
		out = append(out, deed{alone: []string{"lock the quill"}})
	}
	r, ok := lines.ChoreRun(s, session.Pass)
	if ok {
		out = append(out, swungDeeds(v, r)...)
	}
	return append(out, deed{alone: []string{"lift out, back lifted", "lift out"}})
}

// powerDeeds are what comes before the power. Depths count from the top of the stock, which the cutter touches the first time.
func powerDeeds(v *View, name string) []deed {
	out := []deed{
		{alone: []string{"back to the start", "to the start"}}, {alone: []string{"cutter clear"}}, {alone: []string{v.text(name)}},
	}
	if lines.FirstDepth(&v.State) {
		out = slices.Insert(out, 0, deed{alone: []string{"zero the quill on the stock", "zero on the stock"}})
	}
	return out
}

// stopDeeds are where the two stops are set, by the ring that is read.
func stopDeeds(v *View, name string) []deed {
	stops, ok := lines.StopsOf(&v.State, v.unit())
	if !ok {
		return nil
	}
	start, stop := stops.Places()
	at := func(what, place string, hard bool) deed {
		plain := what + " " + v.text(place)
		if hard {
			return deed{alone: []string{plain + ", hard stop", plain + ", hard", plain}}
		}
		return deed{alone: []string{plain}}
	}
	return []deed{{alone: []string{v.text(name)}}, at("start", start, stops.HardStart), at("stop", stop, stops.HardStop)}
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
		case done[i].Seen != nil && done[i].Seen.Stop != nil:
			became = v.text(strings.TrimPrefix(lines.SeenWords(&session.Seen{Stop: done[i].Seen.Stop}), ", stopped at "))
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
