package lines

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// LimitLine says how right somebody has stated a figure to be. Key is where files state it; Was is null where nobody had.
type LimitLine struct {
	Say   string        `json:"say"`
	Trial int           `json:"trial"`
	Key   string        `json:"key"`
	Was   record.Number `json:"was"`
	Limit record.Number `json:"limit"`
	// Write is what keeps it for the next setting; empty where no file says the figure.
	Write string `json:"write"`
	words string
	unit  geom.Unit
}

var limitStated = told[session.LimitStated]{status: asText, undo: func(_ *session.State, e session.LimitStated, u geom.Unit) string {
	f, _ := indicator.FigureOf(e.Figure)
	return fmt.Sprintf("what was stated of the %s, %s %v", f.Words, geom.FormatFixed(u.From(e.Limit), geom.Places(u.From(e.Limit), u)), u)
}, lines: func(st session.Step, e session.LimitStated, u geom.Unit) []Line {
	f, _ := indicator.FigureOf(e.Figure)
	key := f.Key
	if !strings.Contains(key, ".") {
		key = "setup." + key
	}
	job := st.After.Set.Job.Unit // which the file is in
	is := strconv.FormatFloat(math.Round(job.From(e.Limit)*1e9)/1e9, 'f', -1, 64)
	l := LimitLine{Say: "stated", Trial: st.After.Trial, Key: key, Was: record.Number(nan), Limit: record.Number(u.From(e.Limit)),
		Write: writeWords(&st.After, key, is), words: f.Words, unit: u}
	if e.Figure == indicator.OfHeld && st.After.Hold != nil {
		l.Write = "" // no file holds it
	}
	if was, known := st.Before.LimitOf(e.Figure); known {
		l.Was = record.Number(u.From(was))
	}
	return []Line{l}
}}.row()

// Text: see [Line].
func (l LimitLine) Text() string {
	was := "nobody had said"
	if !l.Was.Unknown() {
		was = "it was " + limitText(float64(l.Was), l.unit)
	}
	is := "right within " + limitText(float64(l.Limit), l.unit)
	if l.Limit == 0 {
		is = "exact"
	}
	text := fmt.Sprintf("stated: the %s is %s (%s)", l.words, is, was)
	if l.Write != "" {
		text += "; to keep it, write " + l.Write
	}
	return text
}

// limitText prints a limit that is in unit u.
func limitText(v float64, u geom.Unit) string {
	return fmt.Sprintf("%s %v", geom.FormatFixed(v, geom.Places(0, u)), u)
}

// askLimit asks how right a figure is.
func askLimit(s *session.State, u geom.Unit, figure string) string {
	f, ok := indicator.FigureOf(figure)
	if !ok {
		return fmt.Sprintf("figure and how far it may be off (%v), like reach 0.02: ", u)
	}
	return fmt.Sprintf("the %s may be off by, plus or minus (%v): ", f.Words, u)
}

// pickWords are what a list calls a pick of a row.
var pickWords = map[string]func(s *session.State, u geom.Unit, pick string) string{
	"sense": func(_ *session.State, _ geom.Unit, pick string) string {
		if pick == session.Tip {
			return "check the tip's sign"
		}
		return fmt.Sprintf("check the sign of the %s slide", SlideName(pick))
	},
	"limit": func(s *session.State, u geom.Unit, pick string) string {
		f, _ := indicator.FigureOf(pick)
		if mm, known := s.LimitOf(pick); known {
			return fmt.Sprintf("how right the %s is (now %s)", f.Words, limitText(u.From(mm), u))
		}
		return fmt.Sprintf("how right the %s is", f.Words)
	},
}

// Pick is what a list calls one of what may stand in front of a row's figures.
func Pick(r *session.CommandRow, s *session.State, u geom.Unit, pick string) string {
	if words, ok := pickWords[r.Word]; ok {
		return words(s, u, pick)
	}
	return r.Label + ": " + SlideName(pick)
}

// Listed is what a list calls a row at this moment, where its figure says more than its name; empty for any other.
func Listed(r *session.CommandRow, s *session.State, u geom.Unit) string {
	switch {
	case r.TakesBack:
		return r.Label + ": " + UndoWords(s, u)
	case r != commandRow("correct") || s.Doubt == nil:
		return ""
	case s.Doubt.WouldBeAt != nil:
		return "take " + record.PlaceWords(s.Set.Job.Dial, geom.Point(*s.Doubt.WouldBeAt), u) + " in its place"
	case s.Doubt.WouldBe != nil:
		return fmt.Sprintf("take %s %v in its place", record.Reading(s.Set.Job.Dial, u, *s.Doubt.WouldBe), u)
	}
	return ""
}
