package lines

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// spell joins movements into words: where there are two, the first goes against the way in which the slide is brought up.
func spell(s slide.Slide, moves []Move) string {
	var parts []string
	for i, m := range moves {
		t := record.HandTurn(s.Shown(slide.Move{Turn: m.Turn, Turns: m.Turns, Divisions: float64(m.Divisions)}))
		parts = append(parts, record.WindWords(i, len(moves))+" "+t)
	}
	return strings.Join(parts, ", then ")
}

// Text: see [Line].
func (l Load) Text() string {
	return fmt.Sprintf("take up the backlash of the %s slide: %s%s, %s; then done", l.Slide, l.Turn.first(), record.FacingHandle,
		spell(l.shown, l.Moves))
}

// RingWords says what a table's ring shows, degrees, and how that is set with its vernier, nil for none.
func RingWords(shows float64, v *setup.Mark) string {
	t := "ring " + record.Degrees(record.RoundTo(shows, 2))
	if v != nil && v.Minutes != 0 {
		t += fmt.Sprintf(" (%s %s′)", record.Degrees(v.Degrees), strconv.FormatFloat(record.RoundTo(v.Minutes, 1), 'f', -1, 64))
	}
	return t
}

// first says to turn the table before anything else is done.
func (t *Turn) first() string {
	if t == nil {
		return ""
	}
	return "turn the table to " + RingWords(float64(t.Collar), t.Vernier) + ", "
}

// Text does not tell the expected reading: it would pull the eye.
func (l Ask) Text() string {
	if l.point {
		return fmt.Sprintf("trial %d, point %d of %d: touch %s about %s from its middle, type x y", l.Trial, l.Station, l.Of,
			record.Touching(l.touch), record.Degrees(float64(l.Bearing)))
	}
	t := fmt.Sprintf("trial %d, station %d of %d: ", l.Trial, l.Station, l.Of)
	if l.Table.Unknown() && l.by != session.AsUsual {
		t += "swing to " + placed(l.by, l.Bearing, l.Collar, l.Vernier)
	} else if l.Table.Unknown() {
		t += "swing to " + record.Degrees(float64(l.Bearing))
		if l.Collar != l.Bearing {
			t += fmt.Sprintf(" (ring %s)", record.Degrees(float64(l.Collar)))
		}
	} else {
		t += "turn the table to " + RingWords(float64(l.Collar), l.Vernier)
		if l.by == session.ByFrame {
			t += fmt.Sprintf(" (bearing %s)", record.Degrees(float64(l.Bearing)))
		}
	}
	if l.Closing {
		t += ", once more: the closing reading"
	}
	if w := HandleWords(l.Handle); w != "" {
		t += "; " + w
	}
	return t + countsWords(l.WholeNumbers)
}

// placed is where a head is swung to, by the figures that are wanted.
func placed(by session.Bearings, bearing, collar record.Number, v *setup.Mark) string {
	if by == session.ByRing {
		return RingWords(float64(collar), v)
	}
	return "bearing " + record.Degrees(float64(bearing))
}

// Text: see [Line].
func (l FitLine) Text() string {
	t := fmt.Sprintf("trial %d: %s", l.Trial, l.Fit.Text())
	if l.Early != nil {
		t += "\n" + l.Early.words
	}
	return t
}

// Text: see [Line].
func (l WindLine) Text() string {
	switch {
	case l.Park != nil:
		return l.parked()
	case l.goes:
		return l.goTo()
	case l.from != "":
		return l.onFigures()
	}
	t := fmt.Sprintf("%s%scollar to 0, then, %s, %s; collar ends at %s", l.begins(), l.Turn.first(), record.FacingHandle,
		spell(l.shown, l.Moves),
		record.Divisions(l.shown.ShownCollar(float64(l.Collar.To))))
	if l.Readout != nil {
		t += fmt.Sprintf("; readout from 0 to %s %v", geom.FormatFixed(float64(l.Readout.To), 3), l.unit)
	}
	return t + "; " + l.then("then done") + l.warned()
}

// goTo tells a wind to a coordinate.
func (l WindLine) goTo() string {
	to := geom.FormatFixed(float64(l.Readout.To), l.places)
	from := geom.FormatFixed(float64(l.Readout.From), l.places)
	how := fmt.Sprintf("collar to 0, then, %s, %s", record.FacingHandle, spell(l.shown, l.Moves))
	if l.shown.Keeps {
		how = fmt.Sprintf("from where its collar stands, %s, %s", record.FacingHandle, spell(l.shown, l.Moves))
	}
	if l.shown.Readout {
		how = fmt.Sprintf("about, %s: %s", record.FacingHandle, spell(l.shown, l.Moves))
	}
	return fmt.Sprintf("%sgo from %s to %s %v (%s); %s%s", l.begins(), from, to, l.unit, how,
		l.then("type where it stands then, or done"), l.warned())
}

// warned repeats the notes that must not be missed: all but how the wind goes.
func (l WindLine) warned() string {
	t := ""
	for _, n := range l.Notes {
		if !strings.HasPrefix(n, "by the collar") {
			t += "; " + n
		}
	}
	return t
}

// parked tells a wind under the needle; the collar's figures say about how far that is.
func (l WindLine) parked() string {
	p := l.Park
	at := "park at " + record.Degrees(float64(p.Bearing))
	switch {
	case !p.Table.Unknown():
		at = "park the table at " + RingWords(float64(p.Collar), p.Vernier)
		if p.by == session.ByFrame {
			at += fmt.Sprintf(" (bearing %s)", record.Degrees(float64(p.Bearing)))
		}
	case p.by != session.AsUsual:
		at = "park at " + placed(p.by, p.Bearing, p.Collar, p.Vernier)
	case p.Collar != p.Bearing:
		at += fmt.Sprintf(" (ring %s)", record.Degrees(float64(p.Collar)))
	}
	show := func(n record.Number) string { return geom.FormatSigned(float64(n), p.places) }
	n := len(l.Moves)
	last := l.Moves[n-1]
	t := fmt.Sprintf("wind %d of %d, %s slide: %s, needle now %s %v; ", l.Step, l.Of, l.Slide, at, show(p.ReadingNow), l.unit)
	t += record.FacingHandle + ", "
	if p.ReadingPast != nil {
		t += fmt.Sprintf("%s %s to %s %v, then ", record.WindWords(0, 2), l.Moves[0].Turn, show(*p.ReadingPast), l.unit)
	}
	return t + fmt.Sprintf("%s %s to %s %v (about: %s); type the reading then, or done%s", record.WindWords(n-1, n), last.Turn,
		show(p.ReadingGoal), l.unit, spell(l.shown, l.Moves), countsWords(l.WholeNumbers)) + l.warned()
}

// Text: see [Line].
func (l SettledLine) Text() string {
	x := record.Fit{Unit: l.unit}
	t := fmt.Sprintf("settled in trial %d", l.Trial)
	if l.Goal != nil && l.Centre != nil {
		t += ": the centre is at " + l.Goal.Text(l.places, l.unit) + ", the spindle short of it by"
		return t + fmt.Sprintf(" x %s, y %s, %s; accept, or again to touch it once more, or quit", l.Centre.X.Text(x.Unit),
			l.Centre.Y.Text(x.Unit), l.Verdict.Centre.Words())
	}
	if l.Swing != nil {
		t += fmt.Sprintf(": swing radius %s, %v", l.Swing.Text(x.Unit), l.RadiusWords())
		if l.SetOff != nil {
			t += l.SetOff.words(l.Verdict.Radius, l.unit)
		}
	}
	if l.RadiusBy != "" {
		t += ": swing radius by " + l.RadiusBy
	}
	if l.Centre != nil {
		t += fmt.Sprintf("; centre x %s, y %s, %v", l.Centre.X.Text(x.Unit), l.Centre.Y.Text(x.Unit), l.CentreWords())
	}
	if l.About != nil {
		t += "; " + l.About.words(l.Verdict.Centre)
	}
	for _, n := range l.Notes {
		t += "; " + n
	}
	return t + "; accept, again or quit"
}

// Text: see [Line].
func (l ResumedLine) Text() string {
	t := fmt.Sprintf("resumed: trial %d, %d readings", l.Trial, l.Readings)
	if l.Note != "" {
		t += "; " + l.Note
	}
	return t
}

// Text: see [Line].
func (l RefusedLine) Text() string {
	t := fmt.Sprintf("not taken: %q: %s", l.Input, l.Because)
	if l.Hint != "" {
		t += " (" + l.Hint + ")"
	}
	return t
}

// Text: see [Line].
func (l PausedLine) Text() string {
	return fmt.Sprintf("paused; the journal holds %d lines", l.JournalLines)
}
