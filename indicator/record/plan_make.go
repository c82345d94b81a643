package record

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// NewPlan puts a plan into unit u.
func NewPlan(from Planned, u geom.Unit) Plan {
	p, o := from.Part, from.Options
	m := planMaker{u: u, rotary: o.Rotary, datum: o.Datum, slide: o.CutterBearing, ring: from.Ring, wheel: from.Handwheel, part: p,
		end: 0.1, pass: 0.002}
	x := Plan{Unit: u, Part: geom.PrintableLine(from.Name),
		Setup: "carried", Datum: m.place(o.Datum), Hand: "right", Cutters: m.lengths(o.Cutters),
		Arcs: []PlanArc{}, Lines: []PlanLine{}, Slots: []PlanSlot{}, Groups: []PlanGroup{}, Blends: []PlanBlend{}, Frees: []PlanFree{},
		Problems: []PlanProblem{}, Notes: []string{}, ring: from.Ring}
	if o.Limits.End > 0 {
		m.end = o.Limits.End
	}
	if o.Limits.Gouge > 0 {
		m.pass = o.Limits.Gouge
	}
	x.LetPass = m.length(m.pass)
	if o.Rotary {
		x.Setup, x.Table = "turned", true
	}
	if o.LeftHand {
		x.Hand = "left"
	}
	for i := range p.Arcs {
		x.Arcs = append(x.Arcs, m.arc(&p.Arcs[i]))
	}
	for i := range p.Lines {
		x.Lines = append(x.Lines, m.line(&p.Lines[i]))
	}
	for i := range p.Slots {
		s := &p.Slots[i]
		x.Slots = append(x.Slots, PlanSlot{m.arc(&s.Arc), m.length(s.Width), s.Walls, s.Single})
	}
	for _, g := range p.Groups {
		x.Groups = append(x.Groups, PlanGroup{g.N, m.length(g.Swing), g.Arcs, m.lengths(g.Cutters), g.Centres})
	}
	x.Choice = m.choice(&p.Choice)
	m.order(&x, p)
	for _, b := range p.Blends {
		x.Blends = append(x.Blends, PlanBlend{b.Between, m.place(b.At), b.Tangent, planAngle(b.Kink), m.length(b.Gap)})
	}
	for _, q := range p.Problems {
		x.Problems = append(x.Problems, m.problem(q))
	}
	x.amiss = map[int][]int{}
	for i, q := range x.Problems {
		if x.amiss[q.N] = append(x.amiss[q.N], i); q.Other != q.N {
			x.amiss[q.Other] = append(x.amiss[q.Other], i)
		}
	}
	m.notes(&x, from)
	if x.stepwise() {
		var s standing
		for i := range x.Steps {
			x.Steps[i].Before = x.before(i, x.change(&s, x.Steps[i].N))
		}
	}
	return x
}

// planMaker puts what a plan holds into a unit.
type planMaker struct {
	u      geom.Unit
	rotary bool
	datum  geom.Point
	slide  geom.Bearing // of the cutter, seen from a table's axis
	ring   *setup.Ring
	wheel  setup.Handwheel
	part   *part.Plan
	end    float64 // what is let pass at an end that is no tangent
	pass   float64 // and at one that is
}

func (m *planMaker) length(mm float64) Number { return Number(m.u.From(mm)) }

// known is a length that is not known where it is 0.
func (m *planMaker) known(mm float64) Number {
	if mm == 0 {
		return Number(nan)
	}
	return m.length(mm)
}

func (m *planMaker) place(p geom.Point) Place { return Place{m.length(p.X), m.length(p.Y)} }

func (m *planMaker) lengths(mm []float64) []Number {
	out := make([]Number, len(mm))
	for i, v := range mm {
		out[i] = m.length(v)
	}
	return out
}

func planAngle(b geom.Bearing) Number { return Number(b.Degrees()) }

func (m *planMaker) arc(a *part.Arc) PlanArc {
	x := PlanArc{N: a.N, Layer: a.Layer, Source: a.Source, Centre: m.place(a.Centre), Radius: m.length(a.Radius),
		From: planAngle(a.From), To: planAngle(a.To), Sweep: planAngle(a.Sweep), Side: a.Side.String(), Cutter: m.known(a.Cutter),
		Swing: m.known(a.Swing),
		Group: a.Group, Readout: m.place(a.Readout), Wind: m.place(a.Wind), Sense: a.Sense.String(), Ends: []PlanEnd{}, Slot: a.Slot,
		ToStep: a.ToStep, PlanPlaces: m.places(a.Places), ring: m.ring, Depth: m.length(a.Depth), Entry: wayIn(a.WayIn),
		Start: Number(nan), Stop: Number(nan), TableStart: Number(nan), TableStop: Number(nan)}
	if a.SideFrom != part.Unsaid {
		from := a.SideFrom.String()
		x.MetalFrom = &from
	}
	if x.comesUp = true; !a.Full() {
		first := 0
		if a.Start != a.From {
			first = 1
		}
		x.comesUp = a.Ends[first].ComesUp()
		x.Start, x.Stop = planAngle(a.Start), planAngle(a.Stop)
	}
	if m.rotary {
		x.Table = &PlanTable{planAngle(m.slide - a.From), planAngle(m.slide - a.To)}
		if !a.Full() {
			x.TableStart, x.TableStop = planAngle(a.TableStart), planAngle(a.TableStop)
		}
	}
	run := x.Run()
	x.RingStart, x.RingStop, x.Way = run.RingStart(), run.RingStop(), run.WayWord()
	if !a.Full() && (a.Swing > 0 || a.Places != nil) {
		for i, b := range []geom.Bearing{a.From, a.To} {
			x.Ends = append(x.Ends, m.endOf(&a.Ends[i], a.Centre.Along(b, a.Radius),
				func(v float64) Number { return planAngle(geom.Bearing(v)) }))
		}
	}
	if m.ring != nil && m.ring.Reads() > 0 {
		if s, ok := m.part.StopsOf(a, *m.ring); ok {
			stops := NewStops(&s, m.wheel, m.u)
			x.Stops = &stops
		}
	}
	return x
}

// endOf is an end whose figures are put in a unit by size.
func (m *planMaker) endOf(e *part.End, at geom.Point, size func(float64) Number) PlanEnd {
	x := PlanEnd{At: m.place(at), MayOverrun: e.Free, Into: e.Into, Next: e.Next, Past: Number(nan), Short: Number(nan),
		EndTolerance: Number(nan), Before: size(e.Before), Clear: Number(nan), InWay: e.InWay}
	if !math.IsInf(e.Clear, 1) {
		x.Clear = size(e.Clear)
	}
	if !e.Tangent {
		x.EndTolerance = m.length(m.end)
		return x
	}
	if x.Short = size(e.Short); !math.IsInf(e.Past, 1) {
		x.Past = size(e.Past)
	}
	return x
}

func (m *planMaker) line(l *part.Line) PlanLine {
	x := PlanLine{N: l.N, Layer: l.Layer, Source: l.Source, Start: m.place(l.Start), End: m.place(l.End), Cutter: m.known(l.Cutter),
		Axis: []Place{}, Readout: []Place{}, Slide: Number(nan), Table: Number(nan), Ends: []PlanEnd{},
		Depth: m.length(l.Depth), Entry: wayIn(l.WayIn)}
	x.PlanLay = m.lay(l)
	x.comesUp = l.Ends[0].ComesUp()
	if l.FromEnd {
		x.comesUp = l.Ends[1].ComesUp()
	}
	if l.Sliding {
		x.Slide = planAngle(l.Slide)
	}
	if m.rotary {
		x.Table = planAngle(l.Table)
	}
	if l.Cutter > 0 {
		for _, at := range l.Axis {
			x.Axis = append(x.Axis, m.place(at))
			x.Readout = append(x.Readout, m.place(m.stands(at, l.Table)))
		}
		x.Ends = append(x.Ends, m.endOf(&l.Ends[0], l.Start, m.length), m.endOf(&l.Ends[1], l.End, m.length))
	}
	return x
}

// stands is where the readout stands with the spindle over a place of the part. On a table the part is
// turned about the datum, which lies on the table's axis where its cross slides stand at zero.
func (m *planMaker) stands(at geom.Point, table geom.Bearing) geom.Point {
	from := at.Sub(m.datum)
	if !m.rotary {
		return from
	}
	return geom.Point{}.Along(from.Bearing()+table, from.Norm())
}

func (m *planMaker) choice(c *part.Choice) PlanChoice {
	x := PlanChoice{m.lengths(c.Cutters), c.Settings, c.Proven, []PlanSingle{}}
	for _, s := range c.Singles {
		x.Singles = append(x.Singles, PlanSingle{m.length(s.Cutter), s.Settings, whole(s.Cannot)})
	}
	return x
}

// whole is a list that is written as one even where nothing is in it.
func whole(n []int) []int { return append([]int{}, n...) }

func (m *planMaker) order(x *Plan, p *part.Plan) {
	x.made, x.taken, x.step = p, p.Taken(), map[int]int{}
	for i, s := range p.Order {
		step := PlanStep{N: s.N, Sets: s.Sets, Changes: m.known(s.Changes), Reasons: []string{}, Passes: m.lengths(s.Passes),
			Spring: s.Spring}
		if len(s.Passes) > 0 {
			step.Holds = p.Holding(i)
		}
		for _, r := range s.Reasons {
			step.Reasons = append(step.Reasons, r.String())
		}
		x.step[s.N] = len(x.Steps)
		x.Order, x.Steps = append(x.Order, s.N), append(x.Steps, step)
	}
	for _, l := range p.Mills {
		x.Mills = append(x.Mills, PlanMill{l.N, m.length(l.Depth), l.Bosses, p.Order[l.Place].N})
	}
	for _, r := range p.Releases {
		x.Frees = append(x.Frees, PlanFree{r.N, whole(r.Left), m.length(r.Depth)})
	}
}

func (m *planMaker) problem(q part.Problem) PlanProblem {
	x := PlanProblem{q.Kind.String(), q.N, q.Other, m.place(q.At), m.length(q.Size), m.length(q.Need), m.known(q.Cutter), q.Text(m.u)}
	switch q.Kind.Size() {
	case part.Angle:
		x.Size, x.Need = planAngle(geom.Bearing(q.Size)), planAngle(geom.Bearing(q.Need))
	case part.Count:
		x.Size, x.Need = Number(q.Size), Number(nan)
	case part.Length:
	}
	return x
}

// notes tells in words: what was done to the drawing, what is amiss, what comes loose when.
func (m *planMaker) notes(x *Plan, from Planned) {
	for _, n := range from.Told {
		x.Notes = append(x.Notes, n.Format(m.u))
	}
	for _, q := range x.Problems {
		x.Notes = append(x.Notes, q.Text)
	}
	if len(x.Cutters) == 0 {
		x.Notes = append(x.Notes, noteNoCutter)
	}
	if s := from.Offset; s != nil && (s.Low != 0 || s.High != 0) { // by its own scale, whose zero need not be that of the radius
		x.Notes = append(x.Notes, fmt.Sprintf("the machine's offset slide goes from %s to %s %v by its own scale, and no swing radius is held "+
			"against it: say --travel LEAST,MOST, the swing radii that it can set", x.Length(m.length(s.Low)), x.Length(m.length(s.High)), x.Unit))
	}
	if m.rotary && slices.ContainsFunc(x.Lines, func(l PlanLine) bool { return len(l.Readout) > 0 }) {
		x.Notes = append(x.Notes, noteCrossZero)
	}
	if slices.ContainsFunc(x.Arcs, func(a PlanArc) bool { return a.Entry == wayIn(setup.WayInWaste) && a.Slot == 0 }) {
		x.Notes = append(x.Notes, noteStock)
	}
	x.Notes = append(append(x.Notes, x.floorNotes()...), x.takenNotes()...)
	m.layNotes(x)
	m.plunging(x, from)
	for i := range x.Slots {
		s := &x.Slots[i]
		if s.SinglePass {
			x.Notes = append(x.Notes, fmt.Sprintf("slot %d: cutter %s %v fills it, one pass; a full-width pass cuts wide: good enough "+
				"for a clearance slot, else take a smaller cutter and the walls after",
				s.N, x.Length(s.Cutter), x.Unit))
		}
		x.Notes = append(x.Notes, fmt.Sprintf("slot %d begins in solid metal: a cutter that cuts to its centre, or a drilled hole "+
			"to begin in", s.N))
	}
	for _, f := range x.Frees {
		x.Notes = append(x.Notes, x.freesNote(&f))
	}
}

// Notes of a plan.
const (
	noteNoCutter  = "no cutter is named, so swing radii are left open"
	noteStock     = "how far the stock reaches is not in the drawing: where it ends short of a start in the waste, come in from off the part"
	noteCrossZero = "readouts of straights hold with the table's cross slides back at zero, the datum over the table's axis"
)
