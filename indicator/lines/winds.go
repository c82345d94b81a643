package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// WoundLine says where a wind has ended by the needle.
type WoundLine struct {
	Say   string        `json:"say"`
	Trial int           `json:"trial"`
	Slide string        `json:"slide"`
	Value record.Number `json:"value"`
	Goal  record.Number `json:"goal"`
	Gauge *GaugedBy     `json:"gauge,omitempty"`
	text  string
}

// Text: see [Line].
func (l WoundLine) Text() string { return l.text }

var loaded = told[session.Loaded]{status: asText, undo: undoLoaded, happened: func(e session.Loaded) string {
	return SlideName(e.Slide) + " slide: backlash taken up"
}}.row()

var windTold = told[session.Told]{happened: func(e session.Told) string {
	return fmt.Sprintf("wind %d of %d is told: %s slide", e.Step, e.Of, SlideName(e.Wind.Slide))
}}.row()

var wound = told[session.Wound]{status: figures, undo: undoWound,
	lines: woundLines,
	happened: func(e session.Wound) string {
		if e.Reading == nil {
			return SlideName(e.Slide) + " slide wound"
		}
		return ""
	},
}.row()

var reswept = told[session.Reswept]{happened: func(session.Reswept) string { return "the winds are done, the next sweep begins" }}.row()

// woundLines repeats the reading that a wind ended at.
func woundLines(st session.Step, e session.Wound, u geom.Unit) []Line {
	if st.Before.Phase == session.Cutting && st.Before.ByTrial() {
		return stands(&st.After, u)
	}
	told := st.Before.Told
	if e.Reading == nil || told == nil || told.Park == nil {
		return nil
	}
	if told.Tap != nil {
		return []Line{tappedLine(st, e, u)}
	}
	d, end := st.Before.Set.Job.Dial, told.Park.Goal+told.Park.Shift*told.Park.Act
	off := geom.FormatSigned(u.From(*e.Reading-end), record.ReadingPlaces(d, u))
	return []Line{WoundLine{"wound", st.Before.Trial, e.Slide, record.Number(u.From(*e.Reading)), record.Number(u.From(end)),
		gaugedBy(e.Gauge, u), fmt.Sprintf("%s slide: needle at %s %v, off by %s %v", e.Slide, record.Reading(d, u, *e.Reading), u, off, u) +
			GaugedWords(e.Gauge, u)}}
}
