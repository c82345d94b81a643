package lines

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// UndoneLine says what was taken back.
type UndoneLine struct {
	Say   string `json:"say"`
	Trial int    `json:"trial"`
	Entry string `json:"entry"`
	// before is the state in which it was taken back. Its words are found when they are asked for: here they would be in
	// the making of the rows that they are looked up in.
	before *session.State
	unit   geom.Unit
}

// Text: see [Line].
func (l UndoneLine) Text() string {
	return "taken back: " + UndoWords(l.before, l.unit) + staysWords(l.before)
}

// staysWords say of a wind that is taken back that its slide is not, where no needle and no readout would show that it has been
// wound already: whoever followed what is told again would wind it twice. Of a step they say that what the hand did stays done.
// Empty for all else.
func staysWords(s *session.State) string {
	e, then, ok := s.Undoes()
	if !ok {
		return ""
	}
	switch e := e.(type) {
	case session.Wound:
		if blind(&then) {
			return "; only the record goes back, the slide stays as wound: confirm again, do not wind again"
		}
	case session.Worked:
		if !e.Skipped && e.Value == nil && e.Seen == nil {
			return "; only the record goes back: what the hand has done stays done"
		}
	}
	return ""
}

// blind reports whether a wind is told that nothing at the slide would show to be wound already: it begins by setting a collar, or a
// readout, to 0.
func blind(s *session.State) bool {
	p := s.Prompt()
	return s.Told != nil && p.Waits == session.ForWind &&
		(p.Wind.How == session.ByCollar && !p.Wind.Reads || p.Wind.How == session.ByCoordinate && (!p.Wind.Slide.Readout || p.Wind.Zero))
}

// ResumedWords warn whoever comes back to a wind that may have been wound before the break; empty where a needle or a readout shows it.
func ResumedWords(s *session.State) string {
	if !blind(s) {
		return ""
	}
	return "was this wind made before the break? Then confirm it, and do not wind again"
}

// Rewound asks first of all, before anything is told of a wind, whether the hand has wound it already: it was confirmed and taken back,
// and nothing at the slide shows it. The question, and what is done where it is so; nil where there is nothing to ask.
func Rewound(s *session.State, u geom.Unit) []string {
	switch was := s.TakenBack; {
	case was == nil || !blind(s) || s.Told.Wind.Slide != was.Wind.Slide:
		return nil
	case s.WoundAlready():
		return []string{"already wound?", "confirm, turn nothing"}
	default: // another wind of the same slide: what was taken back is in the way
		return []string{"already wound " + plus(was.Wind.Travel, u) + "?", "wind that back first"}
	}
}

// RewoundWords is the same in the line of the wind, with why; empty where that is not so.
func RewoundWords(s *session.State, u geom.Unit) string {
	ask := Rewound(s, u)
	if ask == nil {
		return ""
	}
	return fmt.Sprintf("a wind of this slide by %s was confirmed and taken back, and only the record went back: %s",
		plus(s.TakenBack.Wind.Travel, u), strings.Join(ask, " "))
}

var undone = told[session.Undone]{status: figures, lines: func(st session.Step, _ session.Undone, u geom.Unit) []Line {
	l := UndoneLine{Say: "undone", Trial: st.After.Trial, before: &st.Before, unit: u}
	if e := st.Before.LastEntry(); e != nil { // a damaged journal may take back what is not there
		l.Entry = session.Kind(e)
	}
	return []Line{l}
}}.row()

// UndoWords say what undo would take back, with its place and its figures in unit u; empty where there is nothing. A minus in
// them is one of a figure.
func UndoWords(s *session.State, u geom.Unit) string {
	e, before, ok := s.Undoes()
	if !ok {
		return ""
	}
	return tellings[session.Kind(e)].undo(&before, e, u)
}

// undoTook names a reading, or a point, by its station.
func undoTook(s *session.State, e session.Took, u geom.Unit) string {
	n := e.Again
	if n == 0 {
		n = s.Sweep.N + 1
	}
	if e.At != nil {
		return fmt.Sprintf("point %d, %s", n, record.PlaceWords(s.Set.Job.Dial, geom.Point(*e.At), u))
	}
	what := fmt.Sprintf("station %d", n)
	if e.Again == 0 && s.Sweep.Closing {
		what = "the closing reading"
	}
	return fmt.Sprintf("%s, %s %v", what, record.Reading(s.Set.Job.Dial, u, e.Reading), u)
}

func undoSkipped(s *session.State, e session.Skipped, _ geom.Unit) string {
	n := e.Again
	if n == 0 {
		n = s.Sweep.N + 1
	}
	if e.Off != session.NotOff {
		return fmt.Sprintf("station %d, off the dial: %s", n, e.Off.Words())
	}
	return fmt.Sprintf("station %d, left out", n)
}

func undoLoaded(_ *session.State, e session.Loaded, _ geom.Unit) string {
	return "the backlash of " + SlideName(e.Slide) + " taken up"
}

// undoWound names a wind by its slide and travel, or a tap, and the step that it belongs to.
func undoWound(s *session.State, e session.Wound, u geom.Unit) string {
	t := "the wind of " + SlideName(e.Slide)
	if w := s.Told; w != nil && w.Tap != nil {
		t = "the tap"
	}
	if s.Told != nil {
		t += ", " + plus(s.Told.Wind.Travel, u)
	}
	if n, ok := choreOf(s, u); ok {
		t = n + ": " + t
	}
	return t
}

// undoWorked names a step by its number and what it is, with what was measured.
func undoWorked(s *session.State, e session.Worked, u geom.Unit) string {
	t, ok := choreOf(s, u)
	if !ok {
		t = choreName(s, e.Step, u)
	}
	switch {
	case e.Skipped:
		t += ", left out"
	case e.Seen != nil:
		t += SeenWords(e.Seen)
	case e.Value != nil && e.Step == session.LockHead:
		t += ", " + record.Reading(s.Set.Job.Dial, u, *e.Value) + " " + u.String()
	case e.Value != nil && e.Step == session.RoughIn:
		t += ", swing radius " + long(*e.Value, u)
	case e.Value != nil:
		t += ", radius " + long(*e.Value, u)
	}
	return t
}

// choreOf is the step of the order at the machine that is due in a state.
func choreOf(s *session.State, u geom.Unit) (words string, ok bool) {
	all, done := s.Chores()
	if n := len(done); n < len(all) {
		return fmt.Sprintf("step %d, %s", n+1, choreName(s, all[n], u)), true
	}
	return "", false
}

// undoKept names the reading that was to stand, or the drift.
func undoKept(s *session.State, e session.Kept, u geom.Unit) string {
	if e.Station < 1 || e.Station > s.Sweep.N {
		return session.UndoWords(e)
	}
	return fmt.Sprintf("the word that station %d stands, %s %v", e.Station,
		record.Reading(s.Set.Job.Dial, u, s.Sweep.Stations[e.Station-1].Reading), u)
}

// long is a length with its unit, and plus one with its sign.
func long(mm float64, u geom.Unit) string {
	return fmt.Sprintf("%s %v", geom.FormatFixed(u.From(mm), geom.Places(0, u)), u)
}

func plus(mm float64, u geom.Unit) string {
	return fmt.Sprintf("%s %v", geom.FormatSigned(u.From(mm), geom.Places(0, u)), u)
}
