package lines

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
)

// Numbers spells a list of numbers: "1, 3, 4".
func Numbers(n []int) string {
	all := make([]string, len(n))
	for i, v := range n {
		all[i] = strconv.Itoa(v)
	}
	return strings.Join(all, ", ")
}

// Length prints a length of the plan without unit; "?" where it is not known.
func (x *Plan) Length(v Number) string {
	if isNaN(v) {
		return "?"
	}
	return plain(v, x.Unit)
}

// Lengths prints several, with commas.
func (x *Plan) Lengths(v []Number) string {
	all := make([]string, len(v))
	for i := range v {
		all[i] = x.Length(v[i])
	}
	return strings.Join(all, ", ")
}

// At prints a place without unit.
func (x *Plan) At(p Place) string { return x.Length(p[0]) + ", " + x.Length(p[1]) }

// Angle prints an angle of a plan to the hundredth of a degree, from 0° on and below 360°.
func Angle(deg Number) string {
	return Degrees(math.Mod(math.Round(geom.FromDegrees(float64(deg)).Degrees360()*100)/100, 360))
}

// Arc returns arc n, nil where n is no arc.
func (x *Plan) Arc(n int) *PlanArc {
	for i := range x.Arcs {
		if x.Arcs[i].N == n {
			return &x.Arcs[i]
		}
	}
	return nil
}

// Line returns straight n, nil where n is no straight.
func (x *Plan) Line(n int) *PlanLine {
	for i := range x.Lines {
		if x.Lines[i].N == n {
			return &x.Lines[i]
		}
	}
	return nil
}

// Whole reports whether the arc is a full circle.
func (a *PlanArc) Whole() bool { return float64(a.Sweep) >= 360-1e-9 }

// Bearings spells where the arc lies: "from 20° to 70°", "all round".
func (a *PlanArc) Bearings() string {
	if a.Whole() {
		return "all round"
	}
	return "from " + Angle(a.From) + " to " + Angle(a.To)
}

// SenseWords spell the way that cuts conventionally.
func (x *Plan) SenseWords(a *PlanArc) string {
	what := "swing it "
	if a.Table != nil {
		what = "turn the table "
	}
	if a.Sense == "none" {
		return "either way, neither cuts conventionally on both walls"
	}
	return what + a.Sense
}

// EndWords spell how the cutter comes to an end.
func (x *Plan) EndWords(e *PlanEnd) string {
	switch {
	case e.Short > 0 && !isNaN(e.ShortAngle):
		return fmt.Sprintf("stop %s %v (%s) before it%s", x.Length(e.Short), x.Unit, Degrees(math.Ceil(float64(e.ShortAngle)*100)/100), into(e))
	case e.Short > 0:
		return fmt.Sprintf("stop %s %v before it%s", x.Length(e.Short), x.Unit, into(e))
	case e.MayOverrun:
		return "may overrun"
	}
	return fmt.Sprintf("stop at it: past it the cutter would bite %s %v into element %d", x.Length(e.Bite), x.Unit, e.Into)
}

func into(e *PlanEnd) string {
	if e.Into == 0 {
		return ""
	}
	return fmt.Sprintf(", lest it bites into element %d", e.Into)
}

// Text spells the plan for a person.
func (x Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d arcs, %d straights; lengths in %v, readout from %s", x.Part, len(x.Arcs), len(x.Lines), x.Unit, x.At(x.Datum))
	if len(x.Cutters) > 0 {
		fmt.Fprintf(&b, "\ncutters at hand %s, %s-hand; chosen %s: %s", x.Lengths(x.Cutters), x.Hand, x.Lengths(x.Choice.Cutters), count(x.Choice.Settings, "setting"))
		for _, s := range x.Choice.Singles {
			fmt.Fprintf(&b, "\n  cutter %s alone: %s", x.Length(s.Cutter), count(s.Settings, "setting"))
			if len(s.Cannot) > 0 {
				b.WriteString(", cannot do " + Numbers(s.Cannot))
			}
		}
	}
	for i := range x.Arcs {
		x.arcText(&b, &x.Arcs[i])
	}
	for i := range x.Lines {
		x.lineText(&b, &x.Lines[i])
	}
	for _, g := range x.Groups {
		fmt.Fprintf(&b, "\nsetting %d: swing radius %s, cutter %s, arcs %s", g.N, x.Length(g.Swing), x.Lengths(g.Cutters), Numbers(g.Arcs))
	}
	b.WriteString("\norder:")
	for _, s := range x.Steps {
		fmt.Fprintf(&b, "\n  %d", s.N)
		if a := x.Arc(s.N); s.Sets && a != nil {
			fmt.Fprintf(&b, " set swing radius %s:", x.Length(a.Swing))
		}
		b.WriteString(" " + strings.Join(s.Reasons, ", "))
	}
	for _, l := range x.Blends {
		x.blendText(&b, l)
	}
	return b.String() + noteLines(x.Notes)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (x *Plan) arcText(b *strings.Builder, a *PlanArc) {
	fmt.Fprintf(b, "\narc %d (%s): centre %s, radius %s, %s, metal %s", a.N, a.Layer, x.At(a.Centre), x.Length(a.Radius), a.Bearings(), a.Side)
	if isNaN(a.Swing) {
		b.WriteString("; no swing radius")
	} else {
		fmt.Fprintf(b, "; cutter %s, swing radius %s", x.Length(a.Cutter), x.Length(a.Swing))
	}
	fmt.Fprintf(b, "; readout %s; %s", x.At(a.Readout), x.SenseWords(a))
	if a.Table != nil {
		fmt.Fprintf(b, "; wind the cross slides to %s, table %s to %s", x.At(a.Wind), Angle(a.Table.From), Angle(a.Table.To))
	}
	for i := range a.Ends {
		at := a.From
		if i == 1 {
			at = a.To
		}
		fmt.Fprintf(b, "\n  end at %s: %s", Angle(at), x.EndWords(&a.Ends[i]))
	}
}

func (x *Plan) lineText(b *strings.Builder, l *PlanLine) {
	fmt.Fprintf(b, "\nstraight %d (%s): from %s to %s", l.N, l.Layer, x.At(l.Start), x.At(l.End))
	if len(l.Readout) == 2 {
		fmt.Fprintf(b, "; cutter %s, readout %s to %s", x.Length(l.Cutter), x.At(l.Readout[0]), x.At(l.Readout[1]))
	}
	switch {
	case isNaN(l.Slide):
		b.WriteString("; no slide cuts it")
	case !isNaN(l.Table):
		fmt.Fprintf(b, "; table at %s, slide along %s", Angle(l.Table), Angle(l.Slide))
	default:
		fmt.Fprintf(b, "; slide along %s", Angle(l.Slide))
	}
	for i := range l.Ends {
		at := l.Start
		if i == 1 {
			at = l.End
		}
		fmt.Fprintf(b, "\n  end at %s: %s", x.At(at), x.EndWords(&l.Ends[i]))
	}
}

func (x *Plan) blendText(b *strings.Builder, l PlanBlend) {
	how := "corner of " + Degrees(float64(l.Kink))
	if l.Tangent {
		how = "tangent"
	}
	fmt.Fprintf(b, "\nblend %d to %d at %s: %s", l.Between[0], l.Between[1], x.At(l.At), how)
	if l.Gap > 0 && x.Length(l.Gap) != x.Length(0) {
		fmt.Fprintf(b, ", gap %s", x.Length(l.Gap))
	}
}

// ArcWords tell of the arc that a setting is for, in unit u: "arc 3 of plate: swing radius 55.000 mm, …".
func ArcWords(a *job.Arc, u geom.Unit, turned bool) string {
	length := func(mm float64) string { return plain(Number(u.From(mm)), u) }
	way := "swing it " + a.Sense
	if turned {
		way = "turn the table " + a.Sense
	}
	if a.Sense == "none" {
		way = "either way, neither cuts conventionally on both walls"
	}
	out := fmt.Sprintf("arc %d of %s: swing radius %s %v", a.N, a.Part, length(a.Swing), u)
	if a.Cutter > 0 {
		out += fmt.Sprintf(" for cutter %s", length(a.Cutter))
	}
	return out + fmt.Sprintf(", centre at readout %s, %s; to cut, %s", length(a.Readout.X), length(a.Readout.Y), way)
}

// Element is the arc in the unit of the plan.
func (a *PlanArc) Element() geom.Element {
	turn := geom.FromDegrees(float64(a.Sweep))
	if a.Whole() {
		turn = 2 * math.Pi
	}
	return geom.ArcOf(a.Centre.Point(), float64(a.Radius), geom.FromDegrees(float64(a.From)), turn)
}

// Element is the straight in the unit of the plan.
func (l *PlanLine) Element() geom.Element { return geom.Straight(l.Start.Point(), l.End.Point()) }

// Point is the place in the unit of the plan.
func (p Place) Point() geom.Point { return geom.Point{X: float64(p[0]), Y: float64(p[1])} }
