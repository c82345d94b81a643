package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// ReadingLine repeats a reading that was taken.
type ReadingLine struct {
	Say      string         `json:"say"`
	Trial    int            `json:"trial"`
	Station  int            `json:"station"`
	Bearing  record.Number  `json:"bearing"`
	Value    record.Number  `json:"value"`
	Surprise bool           `json:"surprise"`
	Because  *string        `json:"because"`
	WouldBe  *record.Number `json:"would_be"`
	// Point is the touched coordinates, in setup points, whose value is null.
	Point *record.XY `json:"point,omitempty"`
	Gauge *GaugedBy  `json:"gauge,omitempty"`
	text  string
}

// Text: see [Line].
func (l ReadingLine) Text() string { return l.text }

// Skip repeats that a station was left out.
type Skip struct {
	Say     string        `json:"say"`
	Trial   int           `json:"trial"`
	Station int           `json:"station"`
	Bearing record.Number `json:"bearing"`
	Off     session.Off   `json:"off"`
	place   string
}

// Text: see [Line].
func (l Skip) Text() string {
	why := "left out"
	if l.Off != session.NotOff {
		why = "needle off the dial: " + l.Off.Words()
	}
	return fmt.Sprintf("station %d, %s: %s", l.Station, l.place, why)
}

// DoubtLine says that a reading does not fit the others.
type DoubtLine struct {
	Say     string          `json:"say"`
	Trial   int             `json:"trial"`
	Station int             `json:"station"`
	Because indicator.Cause `json:"because"`
	WouldBe record.Number   `json:"would_be"`
	// WouldBeAt is the point that it may have been, in setup points.
	WouldBeAt *record.XY `json:"would_be_at,omitempty"`
	unit      geom.Unit
	places    int
}

// Text: see [Line].
func (l DoubtLine) Text() string {
	t := fmt.Sprintf("station %d does not fit the others: %s", l.Station, record.SlipWords(l.Because))
	if l.WouldBeAt != nil {
		t += " then it would be " + l.WouldBeAt.Text(l.places, l.unit)
	}
	if !l.WouldBe.Unknown() {
		t += fmt.Sprintf(" then it would be %s %v", geom.FormatFixed(float64(l.WouldBe), l.places), l.unit)
	}
	return t + "; read it once more, or keep, or skip"
}

// KeptLine says that a doubted reading stands.
type KeptLine struct {
	Say     string `json:"say"`
	Trial   int    `json:"trial"`
	Station int    `json:"station"`
}

// Text: see [Line].
func (l KeptLine) Text() string { return fmt.Sprintf("station %d: kept as it is", l.Station) }

var took = told[session.Took]{status: figures, undo: undoTook, lines: func(st session.Step, e session.Took, u geom.Unit) []Line {
	s := &st.After
	out := []Line{reading(s, e, u)}
	_, asked := st.Asks()
	// The planned stations are in and the sweep goes on: say what there is, so that the
	// further station does not come out of the blue.
	if s.Doubt == nil && s.Sweep.Closed == "" && s.Sweep.Entries() >= s.Plan().Stations && asked {
		out = append(out, fitLine(s, u))
	}
	return out
}}.row()

var skipped = told[session.Skipped]{status: asText, undo: undoSkipped, lines: func(st session.Step, e session.Skipped, u geom.Unit) []Line {
	s := &st.After
	return []Line{Skip{Say: "skipped", Trial: s.Trial, Station: number(s, e.Again), Bearing: record.Degrees360(e.Bearing),
		Off: e.Off, place: place(s, e.Bearing)}}
}}.row()

var doubted = told[session.Doubted]{lines: func(st session.Step, e session.Doubted, u geom.Unit) []Line {
	s := &st.After
	l := DoubtLine{Say: "doubt", Trial: s.Trial, Station: e.Station, Because: e.Because, WouldBe: record.Number(nan), unit: u,
		places: record.ReadingPlaces(s.Set.Job.Dial, u)}
	if e.WouldBe != nil {
		l.WouldBe = record.Number(u.From(*e.WouldBe))
	}
	if e.WouldBeAt != nil {
		l.WouldBeAt = record.PlaceOf(geom.Point(*e.WouldBeAt), u)
	}
	return []Line{l}
}}.row()

var kept = told[session.Kept]{status: asText, undo: undoKept, lines: func(st session.Step, e session.Kept, _ geom.Unit) []Line {
	return []Line{KeptLine{Say: "kept", Trial: st.After.Trial, Station: e.Station}}
}}.row()

// OvertakenWords are said of a reading that was a surprise when it was entered, and fits the sweep as it ended.
const OvertakenWords = "a surprise when entered; it fits the sweep as that ended"

// number is the station that an entry went to: the one asked for once more, or the last.
func number(s *session.State, again int) int {
	if again > 0 {
		return again
	}
	return s.Sweep.N
}

func reading(s *session.State, e session.Took, u geom.Unit) Line {
	n, places := number(s, e.Again), record.ReadingPlaces(s.Set.Job.Dial, u)
	l := ReadingLine{Say: "reading", Trial: s.Trial, Station: n, Bearing: record.Degrees360(e.Bearing),
		Value: record.Number(u.From(e.Reading)),
		text:  fmt.Sprintf("station %d, %s: %s %v", n, place(s, e.Bearing), record.Reading(s.Set.Job.Dial, u, e.Reading), u)}
	l.Gauge = gaugedBy(e.Gauge, u)
	if e.At != nil {
		at := record.PlaceOf(geom.Point(*e.At), u)
		l.Value, l.Point = record.Number(nan), at
		l.text = fmt.Sprintf("point %d: %s", n, at.Text(places, u))
	}
	if e.Corrected {
		l.text += ", as proposed"
	}
	if n < 1 || n > s.Sweep.N {
		return l // a damaged journal: there is no such station
	}
	st := &s.Sweep.Stations[n-1]
	if st.OffBy.Known() {
		l.text += fmt.Sprintf(", off by %s %v", geom.FormatSigned(u.From(st.OffBy.V), places), u)
	}
	l.text += GaugedWords(e.Gauge, u)
	if !st.Surprise {
		return l
	}
	l.Surprise = true
	why := string(st.Because)
	l.Because = &why
	l.text += ": " + record.SlipWords(st.Because)
	if !math.IsNaN(st.WouldBe) {
		would := record.Number(u.From(st.WouldBe))
		l.WouldBe = &would
		l.text += fmt.Sprintf(" then it would be %s %v", geom.FormatFixed(float64(would), places), u)
	}
	return l
}
