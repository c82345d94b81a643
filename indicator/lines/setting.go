package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// AcceptedLine ends a setting.
type AcceptedLine struct {
	Say    string `json:"say"`
	Trial  int    `json:"trial"`
	Trials int    `json:"trials"`
}

// Text: see [Line].
func (l AcceptedLine) Text() string { return fmt.Sprintf("accepted in trial %d", l.Trial) }

// PlannedLine says that a round is swept with another number of stations than the job states.
type PlannedLine struct {
	Say      string `json:"say"`
	Stated   int    `json:"stated"`
	Stations int    `json:"stations"`
}

// Text: see [Line].
func (l PlannedLine) Text() string {
	if l.Stations > l.Stated {
		return fmt.Sprintf("%d stations are raised to %d: on a whole round fewer take an oval or three lobes of the reference for a "+
			"centre error", l.Stated, l.Stations)
	}
	return fmt.Sprintf("%d stations are lowered to %d: further ones are asked for while it is undecided", l.Stated, l.Stations)
}

// planned says how many stations are swept where the job states another number; ok is false where it does not.
func planned(s *session.State) (l PlannedLine, ok bool) {
	l = PlannedLine{"planned", s.Set.Job.Sweep.Stations, s.Plan().Stations}
	return l, l.Stated != l.Stations
}

// FormedLine says what sweeps of earlier settings have shown of the reference: up to what amplitude it may have two and three lobes;
// null where none has.
type FormedLine struct {
	Say       string        `json:"say"`
	TwoLobe   record.Number `json:"two_lobe"`
	ThreeLobe record.Number `json:"three_lobe"`
	unit      geom.Unit
}

// Text: see [Line].
func (l FormedLine) Text() string {
	t := "sweeps before have shown the reference's form:"
	for i, lobes := range []struct {
		name string
		most record.Number
	}{{"oval", l.TwoLobe}, {"three lobes", l.ThreeLobe}} {
		if i > 0 {
			t += ","
		}
		if lobes.most.Unknown() {
			t += " " + lobes.name + " not seen"
			continue
		}
		t += fmt.Sprintf(" %s of %s %v at most", lobes.name, geom.FormatFixed(float64(lobes.most), geom.Places(0, l.unit)), l.unit)
	}
	return t
}

// formed says what has been shown of the reference of a setting that opens.
func formed(s *session.State, u geom.Unit) (l FormedLine, ok bool) {
	f, ok := s.Formed()
	n := func(mm float64) record.Number {
		if mm == 0 {
			return record.Number(nan)
		}
		return record.Number(u.From(mm))
	}
	return FormedLine{"formed", n(f.Two), n(f.Three), u}, ok
}

// NotedLine repeats a note.
type NotedLine struct {
	Say  string `json:"say"`
	Note string `json:"note"`
	// About is the event that it is about, where it was written later.
	About int `json:"about,omitempty"`
}

// Text: see [Line].
func (l NotedLine) Text() string {
	if l.About > 0 {
		return fmt.Sprintf("noted of event %d: %s", l.About, l.Note)
	}
	return "noted: " + l.Note
}

var opened = told[session.Opened]{
	lines: func(st session.Step, _ session.Opened, u geom.Unit) []Line {
		s := &st.After
		var out []Line
		if l, other := planned(s); other {
			out = append(out, l)
		}
		if l, ok := formed(s, u); ok {
			out = append(out, l)
		}
		for _, l := range record.Taught(s.Lessons, u) {
			out = append(out, l)
		}
		if l := Start(s, u); l != nil {
			out = append(out, l)
		}
		if l := Feedback(s, u); l != nil {
			out = append(out, l)
		}
		return out
	},
	happened: func(e session.Opened) string {
		by := ""
		if e.By != "" {
			by = ", by " + e.By
		}
		return "a setting is opened on " + e.Machine.Name + by
	},
}.row()

var settledDown = told[session.Settled]{happened: func(e session.Settled) string {
	return fmt.Sprintf("nothing is left to wind: radius %v, centre %v", e.Radius, e.Centre)
}}.row()

var accepted = told[session.Accepted]{lines: func(st session.Step, _ session.Accepted, u geom.Unit) []Line {
	said := append([]Line{AcceptedLine{Say: "accepted", Trial: st.After.Trial, Trials: st.After.Trial}}, fixture(&st.After, u)...)
	return append(said, trialCut(&st.After, u)...)
}}.row()

var noted = told[session.Noted]{status: asText, lines: func(_ session.Step, e session.Noted, _ geom.Unit) []Line {
	return []Line{NotedLine{Say: "noted", Note: e.Text, About: e.About}}
}}.row()
