package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// LookLine asks for what the needle shows at a place between two winds.
	LookLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Reading int           `json:"reading"` // from 1
		Bearing record.Number `json:"bearing"`
		Table   record.Number `json:"table"`
		Collar  record.Number `json:"collar"`
		text    string
	}
	// LookedLine repeats what it shows, null where it was left out. Used is false of what is not gone by: nothing was read, or what is
	// farther from what was to be expected than chance allows.
	LookedLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Reading int           `json:"reading"`
		Bearing record.Number `json:"bearing"`
		Value   record.Number `json:"value"`
		Off     session.Off   `json:"off"`
		Used    bool          `json:"used"`
		// Anew says that the sweep begins anew: what was seen contradicts what the winds were told to do. Slide is the one whose wind has
		// likeliest gone astray, left out where the needle does not say.
		Anew  bool      `json:"anew,omitempty"`
		Slide string    `json:"slide,omitempty"`
		Gauge *GaugedBy `json:"gauge,omitempty"`
		text  string
	}
)

// Text: see [Line].
func (l LookLine) Text() string { return l.text }

// Text: see [Line].
func (l LookedLine) Text() string { return l.text }

var looked = told[session.Looked]{status: figures,
	undo: func(s *session.State, e session.Looked, u geom.Unit) string { return lookedWords(s, e, u) },
	lines: func(st session.Step, e session.Looked, u geom.Unit) []Line {
		l := LookedLine{Say: "looked", Trial: st.After.Trial, Reading: len(st.After.Looked), Bearing: record.Degrees360(e.Bearing),
			Value: record.Number(nan), Off: e.Off, Gauge: gaugedBy(e.Gauge, u),
			text: lookedWords(&st.Before, e, u) + GaugedWords(e.Gauge, u)}
		if !e.Skipped {
			l.Value = record.Number(u.From(e.Reading))
			l.Used = !st.Before.Strange(e)
		}
		if l.Anew = st.Before.WentAstray(e); l.Anew {
			l.Trial, l.Reading = st.Before.Trial, len(st.Before.Looked)+1
			w, _ := st.Before.Likeliest(e)
			l.Slide = w.Slide
		}
		return []Line{l}
	}}.row()

// lookedWords say what the needle showed at a place between two winds; s is the state before.
func lookedWords(s *session.State, e session.Looked, u geom.Unit) string {
	at := "between the winds, at " + place(s, e.Bearing) + ": "
	switch {
	case e.Off != session.NotOff:
		return at + "needle off the dial: " + e.Off.Words() + astrayWords(s, e, u)
	case e.Skipped:
		return at + "left out"
	}
	return fmt.Sprintf("%s%s %v", at, record.Reading(s.Set.Job.Dial, u, e.Reading), u) + astrayWords(s, e, u)
}

// astrayWords say what a look shows of the winds before it that did not do what was told; empty where it shows nothing of the kind.
func astrayWords(s *session.State, e session.Looked, u geom.Unit) string {
	if !s.WentAstray(e) {
		return ""
	}
	x := s.Believed.Expect(e.Bearing)
	t := fmt.Sprintf(", and it was to show about %s %v: a wind did not do what was told, so nothing more is wound by them, and the sweep "+
		"begins anew", record.Reading(s.Set.Job.Dial, u, x.V), u)
	if w, ok := s.Likeliest(e); ok {
		sl, _ := s.Set.Machine.Slide(w.Slide)
		t += fmt.Sprintf("; likeliest the %s slide's, %s %v by its collar: was a turn (%s %v) miscounted?", SlideName(w.Slide),
			geom.FormatSigned(u.From(w.Travel), geom.Places(0, u)), u, geom.FormatFixed(u.From(sl.TravelPerTurn), geom.Places(0, u)), u)
	}
	return t + "; mistyped, undo takes it back"
}

// lookLine asks for what the needle shows.
func lookLine(s *session.State, r session.ReadingAsked) Line {
	do := "swing to "
	if s.SetUp().Under().Table {
		do = "turn the table until it is met at "
	}
	return LookLine{Say: "look", Trial: s.Trial, Reading: r.Station, Bearing: record.Degrees360(r.Bearing), Table: table(s, r.Position),
		Collar: record.Number(r.Ring), text: "between the winds, wind nothing: " + do + place(s, r.Bearing) + ", hand off, read the dial"}
}
