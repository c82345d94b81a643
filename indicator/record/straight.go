package record

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// PlanLay is how a straight comes to lie along a slide. Turn is how far the work is turned about the datum, degrees, +
// anticlockwise from above, null where it lies along a slide already; Along is the slide that cuts it then, x or y;
// At is the coordinate of the cutter's axis on the other one, which is locked, and Run those along the slide where the
// cut begins and where it stops, as the readout shows them with the datum at zero; null without a cutter. On a table that
// is turned all are null: its angle is the straight's table, and where the cut begins and stops its readout.
type PlanLay struct {
	Turn  Number    `json:"turn"`
	Along *string   `json:"along"`
	At    Number    `json:"at"`
	Run   [2]Number `json:"run"`
	// fromEnd: the cut begins at the straight's End; sideless: it may as well begin at the other.
	fromEnd, sideless bool
}

// lay puts how a straight is laid into the unit.
func (m *planMaker) lay(l *part.Line) PlanLay {
	x := PlanLay{Turn: Number(nan), At: Number(nan), Run: [2]Number{Number(nan), Number(nan)}, fromEnd: l.FromEnd,
		sideless: l.SideFrom == part.Unsaid}
	if m.rotary {
		return x
	}
	along := "y"
	if part.NamedX(l.Lay.Slide) {
		along = "x"
	}
	x.Along = &along
	if l.Lay.Turned {
		x.Turn = planAngle(l.Lay.Turn)
	}
	if l.Cutter > 0 {
		x.At, x.Run = m.length(l.Lay.Across), [2]Number{m.length(l.Lay.Run[0]), m.length(l.Lay.Run[1])}
	}
	return x
}

// InOrder are the straight's ends as the hand comes to them, 0 Start and 1 End: where the cut begins first.
func (l *PlanLine) InOrder() []int {
	switch {
	case len(l.Ends) == 0:
		return nil
	case l.fromEnd:
		return []int{1, 0}
	}
	return []int{0, 1}
}

// EndAt says which of the two an end is, and where: on the slide that is wound, on a table where it is drawn.
func (x *Plan) EndAt(l *PlanLine, i int) string {
	k, what := 1, "end"
	if l.InOrder()[0] == i {
		k, what = 0, "start"
	}
	if x.Table || !x.stepwise() {
		return what + " at " + x.At([...]Place{l.Start, l.End}[i])
	}
	return fmt.Sprintf("%s at %s %s", what, upper(*l.Along), x.Length(l.Run[k]))
}

// MustTurn reports whether the work has to be turned and clamped anew before straight l can be cut: it lies askew, and
// no table turns it.
func (x *Plan) MustTurn(l *PlanLine) bool { return !l.Turn.Unknown() && !x.Table }

// LayWords say how a straight is cut, first thing first: how the work is turned where it lies askew, and then "lock Y at 50.298,
// start at X 72.880, wind X alone towards 68.685, stop there". On a table, which turns it, they are empty.
func (x *Plan) LayWords(l *PlanLine) string {
	switch {
	case x.Table:
		return ""
	case x.MustTurn(l) && l.At.Unknown():
		return x.turnWords(float64(l.Turn), *l.Along)
	case x.MustTurn(l):
		return x.turnWords(float64(l.Turn), *l.Along) + "; " + x.RunWords(l)
	}
	return x.RunWords(l)
}

// RunWords are how the slides cut a straight, in the frame that is wound; empty on a table and without a cutter.
func (x *Plan) RunWords(l *PlanLine) string {
	if x.Table || l.At.Unknown() {
		return ""
	}
	along, across := upper(*l.Along), "Y"
	if along == "Y" {
		across = "X"
	}
	out := fmt.Sprintf("lock %s at %s, start at %s %s, wind %s alone towards %s, stop there", across, x.Length(l.At), along,
		x.Length(l.Run[0]), along, x.Length(l.Run[1]))
	if l.sideless {
		out += ", or back again: it has no side of the metal"
	}
	return out
}

func upper(slide string) string { return strings.ToUpper(slide) }

// fineDegrees prints an angle that the work is clocked to: a hundredth of a degree is 0.017 mm on 100.
func fineDegrees(deg float64) string { return geom.FormatFixed(deg, 3) + "°" }

// layNotes say what a straight that lies askew asks for once: in which frame its figures hold, and what no longer does.
func (m *planMaker) layNotes(x *Plan) {
	turned := 0
	for i, n := range x.Order {
		l := x.Line(n)
		if l == nil || !x.MustTurn(l) {
			continue
		}
		turned++
		for _, after := range x.Order[i+1:] {
			if a := x.Arc(after); a != nil && !a.Swing.Unknown() {
				x.Notes = append(x.Notes, fmt.Sprintf("straight %d needs the work turned before %s is cut: that one's centre is to be found "+
					"anew, or cut it first", n, x.Called(after)))
				break
			}
		}
	}
	if turned > 0 {
		x.Notes = append(x.Notes, fmt.Sprintf(noteTurned, x.At(x.Datum)))
	}
}

// straights say what the straights at blends are believed to, and what of it nobody has stated.
func (m *blendMaker) straights(x *Blends, d part.Doubts) {
	if len(m.part.Lines) == 0 {
		return
	}
	met, laid := false, false // a step is foretold at a straight; at one that is laid along its slide by an angle
	_, rotary := m.part.Rotary()
	for _, i := range m.Where {
		for k := range m.part.Lines {
			if l := &m.part.Lines[k]; slices.Contains(m.part.Blends[i].Between[:], l.N) {
				met, laid = true, laid || rotary || l.Lay.Turned
			}
		}
	}
	var believed, exact []string
	for _, v := range []struct {
		asked, said       bool
		name, words, text string
	}{
		{laid, d.AngleSaid, "turn", "the angle that they are laid at", fineDegrees(geom.Bearing(d.Angle).Degrees())},
		{met, d.SlideSaid, "slide", "the slide that is locked across them", plain(m.length(d.Slide), m.u) + " " + m.u.String()},
	} {
		switch {
		case !v.asked:
		case v.said:
			believed = append(believed, fmt.Sprintf("%s to ±%s (--%s-error)", v.words, v.text, v.name))
		default:
			x.Exact, exact = append(x.Exact, v.name), append(exact, fmt.Sprintf("%s (--%s-error)", v.words, v.name))
		}
	}
	note := "straights are believed where they are meant to be, but for the cutter"
	if len(believed) > 0 {
		note += "; " + strings.Join(believed, ", ")
	}
	if len(exact) > 0 {
		note += "; nobody has said how right is " + strings.Join(exact, ", nor ") + ": taken as exact"
	}
	x.Notes = append(x.Notes, note)
}

// noteTurned says in which frame the coordinates of a straight hold for which the work is turned.
const noteTurned = "where a straight needs the work turned: clamp it anew, turned so far from how the arcs are cut, and clock it; find " +
	"the datum again, %s of the drawing, and set both readouts to zero with the cutter's axis over it; then its figures hold, and the " +
	"arcs' no more"
