package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

type (
	// WhichLine asks what a number was that was typed at a parked wind: the reading of the station that would have been next, or
	// where the slide stopped, which was to be Goal.
	WhichLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Value   record.Number `json:"value"`
		Station int           `json:"station"`
		Bearing record.Number `json:"bearing"`
		Slide   string        `json:"slide"`
		Goal    record.Number `json:"goal"`
		text    string
	}
	// Early says that a sweep was closed by itself after fewer readings than planned.
	Early struct {
		Taken int         `json:"taken"`
		Of    int         `json:"of"`
		Why   session.Why `json:"why"`
		words string
	}
)

// Text: see [Line].
func (l WhichLine) Text() string { return l.text }

var wondered = told[session.Wondered]{happened: func(session.Wondered) string {
	return "the number may be the next station's reading"
}, undo: func(s *session.State, e session.Wondered, u geom.Unit) string {
	return fmt.Sprintf("the number %s %v", record.Reading(s.Set.Job.Dial, u, e.Reading), u)
}}.row()

var reopened = told[session.Reopened]{status: figures, undo: func(s *session.State, e session.Reopened, u geom.Unit) string {
	return fmt.Sprintf("the word that it was a station, %s %v", record.Reading(s.Set.Job.Dial, u, e.Reading), u)
}, lines: func(st session.Step, e session.Reopened, u geom.Unit) []Line {
	return []Line{reading(&st.After, session.Took{Bearing: e.Bearing, Reading: e.Reading, Gauge: e.Gauge}, u)}
}}.row()

// which asks what a number was.
func which(s *session.State, q *session.Wondered, sl slide.Slide, u geom.Unit) Line {
	goal := s.Told.Park.Goal
	show := func(mm float64) string { return record.Reading(s.Set.Job.Dial, u, mm) }
	return WhichLine{"which", s.Trial, record.Number(u.From(q.Reading)), q.Station, record.Degrees360(q.Bearing), sl.Name,
		record.Number(u.From(goal)),
		fmt.Sprintf("%s %v: is that station %d of the sweep (%s), or where %s stopped, which is to be %s %v? station, or stopped; or type "+
			"the parked reading anew", show(q.Reading), u, q.Station, place(s, q.Bearing), SlideName(sl.Name), show(goal), u)}
}

// early is why a sweep was closed before its planned stations were in; nil of any other.
func early(s *session.State, u geom.Unit) *Early {
	if !s.Early() {
		return nil
	}
	e := &Early{Taken: s.Sweep.Entries(), Of: s.Plan().Stations, Why: s.Sweep.Closed}
	e.words = fmt.Sprintf("%d of %d stations were enough: nothing is undecided", e.Taken, e.Of)
	f, err := s.Fit()
	if err != nil || e.Why != session.ByWind {
		return e
	}
	v, what, off := s.Judge(&f), "the centre", f.Offset()
	if v.Centre != indicator.Outside && v.Radius == indicator.Outside {
		what, off = "the swing radius", f.Swing()
		if off.V -= s.Target().SwingRadius; off.V < 0 {
			off.V = -off.V
		}
	}
	e.words = fmt.Sprintf("%d of %d stations were enough: %s is %s off, winding comes first", e.Taken, e.Of, what,
		record.Measured(u, off))
	return e
}

// EarlyWords say why a sweep was closed before its planned stations were in; empty of any other, and once something is wound.
func EarlyWords(s *session.State, u geom.Unit) string {
	if e := early(s, u); e != nil {
		return e.words
	}
	return ""
}
