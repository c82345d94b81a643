package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// BezelLine says that the dial was set anew.
type BezelLine struct {
	Say    string        `json:"say"`
	Trial  int           `json:"trial"`
	Showed record.Number `json:"showed"`
	Shows  record.Number `json:"shows"`
	text   string
}

// Text: see [Line].
func (l BezelLine) Text() string { return l.text }

var bezelSet = told[session.BezelSet]{status: asText, undo: func(s *session.State, e session.BezelSet, u geom.Unit) string {
	d := s.Set.Job.Dial
	return fmt.Sprintf("the new setting of the dial, %s to %s %v", record.Reading(d, u, e.Showed), record.Reading(d, u, e.Shows), u)
}, lines: func(st session.Step, e session.BezelSet, u geom.Unit) []Line {
	d := st.After.Set.Job.Dial
	return []Line{BezelLine{"bezel", st.After.Trial, record.Number(u.From(e.Showed)), record.Number(u.From(e.Shows)),
		fmt.Sprintf("the dial is set anew: what showed %s %v shows %s now", record.Reading(d, u, e.Showed), u,
			record.Reading(d, u, e.Shows))}}
}}.row()
