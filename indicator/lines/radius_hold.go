package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// HeldLine says that a radius is held, or (Radius null) no longer.
type HeldLine struct {
	Say    string        `json:"say"`
	Trial  int           `json:"trial"`
	Radius record.Number `json:"radius"`
	Limit  record.Number `json:"limit"`
	unit   geom.Unit
}

// Text: see [Line].
func (l HeldLine) Text() string {
	if l.Radius.Unknown() {
		return "the swing radius is found from the readings again"
	}
	return fmt.Sprintf("the swing radius is held at %s %s", record.Value{Value: l.Radius, U95: l.Limit}.Text(l.unit),
		across(l.unit.MM(float64(l.Radius)), l.unit))
}

var held = told[session.Held]{status: asText, undo: func(_ *session.State, e session.Held, u geom.Unit) string {
	return "the held radius, " + long(e.Radius, u)
}, lines: func(st session.Step, e session.Held, u geom.Unit) []Line {
	return []Line{HeldLine{"held", st.After.Trial, record.Number(u.From(e.Radius)), record.Number(u.From(e.Limit)), u}}
}}.row()

var released = told[session.Released]{status: asText, lines: func(st session.Step, _ session.Released, u geom.Unit) []Line {
	return []Line{HeldLine{"released", st.After.Trial, record.Number(nan), record.Number(nan), u}}
}}.row()
