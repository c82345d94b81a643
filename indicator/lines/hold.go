package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// HeldLine says that a radius is held, or (Radius null) no longer.
type HeldLine struct {
	Say    string `json:"say"`
	Trial  int    `json:"trial"`
	Radius Number `json:"radius"`
	Limit  Number `json:"limit"`
	unit   geom.Unit
}

// Text: see [Line].
func (l HeldLine) Text() string {
	if isNaN(l.Radius) {
		return "the swing radius is found from the readings again"
	}
	return fmt.Sprintf("the swing radius is held at %s", Fit{Unit: l.unit}.measured(Value{l.Radius, l.Limit}))
}

var held = told[session.Held]{status: asText, lines: func(st session.Step, e session.Held, u geom.Unit) []Line {
	return []Line{HeldLine{"held", st.After.Trial, Number(u.From(e.Radius)), Number(u.From(e.Limit)), u}}
}}.row()

var released = told[session.Released]{status: asText, lines: func(st session.Step, _ session.Released, u geom.Unit) []Line {
	return []Line{HeldLine{"released", st.After.Trial, Number(nan), Number(nan), u}}
}}.row()
