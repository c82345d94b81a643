package record

import (
	"fmt"
	"slices"

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
		return fmt.Sprintf("it stands on metal: cut it to the depth of its step, %s %v, not through", x.Length(a.Depth), x.Unit)
	}
	return "it stands on metal: cut it to the depth of its step, not through"
}

// CutWords say in which passes element n is cut, and where the cutter goes down; nothing where nobody says its depth.
func (x *Plan) CutWords(n int) (out []string) {
	entry, wall := "", false
	if a := x.Arc(n); a != nil {
		entry, wall = a.Entry, a.Slot > 0
	} else if l := x.Line(n); l != nil {
		entry = l.Entry
	}
	i := slices.IndexFunc(x.Steps, func(s PlanStep) bool { return s.N == n })
	if i < 0 || len(x.Steps[i].Passes) == 0 {
		return nil
	}
	out = []string{"from the top of the stock, " + x.passes(&x.Steps[i])}
	if w, known := setup.WayInOf(entry); known {
		row, _ := w.Row()
		words := row.Means
		switch {
		case wall:
			words = "go down in the slot, which is open from its first pass, clear of its walls, then feed to the start"
		case w == setup.WayInHole:
			words += "; drill it before, or take a cutter that cuts to its centre"
		}
		out = append(out, words)
	}
	return out
}

// passes are those of a step: "3 passes: 2.000, 4.000, 6.000 mm, spring pass".
func (x *Plan) passes(s *PlanStep) string {
	what := "passes"
	if len(s.Passes) == 1 {
		what = "pass"
	}
	out := fmt.Sprintf("%d %s: %s %v", len(s.Passes), what, x.Lengths(s.Passes), x.Unit)
	if s.Spring {
		out += ", spring pass"
	}
	return out
}

// stepCut is said of a step of the order behind its reasons: its passes, and what the part still hangs on.
func (x *Plan) stepCut(s *PlanStep) (out string) {
	if len(s.Passes) > 0 {
		out = "; " + x.passes(s)
	}
	if s.Sets {
		if words := x.HoldsWords(s); words != "" {
			out += "; " + words
		}
	}
	return out
}

// HoldsWords say what the part hangs on when the step has been cut; empty where that is not known.
func (x *Plan) HoldsWords(s *PlanStep) string {
	if len(s.Holds) == 0 {
		return ""
	}
	return "the rim still holds the part at " + Numbers(s.Holds)
}

// FreesWords say that an element lets the part go; where depths are said, in which pass, and how to hold it.
func (x *Plan) FreesWords(f *PlanFree) string {
	if f.Depth == 0 {
		return "lets the part go"
	}
	return fmt.Sprintf("lets the part go in its last pass, at %s %v, where that is through", x.Length(f.Depth), x.Unit)
}

// HoldWords say how a part is held that comes loose. Common practice, no source.
const HoldWords = "clamp through the part, or leave bridges, to be sawn and filed, by lifting out over two or three short ways in the " +
	"last pass; no spring pass on a loose part"

// floorNotes tell of each boss whose depth is said how wide its floor is cut: what lies beyond is no arc's.
func (x *Plan) floorNotes() (out []string) {
	for i := range x.Arcs {
		if a := &x.Arcs[i]; a.ToStep && a.Depth > 0 && !a.Cutter.Unknown() {
			out = append(out, fmt.Sprintf("element %d: the cutter clears a floor %s %v wide round it, at a depth of %s %v; what stands higher "+
				"beyond that is milled off by the slides, before the part comes loose", a.N, x.Length(a.Cutter), x.Unit, x.Length(a.Depth), x.Unit))
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
