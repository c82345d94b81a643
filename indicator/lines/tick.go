package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// TickedLine says that an element which no setting makes is done.
type TickedLine struct {
	Say string `json:"say"`
	N   int    `json:"n"`
}

// Ticked says it of element n.
func Ticked(n int) TickedLine { return TickedLine{Say: "ticked", N: n} }

// Text: see [Line].
func (l TickedLine) Text() string { return fmt.Sprintf("element %d is done", l.N) }

var ticked = told[session.Ticked]{status: asText,
	lines: func(_ session.Step, e session.Ticked, _ geom.Unit) []Line {
		return []Line{Ticked(e.N)}
	},
	undo: func(_ *session.State, e session.Ticked, _ geom.Unit) string {
		return fmt.Sprintf("the tick on element %d", e.N)
	},
}.row()
