package record

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
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
	if v.Unknown() {
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

// Arc returns what is swung under number n, an arc or the first pass of a slot; nil where nothing is.
func (x *Plan) Arc(n int) *PlanArc {
	if i, ok := slices.BinarySearchFunc(x.Arcs, n, func(a PlanArc, n int) int { return cmp.Compare(a.N, n) }); ok {
		return &x.Arcs[i]
	}
	if s := x.Slot(n); s != nil {
		return &s.PlanArc
	}
	return nil
}

// Slot returns slot n, nil where n is no slot.
func (x *Plan) Slot(n int) *PlanSlot {
	if i, ok := slices.BinarySearchFunc(x.Slots, n, func(s PlanSlot, n int) int { return cmp.Compare(s.N, n) }); ok {
		return &x.Slots[i]
	}
	return nil
}

// Outlined is element n of the outline in the unit of the plan; nil where n is none, or the pass of a slot.
func (x *Plan) Outlined(n int) *geom.Element {
	if a := x.Arc(n); a != nil && x.Slot(n) == nil {
		e := a.Element()
		return &e
	}
	if l := x.Line(n); l != nil {
		e := l.Element()
		return &e
	}
	return nil
}

// Swung lists what is swung: the arcs of the order, and the first passes of slots.
func (x *Plan) Swung() (numbers []int) {
	for _, n := range x.Order {
		if x.Arc(n) != nil {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// Line returns straight n, nil where n is no straight.
func (x *Plan) Line(n int) *PlanLine {
	if i, ok := slices.BinarySearchFunc(x.Lines, n, func(l PlanLine, n int) int { return cmp.Compare(l.N, n) }); ok {
		return &x.Lines[i]
	}
	return nil
}

// Mill returns milling n, nil where n is none.
func (x *Plan) Mill(n int) *PlanMill {
	for i := range x.Mills {
		if x.Mills[i].N == n {
			return &x.Mills[i]
		}
	}
	return nil
}

// Worked are the elements in the order in which they are cut, and what is milled off between them, by number.
func (x *Plan) Worked() (numbers []int) {
	for _, n := range x.Order {
		for i := range x.Mills {
			if x.Mills[i].Before == n {
				numbers = append(numbers, x.Mills[i].N)
			}
		}
		numbers = append(numbers, n)
	}
	return numbers
}

// Whole reports whether the arc is a full circle.
func (a *PlanArc) Whole() bool { return float64(a.Sweep) >= 360-1e-9 }

// Metal spells where the metal is, and who says so where it is only what nesting makes of it.
func (a *PlanArc) Metal() string {
	switch {
	case a.Side == part.On.String():
		return "the cutter's axis runs along it"
	case a.MetalFrom != nil && *a.MetalFrom == part.Nesting.String():
		return "metal " + a.Side + " (by nesting)"
	}
	return "metal " + a.Side
}

// Text spells the plan for a person.
func (x Plan) Text() string {
	var b strings.Builder
	slots := ""
	if len(x.Slots) > 0 {
		slots = ", " + count(len(x.Slots), "slot")
	}
	fmt.Fprintf(&b, "%s: %s, %s%s; lengths in %v, readout from %s", x.Part, count(len(x.Arcs), "arc"), count(len(x.Lines), "straight"),
		slots, x.Unit, x.At(x.Datum))
	fmt.Fprintf(&b, "\nbearings are the cutter's, seen from the arc's centre, anticlockwise from +X from above; at ends %s %v is let pass",
		x.Length(x.LetPass), x.Unit)
	if len(x.Cutters) > 0 {
		fmt.Fprintf(&b, "\ncutters at hand %s, %s-hand; chosen %s: %s", x.Lengths(x.Cutters), x.Hand, x.Lengths(x.Choice.Cutters),
			count(x.Choice.Settings, "setting"))
		for _, s := range x.Choice.Singles {
			fmt.Fprintf(&b, "\n  cutter %s alone: %s", x.Length(s.Cutter), count(s.Settings, "setting"))
			if len(s.Cannot) > 0 {
				b.WriteString(", cannot do " + Numbers(s.Cannot))
			}
		}
	}
	for _, q := range x.Problems { // what spoils a part comes before what is told of its arcs
		if x.Spoils(q.N) && (q.Kind == part.Gouge.String() || q.Kind == part.SideUnknown.String()) {
			b.WriteString("\n! " + q.Text)
		}
	}
	for i := range x.Arcs {
		x.arcText(&b, &x.Arcs[i])
	}
	for i := range x.Slots {
		x.slotText(&b, &x.Slots[i])
	}
	for i := range x.Lines {
		x.lineText(&b, &x.Lines[i])
	}
	for _, g := range x.Groups {
		fmt.Fprintf(&b, "\nsetting %d: swing radius %s, cutter %s, arcs %s", g.N, x.Length(g.Swing), x.Lengths(g.Cutters), Numbers(g.Arcs))
	}
	b.WriteString("\norder:")
	for _, s := range x.Steps {
		for _, first := range s.Before {
			b.WriteString("\n  ! " + first)
		}
		fmt.Fprintf(&b, "\n  %s", x.Called(s.N))
		if !s.Changes.Unknown() {
			fmt.Fprintf(&b, ", cutter %s in", x.Length(s.Changes))
		}
		if a := x.Arc(s.N); s.Sets && a != nil {
			fmt.Fprintf(&b, ", set swing radius %s", x.Length(a.Swing))
		}
		b.WriteString(": " + strings.Join(s.Reasons, ", ") + x.stepCut(&s))
	}
	tangent := 0
	for _, l := range x.Blends {
		if l.Tangent && x.Length(l.Gap) == x.Length(0) {
			tangent++
			continue
		}
		x.blendText(&b, l)
	}
	if tangent > 0 {
		fmt.Fprintf(&b, "\n%s tangent", count(tangent, "blend"))
	}
	if x.Ways != nil {
		b.WriteString("\n" + x.Ways.Text())
	}
	return b.String() + noteLines(x.Remarks())
}

// Remarks are the notes without what stands with its element already.
func (x *Plan) Remarks() (out []string) {
	stands := map[string]bool{}
	for i := range x.Problems {
		q := &x.Problems[i]
		if a := x.Arc(q.N); a != nil && !a.Swing.Unknown() {
			stands[q.Text] = true
		}
	}
	for _, n := range x.Notes {
		if !stands[n] {
			out = append(out, n)
		}
	}
	return out
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (x *Plan) arcText(b *strings.Builder, a *PlanArc) {
	fmt.Fprintf(b, "\narc %d%s: centre %s, radius %s, %s", a.N, onLayer(a.Layer), x.At(a.Centre), x.Length(a.Radius), a.Metal())
	if a.Swing.Unknown() && a.Slot > 0 && x.Slot(a.Slot).SinglePass {
		fmt.Fprintf(b, "; made by the one pass of slot %d", a.Slot)
		return
	}
	x.swungText(b, a)
}

func (x *Plan) slotText(b *strings.Builder, s *PlanSlot) {
	fmt.Fprintf(b, "\nslot %d%s: centre %s, radius %s of the centre line, width %s, arcs %s", s.N, onLayer(s.Layer), x.At(s.Centre),
		x.Length(s.Radius), x.Length(s.Width), Numbers(s.Arcs))
	x.swungText(b, &s.PlanArc)
}

// swungText spells the setting, the run and the ends of what is swung.
func (x *Plan) swungText(b *strings.Builder, a *PlanArc) {
	if a.Swing.Unknown() {
		b.WriteString("; no swing radius")
	} else {
		fmt.Fprintf(b, "; cutter %s, swing radius %s", x.Length(a.Cutter), x.Length(a.Swing))
	}
	fmt.Fprintf(b, "; readout %s", x.At(a.Readout))
	if a.Table != nil {
		fmt.Fprintf(b, "; wind the cross slides to %s", x.At(a.Wind))
	}
	for _, q := range x.ProblemsOf(a.N) {
		b.WriteString("\n  ! " + q)
	}
	if x.Gouges(a.N) {
		b.WriteString("\n  " + GougesWords)
		return
	}
	if a.PlanPlaces != nil {
		x.placesText(b, a)
	} else {
		b.WriteString("\n  " + a.Run().Words())
	}
	if words := x.StepWords(a); words != "" {
		b.WriteString("\n  " + words)
	}
	for _, words := range x.CutWords(a.N) {
		b.WriteString("\n  " + words)
	}
	for _, i := range a.InOrder() {
		fmt.Fprintf(b, "\n  %s: %s", a.EndAt(i), x.EndWords(&a.Ends[i], a.N, a.Swing))
	}
	if w := a.StopWords(); w != "" {
		b.WriteString("\n  " + w)
	}
}

// StopWords say what the stops are set to by the ring that is read, and how a table's handwheel goes from one to the other; how near
// they have to be stands with the ends. Empty where no ring shows it.
func (a *PlanArc) StopWords() string {
	if a.Stops == nil {
		return ""
	}
	all := a.Stops.Words()
	return strings.Join(append([]string{"set the stops: " + a.Stops.Set()}, all[2:]...), "; ")
}

// onLayer names a layer in brackets; one without a name is left out.
func onLayer(layer string) string {
	if layer == "" {
		return ""
	}
	return " (" + layer + ")"
}

// InOrder are the arc's ends as the hand comes to them, 0 From and 1 To: the start first.
func (a *PlanArc) InOrder() []int {
	switch {
	case len(a.Ends) == 0:
		return nil
	case a.Start == a.To:
		return []int{1, 0}
	}
	return []int{0, 1}
}

// EndAt says which of the two an end is, and its angle as the hand is told it: the arc's bearing, or how far the table
// is turned there.
func (a *PlanArc) EndAt(i int) string {
	at, what := [...]Number{a.From, a.To}, "end"
	if a.Table != nil && a.PlanPlaces == nil { // which stands still while it is plunged
		at = [...]Number{a.Table.From, a.Table.To}
	}
	if a.InOrder()[0] == i {
		what = "start"
	}
	return what + " at " + Angle(at[i])
}

func (x *Plan) lineText(b *strings.Builder, l *PlanLine) {
	fmt.Fprintf(b, "\nstraight %d%s: ", l.N, onLayer(l.Layer))
	told := !x.Table && x.stepwise() && !l.At.Unknown() // one start and one stop, as they are wound
	switch {
	case told:
		fmt.Fprintf(b, "cutter %s\n  %s", x.Length(l.Cutter), x.LayWords(l))
	case len(l.Readout) == 2 && !x.MustTurn(l):
		fmt.Fprintf(b, "from %s to %s; cutter %s, readout %s to %s", x.At(l.Start), x.At(l.End), x.Length(l.Cutter), x.At(l.Readout[0]),
			x.At(l.Readout[1]))
	default:
		fmt.Fprintf(b, "from %s to %s", x.At(l.Start), x.At(l.End))
	}
	switch {
	case told:
	case x.MustTurn(l):
		b.WriteString("\n  " + x.LayWords(l))
	case !l.Table.Unknown():
		at := Angle(l.Table)
		if ring := x.RingAt(l.Table); ring != "" {
			at += " (ring " + ring + ")"
		}
		fmt.Fprintf(b, "; table at %s, slide along %s", at, Angle(l.Slide))
	default:
		fmt.Fprintf(b, "; slide along %s", Angle(l.Slide))
	}
	for _, words := range x.CutWords(l.N) {
		b.WriteString("\n  " + words)
	}
	for _, i := range l.InOrder() {
		fmt.Fprintf(b, "\n  %s: %s", x.EndAt(l, i), x.EndWords(&l.Ends[i], l.N, 0))
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

// ArcWords tell of the arc that a setting is for, in unit u: "arc 3 of plate: swing radius 55.000 mm, centre at readout …".
// Drawn says that the drawing lies, or may lie, turned, so that its figures are no readout's.
func ArcWords(a *part.Picked, u geom.Unit, drawn bool) string {
	length := func(mm float64) string { return plain(Number(u.From(mm)), u) }
	out := fmt.Sprintf("arc %d of %s: swing radius %s %v", a.N, a.Part, length(a.Swing), u)
	if a.Cutter > 0 {
		out += fmt.Sprintf(" for cutter %s", length(a.Cutter))
	}
	at := fmt.Sprintf("%s, %s", length(a.Readout.X), length(a.Readout.Y))
	if drawn {
		return out + fmt.Sprintf(", centre on the drawing at %s %v from the datum", at, u)
	}
	return out + ", centre at readout " + at
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
