package pane

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// loadList says which slide to load, and how.
func loadList(v *View) []string {
	p, t := v.Prompt, v.Theme
	out := []string{t.Dim.Render(fmt.Sprintf("take up the backlash: %d of %d", p.Load.N, p.Load.Of))}
	for i, name := range v.job().Needs() {
		mark := " "
		switch {
		case i < v.State.Loads:
			mark = t.Glyphs.Tick
		case i == v.State.Loads:
			mark = t.Glyphs.RightMark
		}
		r := fmt.Sprintf("%s %s slide", mark, SlideName(name))
		if i == v.State.Loads {
			r = t.Now.Render(r)
		}
		out = append(out, r)
	}
	if first := v.turnFirst(); first != "" {
		out = append(out, "", "  "+strings.TrimSuffix(first, ", ")+" to reach it")
	}
	return append(append(out, "  "+record.FacingHandle), v.moveLines()...)
}

// moveLines spells what the hand does, one movement a line.
func (v *View) moveLines() []string {
	var out []string
	sl, moves := v.Prompt.Handwheel()
	for i, m := range moves {
		out = append(out, fmt.Sprintf("  %d  %s %s", i+1, record.WindWords(i, len(moves)), record.HandTurn(sl.Shown(m))))
	}
	return out
}

// windHeading counts the wind, or says which step of the order at the machine it is.
func windHeading(v *View) string {
	p := v.Prompt
	switch {
	case p.Wind.Told.SetOff:
		return v.text(lines.OffWords(&v.State, &p.Wind.Told)) + v.watchedFrom()
	case p.Chore.Step == "":
		return fmt.Sprintf("wind %d of %d%s", p.Wind.Told.Step, p.Wind.Told.Of, v.watchedFrom()+v.tipStays())
	}
	return fmt.Sprintf("step %d of %d: %s", p.Chore.N, p.Chore.Of, v.text(lines.ChoreWords(&v.State, p.Chore.Step, v.unit())[0])) +
		v.watchedFrom()
}

// tipStays is where the head stands for a wind by the collar, in the list's head too; empty where something comes first, or the wind
// says so itself.
func (v *View) tipStays() string {
	at := lines.TipWords(&v.State)
	if at == "" || lines.First(&v.State) != nil {
		return ""
	}
	return ", " + v.text(at)
}

// watchedFrom is where the head is parked, and the eye, in the list's head while the needle is watched: the figures leave room for
// little more of the list.
func (v *View) watchedFrom() string {
	if !v.Watching() {
		return ""
	}
	return ", " + record.FacingHandle + ", " + v.parkForms()[0]
}

// windList says which slide to wind, and how.
func windList(v *View, w int) []string {
	p, t := v.Prompt, v.Theme
	switch p.Wind.How {
	case session.ByTap:
		return v.tapList()
	case session.ByCoordinate:
		return v.goList()
	case session.ByCollar, session.UnderNeedle:
	}
	u := v.unit()
	wound := p.Wind.Told.Wind
	var out []string
	out = append(out, wrapped(t.Dim, windHeading(v), w)...)
	out = append(out,
		t.Now.Render(fmt.Sprintf("%s slide  %s %v", SlideName(wound.Slide),
			v.Num(geom.FormatSigned(u.From(wound.Travel), geom.Places(0, u))), u)))
	out = append(out, againLines(v, w)...)
	out = append(out, firstLines(v, w)...)
	out = append(out, v.courseLines()...)
	for _, why := range []string{lines.SuspectWords(&v.State, u), lines.ReachWords(&v.State, u), lines.TravelWords(&v.State, u)} {
		if why == "" {
			continue
		}
		for _, l := range wrap(t.Glyphs.Cross+" "+why, workWidth, 4) {
			out = append(out, t.Bad.Render(l))
		}
	}
	if p.Wind.How == session.UnderNeedle {
		return append(out, v.parkedLines()...)
	}
	if first := v.turnFirst(); first != "" {
		out = append(out, "  "+strings.TrimSuffix(first, ", ")+" to reach it")
	}
	out = append(out, v.collarLines()...)
	if p.Wind.Slide.Readout {
		out = append(out, fmt.Sprintf("  readout from 0 to %s %v", v.length(wound.Travel), u))
	}
	if n := len(p.Wind.Moves); n > 0 {
		out = append(out, "  ends "+p.Wind.Moves[n-1].Turn.String()+": backlash taken up")
	}
	if at := lines.TipWords(&v.State); at != "" && lines.First(&v.State) != nil {
		out = append(out, wrapped(t.Dim, "  "+v.text(at), w)...)
	}
	return append(out, lastLines(v)...)
}

// courseLines say what to make sure of before the slides go on to an arc's centre.
func (v *View) courseLines() (out []string) {
	told := v.Prompt.Wind.Told
	if !told.SetOff || told.Back || told.Step > 1 {
		return nil
	}
	for _, l := range wrap(lines.CourseWords(&v.State, v.unit()), columnWidth, 2) {
		if l != "" {
			out = append(out, v.Theme.Doubt.Render("  "+l))
		}
	}
	return out
}

// collarLines spells a wind by the collar: from 0, to which that is set, or from the figure that it shows.
func (v *View) collarLines() []string {
	p := v.Prompt
	from, to, moves, figured := lines.Figures(&v.State, &p.Wind)
	switch {
	case p.Wind.Reads:
		return []string{"  its collar keeps its figures:", "  type what it shows now"}
	case !figured:
		out := append([]string{"  collar to 0, then, " + record.FacingHandle}, v.moveLines()...)
		return append(out, fmt.Sprintf("  collar ends at %s", record.Divisions(p.Wind.Slide.ShownCollar(p.Wind.Told.Wind.CollarTo))))
	}
	out := []string{"  start at " + from + " on its collar, " + record.FacingHandle}
	for i, m := range moves {
		out = append(out, wrap(fmt.Sprintf("  %d  %s", i+1, m), workWidth, 5)...)
	}
	return append(out, "  collar ends at "+to)
}

// parkedLines spells a wind under the needle.
func (v *View) parkedLines() []string {
	p, k := v.Prompt, v.Prompt.Wind.Told.Park
	at := "  park at "
	if v.turned() {
		at = "  park the table at "
	}
	out := []string{at + v.park(), "  " + v.nowWords() + "; " + record.FacingHandle}
	off, up := "  ", "  " // before the movement that is on
	if v.Watching() {
		if began := v.Watch.Began(); !math.IsNaN(began) {
			out[1] = "  began at " + v.reading(began)
		}
		if up = v.Theme.Glyphs.RightMark + " "; v.Watch.Off() {
			off, up = up, off
		}
	}
	if k.Past != nil && len(p.Wind.Moves) > 1 {
		out = append(out, fmt.Sprintf("%s1  %s %v to %s", off, record.WindWords(0, 2), p.Wind.Moves[0].Turn, v.reading(*k.Past)))
	}
	about, rises := "", "falls"
	if n := len(p.Wind.Moves); n > 0 {
		last := p.Wind.Moves[n-1]
		out = append(out, v.Theme.Strong.Render(fmt.Sprintf("%s%d  %s %v to %s", up, n, record.WindWords(n-1, n), last.Turn,
			v.reading(k.Goal))))
		about = record.Amount(p.Wind.Slide.Shown(last))
		if float64(last.Turn)*float64(p.Wind.Slide.Clockwise)*k.Act > 0 {
			rises = "rises"
		}
		per := v.unit().From(math.Abs(k.Act) * p.Wind.Slide.Division())
		out = append(out, fmt.Sprintf("  %s %s a division, %s", rises, geom.FormatFixed(per, geom.Places(0, v.unit())), about))
	}
	if p.Wind.Slide.Lock {
		out = append(out, "  lock it under the needle, then read")
	}
	if k.Shift != 0 {
		out = append(out, fmt.Sprintf("  locking moves it %s: allowed for",
			v.Num(geom.FormatSigned(v.unit().From(k.Shift), geom.Places(0, v.unit())))))
	}
	return out
}

// againLines say of a slide that was wound before why it comes up again.
func againLines(v *View, w int) []string {
	told := v.Prompt.Wind.Told
	if told.Back || told.SetOff || v.Prompt.Chore.Step != "" {
		return nil
	}
	for t := v.State.Past; t != nil; t = t.Before {
		for d := t.Winds; d != nil; d = d.Before {
			if d.Wind.Slide == told.Wind.Slide {
				return wrapped(v.Theme.Dim, fmt.Sprintf("again: it was wound in trial %d, and this much is left by the sweep of trial %d",
					t.Number, v.State.Trial), w)
			}
		}
	}
	return nil
}

// lastLines are what it does behind the wind.
func lastLines(v *View) []string {
	if last := lines.LastWords(&v.State); last != "" {
		return []string{"  " + last}
	}
	return nil
}

// firstLines are what the hand sees to before it winds.
func firstLines(v *View, w int) []string {
	if first := lines.FirstWords(&v.State); first != "" {
		return wrapped(v.Theme.Now, "  "+v.text(first), w)
	}
	return nil
}
