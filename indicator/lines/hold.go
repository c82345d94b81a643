package lines

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

var held = told[session.Held]{status: asText, lines: func(st session.Step, e session.Held, u geom.Unit) []Line {
	return []Line{HeldLine{"held", st.After.Trial, Number(u.From(e.Radius)), Number(u.From(e.Limit)), u}}
}}.row()

var released = told[session.Released]{status: asText, lines: func(st session.Step, _ session.Released, u geom.Unit) []Line {
	return []Line{HeldLine{"released", st.After.Trial, Number(nan), Number(nan), u}}
}}.row()
