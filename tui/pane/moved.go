package pane

import (
	"fmt"

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
	row := func(mark string, n int, station int, read string) string {
		b := v.State.Sweep.Stations[station-1].Bearing
		return fmt.Sprintf("%-2s%2d  %-14s%s", mark, n, v.degrees(b.Degrees360()), read)
	}
	for i, r := range v.State.Bump.Again {
		read := v.reading(r.Reading)
		if r.Skipped {
			read = "left out"
		}
		if r.Off != session.NotOff {
			read = r.Off.Words()
		}
		out = append(out, row("", i+1, r.Station, read))
	}
	if v.Prompt.Waits == session.ForReading {
		r := fmt.Sprintf("%-2s%2d  %s", v.Theme.Glyphs.RightMark, len(v.State.Bump.Again)+1, v.degrees(v.Prompt.Reading.Bearing.Degrees360()))
		out = append(out, v.Theme.Now.Render(r))
	}
	return out
}
