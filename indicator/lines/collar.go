package lines

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

type (
	// ReadCollarLine asks what a collar shows that keeps its figures, before a wind by it is told.
	ReadCollarLine struct {
		Say       string        `json:"say"`
		Trial     int           `json:"trial"`
		Slide     string        `json:"slide"`
		Divisions record.Number `json:"divisions"`
	}
	// CollarLine repeats what a collar shows.
	CollarLine struct {
		Say    string        `json:"say"`
		Trial  int           `json:"trial"`
		Slide  string        `json:"slide"`
		Figure record.Number `json:"figure"`
	}
)

// Text: see [Line].
func (l ReadCollarLine) Text() string {
	return fmt.Sprintf("the %s slide is wound next, and its collar keeps its figures: type what it shows now, in divisions", SlideName(l.Slide))
}

// Text: see [Line].
func (l CollarLine) Text() string {
	return fmt.Sprintf("%s slide: its collar shows %s div", SlideName(l.Slide), record.Divisions(float64(l.Figure)))
}

var collarRead = told[session.Read]{status: asText, undo: func(_ *session.State, e session.Read, _ geom.Unit) string {
	return "what the collar of " + SlideName(e.Slide) + " shows, " + record.Divisions(e.Figure) + " div"
}, lines: func(st session.Step, e session.Read, _ geom.Unit) []Line {
	return []Line{CollarLine{"collar", st.After.Trial, e.Slide, record.Number(e.Figure)}}
}}.row()

// Figures are a collar's, from which and to which the wind goes that is told, in tenths of a division, and the movements between
// them in words; ok is false where nobody knows what it shows, and the wind begins by setting it to 0.
func Figures(s *session.State, w *session.WindAsked) (from, to string, moves []string, ok bool) {
	at, ok := s.CollarAt(w.Slide.Name)
	if !ok || w.How != session.ByCollar {
		return "", "", nil, false
	}
	from = figure(w.Slide, at)
	for i, m := range w.Moves {
		past := ""
		if w.Slide.PastZero(at, m) {
			past = " past 0"
		}
		at = w.Slide.Counts(at, m)
		to = figure(w.Slide, at)
		moves = append(moves, fmt.Sprintf("%s %v%s, %s, to %s", record.WindWords(i, len(w.Moves)), m.Turn, past,
			record.Amount(w.Slide.Shown(m)), to))
	}
	return from, to, moves, true
}

// Stops are the collar's figures at which the movements of such a wind stop, one after the other.
func Stops(s *session.State, w *session.WindAsked) (out []string) {
	at, _ := s.CollarAt(w.Slide.Name)
	for _, m := range w.Moves {
		at = w.Slide.Counts(at, m)
		out = append(out, figure(w.Slide, at))
	}
	return out
}

// figured reports whether a wind goes from figure to figure.
func figured(s *session.State, w *session.WindAsked) bool {
	_, _, _, ok := Figures(s, w)
	return ok
}

func figure(sl slide.Slide, at float64) string {
	return record.Divisions(sl.ShownCollar(sl.Collar(at)))
}

// onFigures tells a wind from figure to figure.
func (l WindLine) onFigures() string {
	return fmt.Sprintf("%s%sstart at %s on its collar; %s, %s; %s%s", l.begins(), l.Turn.first(), l.from, record.FacingHandle,
		strings.Join(l.moves, ", then "), l.then("then done"), l.warned())
}
