package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/slide"
)

// PlanPlaces are where an arc is plunged that no swing makes. Steps are the places of the cutter's axis as the readouts
// show them, from the datum, in order from the arc's start to its stop; Turns are those, counted from 0, from which a slide
// goes on the other way than it came, so that its play is taken up anew. StepCutter is the cutter's diameter, and Cusp how
// high what is left between the places stands at most, rounding included.
type PlanPlaces struct {
	Steps      []Place `json:"steps"`
	Turns      []int   `json:"turns"`
	StepCutter Number  `json:"step_cutter"`
	Cusp       Number  `json:"cusp"`
	back       [][2]bool
}

func (m *planMaker) places(p *part.Places) *PlanPlaces {
	if p == nil {
		return nil
	}
	x := &PlanPlaces{Turns: whole(p.Turns), StepCutter: m.length(p.Cutter), Cusp: m.length(p.Cusp), back: p.Slides}
	for _, at := range p.At {
		x.Steps = append(x.Steps, m.place(at))
	}
	return x
}

// plunging notes by what the places of a plan were found.
func (m *planMaker) plunging(x *Plan, from Planned) {
	o := from.Options
	if o.StepHeight == 0 {
		return
	}
	height, by := m.length(o.StepHeight), Place{m.length(o.ReadoutStep[0]), m.length(o.ReadoutStep[1])}
	x.StepHeight, x.ReadoutStep, x.hands = &height, &by, from.Slides
	asked := false
	for _, n := range x.Order {
		a := x.Arc(n)
		if a == nil || !a.Swing.Unknown() {
			continue
		}
		asked = true
		if a.PlanPlaces == nil && !x.tells(n, part.NoPlaces) {
			x.Notes = append(x.Notes, fmt.Sprintf("%s: no X/Y places: no cutter at hand makes it without a gouge", x.Called(n)))
		}
	}
	if !asked {
		x.Notes = append(x.Notes, "no arc needs X/Y places: every one is swung")
	}
}

// tells reports whether a problem of a kind is told of element n.
func (x *Plan) tells(n int, kind part.Kind) bool {
	for _, q := range x.Problems {
		if q.N == n && q.Kind == kind.String() {
			return true
		}
	}
	return false
}

// PlaceRow is one place to plunge at: its number, counted from 1, where the readouts of X and Y stand there, and Do, how the
// slides without a readout are wound from the place before, the first from the datum, and which slide turns back after it.
type PlaceRow struct {
	N    int
	X, Y string // as wide as the others of their column
	Do   []string
	wide int // of the numbers
}

// Winds are what Do says, in one sentence.
func (r PlaceRow) Winds() string { return strings.Join(r.Do, "; ") }

// Words are the row as a line of text: "12  X  3.975  Y  5.760".
func (r PlaceRow) Words() string {
	out := fmt.Sprintf("%*d  X %s  Y %s", r.wide, r.N, r.X, r.Y)
	if len(r.Do) > 0 {
		out += "  " + r.Winds()
	}
	return out
}

// PlaceRows are the places of an arc.
func (x *Plan) PlaceRows(a *PlanArc) (rows []PlaceRow) {
	if a.PlanPlaces == nil {
		return nil
	}
	var before Place
	turn := 0
	for i, p := range a.Steps {
		r := PlaceRow{N: i + 1, X: x.coordinate(p, 0), Y: x.coordinate(p, 1)}
		for k, name := range [...]string{"X", "Y"} {
			if s := x.hands[k]; s != nil && !s.Readout {
				from := ""
				if i == 0 {
					from = "from over the datum, come up to " + comesUp(s) + ": "
				}
				r.Do = append(r.Do, name+" "+from+handWords(*s, x.Unit.MM(float64(p[k]-before[k]))))
			}
		}
		if turn < len(a.Turns) && a.Turns[turn] == i {
			if w := x.turnsBack(a.back[turn]); w != "" {
				r.Do = append(r.Do, w)
			}
			turn++
		}
		before, rows = p, append(rows, r)
	}
	wide := [2]int{}
	for _, r := range rows {
		wide[0], wide[1] = max(wide[0], len(r.X)), max(wide[1], len(r.Y))
	}
	for i := range rows {
		r := &rows[i]
		r.X, r.Y, r.wide = fmt.Sprintf("%*s", wide[0], r.X), fmt.Sprintf("%*s", wide[1], r.Y), len(fmt.Sprint(len(rows)))
	}
	return rows
}

// coordinate is what the readout of X (0) or Y (1) shows at a place, to its own step.
func (x *Plan) coordinate(p Place, k int) string {
	step := indicator.Dial{Graduation: x.Unit.MM(float64(x.ReadoutStep[k])), ReadsTo: 1}
	return geom.FormatFixed(float64(p[k]), ReadingPlaces(step, x.Unit))
}

// comesUp is the way that the hand turns as a slide takes its play up.
func comesUp(s *slide.Slide) string {
	if s.Clockwise == s.TakeUp {
		return slide.Clockwise.String()
	}
	return slide.Anticlockwise.String()
}

// handWords say how a slide without a readout is wound by so much, millimetres: it always comes up the same way, so that
// its play does not matter.
func handWords(s slide.Slide, travel float64) string {
	if travel == 0 {
		return "stays"
	}
	moves := s.Wind(travel).Moves
	all := make([]string, len(moves))
	for i, m := range moves {
		all[i] = WindWords(i, len(moves)) + " " + HandTurn(s.Shown(m))
	}
	return strings.Join(all, ", ")
}

// turnsBack says which slides go back behind a place; of one that is wound by its collar the winds say it.
func (x *Plan) turnsBack(which [2]bool) string {
	var names []string
	for k, name := range [...]string{"X", "Y"} {
		if s := x.hands[k]; which[k] && (s == nil || s.Readout) {
			names = append(names, name)
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0] + " turns back after this one: take its play up"
	}
	return "both slides turn back after this one: take their play up"
}

// PlungeWords say what the places of an arc are, before their table.
func (x *Plan) PlungeWords(a *PlanArc) string {
	turned := "no slide turns back"
	if n := len(a.Turns); n > 0 {
		turned = count(n, "time") + " a slide turns back"
	}
	still := "the head locked"
	if x.Table {
		still = "the table at 0° and locked, its cross slides at zero"
	}
	deep := ""
	if a.Depth > 0 {
		deep = fmt.Sprintf(", each to %s %v below the top of the stock", x.Length(a.Depth), x.Unit)
		if from := x.fromTop(a.N); from != "from the top of the stock" {
			deep = fmt.Sprintf(", each to %s %v %s", x.Length(a.Depth), x.Unit, from)
		}
		if step := x.peck(a.N); step > 0 {
			deep += fmt.Sprintf(" in steps of at most %s, up between them to clear the chips", x.depth(step))
		}
	}
	return fmt.Sprintf("%s, plunge at %s with cutter %s, one that cuts to its centre, lifted clear before a slide moves%s; cusps of at most "+
		"%s %v stay, %s", still, count(len(a.Steps), "place"), x.Length(a.StepCutter), deep, x.rounded(a.Cusp, math.Ceil), x.Unit, turned)
}

// peck is the most that a place is sunk at once, that of the passes of its element; 0 where nobody says.
func (x *Plan) peck(n int) Number {
	if i, ok := x.step[n]; ok && len(x.Steps[i].Passes) > 1 {
		return x.Steps[i].Passes[0]
	}
	return 0
}

// plungedTo says how near the places of an arc come to one of its ends, along the arc as it is drawn.
func (x *Plan) plungedTo(a *PlanArc, e *PlanEnd) string {
	if !(e.Before > 0) {
		return "plunged to the drawn end"
	}
	comes := "stops"
	if e == &a.Ends[a.InOrder()[0]] {
		comes = "begins"
	}
	return fmt.Sprintf("%s %s %v from the drawn end: the cutter's own radius stays in the corner", comes,
		x.rounded(e.Before*math.Pi/180*a.Radius, math.Ceil), x.Unit)
}

// placesText spells the places of an arc.
func (x *Plan) placesText(b *strings.Builder, a *PlanArc) {
	b.WriteString("\n  " + x.PlungeWords(a))
	for _, r := range x.PlaceRows(a) {
		b.WriteString("\n  " + r.Words())
	}
}
