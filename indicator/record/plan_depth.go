package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// wayIn is the word for where the cutter may go down; empty where nobody knows.
func wayIn(w setup.WayIn) string {
	row, _ := w.Row()
	return row.Word
}

// StepWords are said of an arc that stands on metal; empty of others.
func (x *Plan) StepWords(a *PlanArc) string {
	switch {
	case !a.ToStep:
		return ""
	case a.Depth > 0:
		return fmt.Sprintf("it stands on metal: cut it to the depth of its step, %s, not through", x.depth(a.Depth))
	}
	return "it stands on metal: cut it to the depth of its step, not through"
}

// AtTheStart says that the cutter, which goes down at some place, may not do so ahead of the start of its cut.
func AtTheStart(place string) string {
	return "go down at the start itself, " + place + "; ahead of it the cutter would gouge the element next to the arc"
}

// CutWords say in which passes element n is cut, and where the cutter goes down; nothing where nobody says its depth.
func (x *Plan) CutWords(n int) (out []string) {
	entry, wall, up := "", false, true
	if a := x.Arc(n); a != nil {
		if a.PlanPlaces != nil { // each place is sunk by itself
			return nil
		}
		entry, wall, up = a.Entry, a.Slot > 0, a.comesUp
	} else if l := x.Line(n); l != nil {
		entry, up = l.Entry, l.comesUp
	}
	i, ok := x.step[n]
	if !ok || len(x.Steps[i].Passes) == 0 {
		return nil
	}
	out = []string{x.fromTop(n) + ", " + x.passes(&x.Steps[i])}
	if w, known := setup.WayInOf(entry); known {
		row, _ := w.Row()
		place, after := row.Means, ""
		switch {
		case wall:
			place = "in the slot, which is open from its first pass, clear of its walls"
		case w == setup.WayInHole:
			after = "; drill it before, or take a cutter that cuts to its centre"
		case up:
			place += ", clear of the finished outline"
		}
		words := "go down " + place + ", then feed to the start"
		if !up {
			words = AtTheStart(place)
		}
		out = append(out, words+after)
	}
	return out
}

// DepthFigure is a depth as a quill is set to it, without its unit: to hundredths of a millimetre, to thousandths of an inch.
func DepthFigure(mm float64, u geom.Unit) string {
	if u == geom.Inch {
		return geom.FormatFixed(u.From(mm), 3)
	}
	return strings.TrimSuffix(geom.FormatFixed(mm, 2), "0")
}

// depth is a depth of the plan with its unit.
func (x *Plan) depth(v Number) string {
	return DepthFigure(x.Unit.MM(float64(v)), x.Unit) + " " + x.Unit.String()
}

// passes are those of a step: "3 passes: 2.0, 4.0, 6.0 mm, spring pass".
func (x *Plan) passes(s *PlanStep) string {
	out := passWords(s.Passes, x.Unit)
	if s.Spring {
		out += ", spring pass"
	}
	return out
}

// stepCut is said of a step of the order behind its reasons: its passes, and what still holds the part once its setting is cut.
func (x *Plan) stepCut(s *PlanStep) (out string) {
	a := x.Arc(s.N)
	switch {
	case a != nil && a.PlanPlaces != nil:
		out = fmt.Sprintf("; plunged at %s", count(len(a.Steps), "place"))
		if step := x.peck(s.N); step > 0 {
			out += fmt.Sprintf(", each to %s in steps of at most %s", x.depth(a.Depth), x.depth(step))
		}
	case len(s.Passes) > 0:
		out = "; " + x.passes(s)
	}
	if s.Sets && len(s.Holds) > 0 {
		out += "; the part is still held by " + Numbers(s.Holds)
	}
	return out
}

// FreesWords say that an element lets the part go; where depths are said, in which pass, and how to hold it.
func (x *Plan) FreesWords(f *PlanFree) string {
	if f.Depth == 0 {
		return "lets the part go"
	}
	return fmt.Sprintf("lets the part go in its last pass, at %s, where that is through", x.depth(f.Depth))
}

// HoldWords say how a part is held that comes loose. Common practice, no source.
const HoldWords = "clamp through the part, or leave bridges, to be sawn and filed, by lifting out over two or three short ways in the " +
	"last pass; a spring pass only where it is held"

// floorNotes tell of each boss whose depth is said how wide its floor is cut: what lies beyond is no arc's.
func (x *Plan) floorNotes() (out []string) {
	for i := range x.Arcs {
		if a := &x.Arcs[i]; a.ToStep && a.Depth > 0 && !a.Cutter.Unknown() {
			out = append(out, fmt.Sprintf("element %d: the cutter clears a floor %s %v wide round it, at a depth of %s; what stands higher "+
				"beyond that is milled off by the slides, before anything is cut deeper, and before the part comes loose", a.N, x.Length(a.Cutter), x.Unit, x.depth(a.Depth)))
		}
	}
	return out
}

// freesNote is the note of it.
func (x *Plan) freesNote(f *PlanFree) string {
	n := fmt.Sprintf("element %d %s: hold it before it is cut through", f.N, x.FreesWords(f))
	if len(f.Left) > 0 {
		n += ", and cut " + Numbers(f.Left) + " first"
	}
	if f.Depth > 0 {
		n += "; " + HoldWords
	}
	return n
}
