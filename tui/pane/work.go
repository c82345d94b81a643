package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/theme"
)

// workWidth is what the left zone has beside a picture.
const workWidth = 44

// roomForLimits is how many rows the list and its gap keep before what limits the radius is told.
const roomForLimits = 8

// Work is the left zone: the stations of the sweep, or the load or wind in hand, over what the
// sweep has found so far. Where there is no room for both, what the hand does goes before the
// results, and the present station before the others; where no picture stands beside it, a load or a wind has columns.
func Work(v *View, w, h int) string {
	if cols := w / columnWidth; cols > 1 && v.told() {
		all := workList(v, columnWidth, h, h)
		if rest := cols*h - len(all) - 1; rest > 0 {
			results := workResults(v, columnWidth, h)
			all = append(append(all, ""), results[:min(rest, len(results))]...)
		}
		return Box(v.Theme, strings.Join(columns(all, w, h), "\n"), w, h)
	}
	results := workResults(v, w, h)
	room := h - len(results)
	if len(results) > 0 && room > 1 {
		room--
	}
	list, early := workList(v, w, h, room), earlyLines(v, w)
	if len(list) > room && len(list)+1+len(early) <= h && len(early) > 0 { // why the sweep was closed goes before what it found
		results, room = early, h-1-len(early)
	}
	switch {
	case v.told() && len(list) > room:
		return Box(v.Theme, strings.Join(list, "\n"), w, h)
	case room <= 0: // the letters below say the figures; what they lean on goes first
		results = slices.Concat(assumedLines(v, w), results[:max(0, len(results)-len(assumedLines(v, w)))])
		return Box(v.Theme, strings.Join(results, "\n"), w, h)
	case len(list) > room:
		return Box(v.Theme, strings.Join(list, "\n"), w, h)
	}
	for len(results) > 0 && len(list) < room+1 {
		list = append(list, "")
	}
	return Box(v.Theme, strings.Join(append(list, results...), "\n"), w, h)
}

// told reports whether the list tells what the hand does, and not what has been read.
func (v *View) told() bool {
	w := v.Prompt.Waits
	return w == session.ForLoad || w == session.ForWind || w == session.ForCheck || w == session.ForBack
}

// workResults are what stands below the list.
func workResults(v *View, w, h int) []string {
	switch v.Prompt.Waits {
	case session.ForDrift, session.ForSize, session.ForMoved: // the list, or the question, holds them
		return nil
	default:
	}
	results := append(resultLines(v, w), assumedLines(v, w)...)
	if limits := limitLines(v, w); h-len(results)-len(limits) >= roomForLimits {
		results = append(results, limits...)
	}
	return slices.Concat(earlyLines(v, w), verifyLines(v, w), results)
}

// verifyLines say of a sweep behind winds, until it says something itself, what it is for.
func verifyLines(v *View, w int) []string {
	if v.State.Trial < 2 || v.State.Raising != nil || v.Fitted || v.Prompt.Waits != session.ForReading {
		return nil
	}
	return wrapped(v.Theme.Dim, fmt.Sprintf("trial %d verifies what the winds have done: as many stations as told, then accept, or wind what is left",
		v.State.Trial), w)
}

// workList is the list in a zone of h rows, for as many of which there is room.
func workList(v *View, w, h, room int) []string {
	switch v.Prompt.Waits {
	case session.ForLoad:
		return loadList(v)
	case session.ForWind:
		return windList(v, w)
	case session.ForChore:
		return choreList(v, w, room)
	case session.ForDrift:
		return driftList(v, h)
	case session.ForSize:
		list := sizeTold(v, w)
		return list[:min(len(list), h)]
	case session.ForCheck:
		return checkTold(v, w)
	case session.ForBack:
		return backList(v)
	case session.ForMoved:
		return movedTold(v, w)
	case session.ForReading, session.ForAccept, session.ForAgain, session.ForNothing:
	}
	if v.State.Bump != nil {
		return around(lookList(v), len(v.State.Bump.Again)+1, room)
	}
	if v.Prompt.Reading.Between {
		return around(betweenList(v), len(v.State.Looked)+1, room)
	}
	return around(stationList(v), v.State.Sweep.N+1, room)
}

// columnWidth is what a line of a load or a wind needs.
const columnWidth = 40

// columns sets a list that is too long in as many columns as the width allows, one after the other.
func columns(list []string, w, h int) []string {
	n := min(w/columnWidth, (len(list)+h-1)/max(1, h))
	if n < 2 {
		return list
	}
	out := make([]string, h)
	for i, l := range list {
		if c := i / h; c < n {
			out[i%h] += pad(l, w/n, false)
		}
	}
	return out
}

// tail keeps the heading and the last lines of a list that is too long.
func tail(list []string, room int) []string { return around(list, len(list)-1, room) }

// around keeps the heading of a list that is too long, and as many lines as there is room for, up
// to the one after the present line; without room for a heading, the present line.
func around(list []string, present, room int) []string {
	present = min(present, len(list)-1)
	switch {
	case room <= 0:
		return nil
	case len(list) <= room:
		return list
	case room == 1:
		return list[present : present+1]
	}
	rows := room - 1
	end := min(present+1, len(list)-1)
	if rows == 1 {
		end = present
	}
	from := max(1, end-rows+1)
	return append([]string{list[0]}, list[from:from+rows]...)
}

// stationList has one row for every station, read, asked for or to come.
func stationList(v *View) []string {
	if v.pair() {
		return pointList(v)
	}
	t := v.Theme
	name := "bearing"
	if v.byRing() {
		name = "ring"
	}
	out := []string{t.Dim.Render(row("", "", name, "read", "off by", ""))}
	s := &v.State
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		out = append(out, v.station(i))
	}
	if v.Prompt.Waits != session.ForReading {
		return out
	}
	of := v.Prompt.Reading.Of
	if s.Searches() { // nobody knows yet where those behind it will stand
		of = s.Sweep.N + 1
	}
	for n := s.Sweep.N + 1; n <= of && !v.Prompt.Reading.Again; n++ {
		mark, b := "", s.Plan().Bearing(n-1)
		if n == v.Prompt.Reading.Station {
			mark, b = t.Glyphs.RightMark, v.Prompt.Reading.Bearing
		}
		r := row(mark, fmt.Sprint(n), v.place(b), "", "", "")
		if n == v.Prompt.Reading.Station {
			r = t.Now.Render(r)
		} else {
			r = t.Dim.Render(r)
		}
		out = append(out, r)
	}
	return out
}

// station is the row of an entry of the sweep. How far it came from what was expected stands
// there only now that it has been entered: shown before, it would pull the eye.
func (v *View) station(i int) string {
	st := &v.State.Sweep.Stations[i]
	read, off := "left out", ""
	switch {
	case st.Off != session.NotOff:
		read = printable(st.Off.Words())
	case !st.Skipped:
		read = v.reading(st.Reading)
		if st.OffBy.Known() {
			off = v.reading(st.OffBy.V)
		}
	}
	mark, flag := "", ""
	switch {
	case v.Prompt.Reading.Again && v.Prompt.Reading.Station == i+1:
		mark, flag = v.Theme.Glyphs.RightMark, v.Theme.Glyphs.Query
	case st.Kept:
		flag = "kept"
	case st.Surprise:
		flag = v.surprised(st)
	}
	r := row(mark, fmt.Sprint(i+1), v.place(st.Bearing), read, off, flag)
	if mark != "" {
		return v.Theme.Now.Render(r)
	}
	return r
}

// surprised marks a reading that came as a surprise: as one that still is, or that was one when it was entered.
func (v *View) surprised(st *session.Station) string {
	if st.Overtaken {
		return wasQuery(v.Theme)
	}
	return v.Theme.Glyphs.Query
}

// wasQuery marks one that is none any more.
func wasQuery(t theme.Theme) string { return "was " + t.Glyphs.Query }

func row(mark, n, bearing, read, off, flag string) string {
	if flag != "" {
		flag = " " + flag
	}
	return pad(mark, 2, false) + pad(n, 2, true) + pad(bearing, 9, true) + pad(read, 14, true) + pad(off, 10, true) + flag
}

// driftList says what the readings' drift does to the result, beside the stations as far as there is
// room.
func driftList(v *View, room int) []string {
	var out []string
	say := func(name string, f indicator.Estimate, err error) {
		if err != nil {
			return
		}
		out = append(out, v.Theme.Strong.Render(name))
		if r := f.Swing(); r.Known() {
			out = append(out, "  swing "+v.measured(r))
		}
		out = append(out, fmt.Sprintf("  X %s  Y %s %v", v.bare(f.CentreX()), v.bare(f.CentreY()), v.unit()))
	}
	f, err := v.State.Fit()
	say("left in", f, err)
	f, err = v.State.Drifting()
	say("taken out", f, err)
	list := stationList(v)
	if rest := room - len(out) - 1; rest > 2 {
		return append(append(around(list, len(list)-1, rest), ""), out...)
	}
	return out
}
