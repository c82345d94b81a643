package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// AgainLine says that the sweep begins anew, or that it has to.
type AgainLine struct {
	Say     string `json:"say"`
	Trial   int    `json:"trial"`
	Because string `json:"because"`
}

// Text: see [Line].
func (l AgainLine) Text() string {
	if l.Say == "stuck" {
		return fmt.Sprintf("trial %d: %s; undo the reading that is wrong, or say again", l.Trial, l.Because)
	}
	return fmt.Sprintf("trial %d: %s", l.Trial, l.Because)
}

var restarted = told[session.Restarted]{status: asText, lines: func(st session.Step, _ session.Restarted, _ geom.Unit) []Line {
	return []Line{AgainLine{Say: "again", Trial: st.After.Trial, Because: "the sweep begins anew"}}
}}.row()

var swept = told[session.Swept]{
	lines: func(st session.Step, _ session.Swept, u geom.Unit) []Line {
		s := &st.After
		if l, ok := suspect(s, u); ok {
			return []Line{fitLine(s, u), l}
		}
		return []Line{fitLine(s, u)}
	},
	happened: func(e session.Swept) string { return WhyClosed(e.Why).Sweep },
}.row()

// Closed is why a sweep was closed, in words: of a sweep that is named before, and as a sentence of its own.
type Closed struct{ Report, Sweep string }

// closed are the words for every reason.
var closed = map[session.Why]Closed{
	session.ByVerdict: {"closed: nothing undecided", "the sweep is closed: nothing is undecided"},
	session.ByWind: {"closed: winding helps more than further stations",
		"the sweep is closed: winding helps more than further stations"},
	session.ByLimit:  {"closed: further stations cannot decide", "the sweep is closed: further stations cannot decide"},
	session.ByPerson: {"closed by the operator", "the sweep is closed by the person's word: enough"},
	session.ByTilt:   {"closed: the stations of the second height are in", "the sweep is closed: the stations of the second height are in"},
}

// WhyClosed says why a sweep was closed; nothing of one that is open.
func WhyClosed(w session.Why) Closed { return closed[w] }
