package pane

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// movedAction asks what is to be done about what has moved.
func movedAction(v *View) action {
	e := v.State.Bump.Found
	what := "it may have moved"
	if e.Shown {
		what = "it has moved"
	}
	return big([]string{
		fmt.Sprintf("%s, centre %s: r sweeps again, and winds it back; k goes on as it stands; * lists", what, e.Centre.Words()),
		what + ": r sweeps again, k goes on; * lists",
		"r again, k go on; * lists",
	}, "moved "+lines.MovedFigure(e, v.unit()), "moved")
}

// movedTold is what the readings tell of it.
func movedTold(v *View, w int) (out []string) {
	for _, said := range lines.MovedWords(&v.State, v.State.Bump.Found, v.unit()) {
		out = append(out, wrapped(v.Theme.Doubt, v.text(v.Num(said)), w)...)
	}
	return out
}

// lookList are the stations that were read once more, without what they read in the sweep: that would pull the eye.
func lookList(v *View) []string {
	out := []string{v.Theme.Dim.Render("     has it moved?  read again")}
	for i, r := range v.State.Bump.Again {
		out = append(out, v.lookRow(i, v.State.Sweep.Stations[r.Station-1].Bearing, r.Reading, r.Skipped, r.Off))
	}
	if v.Prompt.Waits == session.ForReading {
		out = append(out, v.lookNow(len(v.State.Bump.Again)))
	}
	return out
}

// betweenList are the readings between the winds.
func betweenList(v *View) []string {
	out := []string{v.Theme.Dim.Render("     between the winds")}
	for i, l := range v.State.Looked {
		out = append(out, v.lookRow(i, l.Bearing, l.Reading, l.Skipped, l.Off))
	}
	return append(out, v.lookNow(len(v.State.Looked)))
}

// lookRow is what was read at a place, the one after i others.
func (v *View) lookRow(i int, b geom.Bearing, reading float64, skipped bool, off session.Off) string {
	read := v.reading(reading)
	if skipped {
		read = "left out"
	}
	if off != session.NotOff {
		read = off.Words()
	}
	return fmt.Sprintf("%-2s%2d  %-14s%s", "", i+1, v.degrees(b.Degrees360()), read)
}

// lookNow is the one that is read now.
func (v *View) lookNow(i int) string {
	return v.Theme.Now.Render(fmt.Sprintf("%-2s%2d  %s", v.Theme.Glyphs.RightMark, i+1, v.degrees(v.Prompt.Reading.Bearing.Degrees360())))
}
