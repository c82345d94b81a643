package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// BumpedLine says that a look begins whether anything has moved since the setting was accepted, and by how many readings.
	BumpedLine struct {
		Say      string `json:"say"`
		Readings int    `json:"readings"`
		// Untouched says that the indicator is taken to stand as it stood in the sweep.
		Untouched bool `json:"untouched"`
		text      string
	}
	// CompareLine asks for a station of the accepted sweep once more.
	CompareLine struct {
		Say     string        `json:"say"`
		Reading int           `json:"reading"` // from 1
		Of      int           `json:"of"`
		Bearing record.Number `json:"bearing"`
		Table   record.Number `json:"table"`
		Collar  record.Number `json:"collar"`
		text    string
	}
	// ComparedLine repeats what such a station reads, null where it was left out.
	ComparedLine struct {
		Say     string        `json:"say"`
		Reading int           `json:"reading"`
		Bearing record.Number `json:"bearing"`
		Value   record.Number `json:"value"`
		Off     session.Off   `json:"off"`
		Gauge   *GaugedBy     `json:"gauge,omitempty"`
		text    string
	}
	// MovedLine says how far the centre has gone since the setting was accepted, and the verdict on where it stands now. By and Most
	// are null where the readings cannot tell; Most is what it has not moved by more than. Asks: again or keep answers.
	MovedLine struct {
		Say      string            `json:"say"`
		Readings int               `json:"readings"`
		By       *record.Value     `json:"by"`
		Bearing  record.Number     `json:"bearing"`
		Shown    bool              `json:"shown"`
		Most     record.Number     `json:"most"`
		Centre   indicator.Verdict `json:"centre"`
		Asks     bool              `json:"asks"`
		text     string
	}
	// StayedLine says that it is gone on with as it stands.
	StayedLine struct {
		Say string `json:"say"`
	}
)

// Text: see [Line].
func (l BumpedLine) Text() string { return l.text }

// Text: see [Line].
func (l CompareLine) Text() string { return l.text }

// Text: see [Line].
func (l ComparedLine) Text() string { return l.text }

// Text: see [Line].
func (l MovedLine) Text() string { return l.text }

// Text: see [Line].
func (l StayedLine) Text() string { return "gone on with as it stands" }

var bumped = told[session.Bumped]{status: asText, lines: func(st session.Step, e session.Bumped, _ geom.Unit) []Line {
	n := advice.FewestAgain(e.Kept)
	t := fmt.Sprintf("has anything moved since it was accepted? %d readings at stations of its sweep; wind nothing", n)
	if !e.Kept {
		t += "; the indicator at the same height, its tip at the turning point"
	}
	if !st.After.Set.Steps {
		t += "; spindle off and isolated before a hand or an indicator goes near it"
	}
	return []Line{BumpedLine{"bumped", n, e.Kept, t}}
}}.row()

var reread = told[session.Reread]{status: figures, undo: rereadWords,
	lines: func(st session.Step, e session.Reread, u geom.Unit) []Line {
		s := &st.Before
		if e.Station < 1 || e.Station > s.Sweep.N || st.After.Bump == nil {
			return nil // a damaged journal: there is no such station
		}
		l := ComparedLine{Say: "compared", Reading: len(st.After.Bump.Again), Bearing: record.Degrees360(s.Sweep.Stations[e.Station-1].Bearing),
			Value: record.Number(nan), Off: e.Off, Gauge: gaugedBy(e.Gauge, u), text: rereadWords(s, e, u) + GaugedWords(e.Gauge, u)}
		if !e.Skipped {
			l.Value = record.Number(u.From(e.Reading))
		}
		return []Line{l}
	}}.row()

// rereadWords say what a station reads, read once more.
func rereadWords(s *session.State, e session.Reread, u geom.Unit) string {
	if e.Station < 1 || e.Station > s.Sweep.N {
		return ""
	}
	at := place(s, s.Sweep.Stations[e.Station-1].Bearing)
	switch {
	case e.Off != session.NotOff:
		return at + " again: needle off the dial: " + e.Off.Words()
	case e.Skipped:
		return at + " again: left out"
	}
	return fmt.Sprintf("%s again: %s %v", at, record.Reading(s.Set.Job.Dial, u, e.Reading), u)
}

var moved = told[session.Moved]{lines: func(st session.Step, e session.Moved, u geom.Unit) []Line {
	if e.Asks {
		return nil // the question says it
	}
	return []Line{movedLine(&st.After, &e, u)}
}, happened: func(e session.Moved) string {
	if e.Shown {
		return "something has moved since it was accepted"
	}
	return ""
}}.row()

var stayed = told[session.Stayed]{status: asText, lines: func(session.Step, session.Stayed, geom.Unit) []Line {
	return []Line{StayedLine{"stayed"}}
}}.row()

// compareLine asks for a station once more.
func compareLine(s *session.State, r session.ReadingAsked) Line {
	do := "swing to "
	if s.SetUp().Under().Table {
		do = "turn the table until it is met at "
	}
	return CompareLine{Say: "compare", Reading: r.Station, Of: r.Of, Bearing: record.Degrees360(r.Bearing), Table: table(s, r.Position),
		Collar: record.Number(r.Ring),
		text:   fmt.Sprintf("has it moved? reading %d of %d: %s%s", r.Station, r.Of, do, place(s, r.Bearing))}
}

// movedLine says what the readings tell.
func movedLine(s *session.State, e *session.Moved, u geom.Unit) MovedLine {
	l := MovedLine{Say: "moved", Readings: e.Readings, Bearing: record.Number(nan), Shown: e.Shown, Most: record.Number(nan),
		Centre: e.Centre, Asks: e.Asks}
	if by := (geom.Point{X: e.X, Y: e.Y}); !e.Failed {
		l.By, l.Bearing = record.ValueOf(u, indicator.Value{V: by.Norm(), U: e.U}), record.Degrees360(by.Bearing())
		l.Most = record.Number(u.From(by.Norm() + e.U))
	}
	for i, said := range MovedWords(s, e, u) {
		if i > 0 {
			l.text += "; "
		}
		l.text += said
	}
	if e.Asks {
		l.text += "; again sweeps anew, and what has moved is wound back; keep goes on as it stands"
	}
	return l
}

// MovedWords say what the readings tell of a move since the setting was accepted: what has moved, where the centre stands by that, and
// what they cannot see.
func MovedWords(s *session.State, e *session.Moved, u geom.Unit) (out []string) {
	by := geom.Point{X: e.X, Y: e.Y}
	most := by.Norm() + e.U
	places := geom.Places(u.From(e.U), u)
	switch {
	case e.Failed:
		return []string{fmt.Sprintf("%d readings cannot tell whether anything has moved", e.Readings)}
	case e.Shown:
		out = append(out, fmt.Sprintf("the centre has moved %s towards %s since it was accepted",
			record.Measured(u, indicator.Value{V: by.Norm(), U: e.U}), place(s, by.Bearing())))
	default:
		scale := math.Pow(10, float64(places)) // a bound is never told smaller than it is
		out = append(out, fmt.Sprintf("the centre has not moved by more than %s %v since it was accepted",
			geom.FormatFixed(math.Ceil(u.From(most)*scale-1e-9)/scale, places), u))
	}
	lies := "it now lies " + e.Centre.Words()
	if e.Centre == indicator.Undecided {
		lies = "whether it still lies inside cannot be decided"
	}
	out = append(out, fmt.Sprintf("by %d readings %s (centre within %s %v)", e.Readings, lies,
		geom.FormatFixed(u.From(s.Set.Job.Target.CentreTolerance), geom.Places(0, u)), u))
	switch {
	case s.SetUp().Under().Table:
		out = append(out, "not seen by this: how far the table itself stands from the spindle, and so the swing radius")
	case s.Set.Job.Target.WantsSwing():
		out = append(out, "not seen by this: the swing radius")
	}
	return out
}

// MovedFigure is how far it has moved, short enough for large letters; "?" where nobody knows.
func MovedFigure(e *session.Moved, u geom.Unit) string {
	if e.Failed {
		return "?"
	}
	return geom.FormatFixed(u.From(math.Hypot(e.X, e.Y)), geom.Places(u.From(e.U), u))
}
