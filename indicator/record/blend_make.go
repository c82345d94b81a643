package record

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
)

// NewBlends foretells the steps of a plan and advises how to aim its settings to come, in unit u. notes are told
// first. The error is a *[part.SituationError]: a journal holds numbers that are none.
func NewBlends(from Planned, made []Made, d part.Doubts, u geom.Unit, notes ...string) (Blends, error) {
	m := blendMaker{planMaker{u: u}, from.Part, part.Believe(from.Part, values(made), d)}
	steps, worst, err := m.Steps()
	if err != nil {
		return Blends{}, err
	}
	advice, err := m.Advise(true)
	if err != nil {
		return Blends{}, err
	}
	x := Blends{Unit: u, Part: from.Name, Arcs: []BlendArc{}, Blends: []Blended{}, Advice: []BlendAim{},
		Notes: append([]string{}, notes...)}
	for a := range from.Part.Swings() {
		x.Arcs = append(x.Arcs, m.arc(a.N, made))
	}
	for _, b := range from.Part.Blends {
		x.Blends = append(x.Blends, Blended{Between: b.Between, At: m.place(b.At), Readout: m.place(b.At.Sub(from.Options.Datum)),
			Tangent: b.Tangent})
	}
	for k, i := range m.Where {
		m.step(&x.Blends[i], steps[k])
		x.Blends[i].After = m.value(advice.After[k])
	}
	if worst >= 0 {
		x.Worst = &m.Where[worst]
	}
	for a := range from.Part.Swings() {
		m.aims(&x, a, advice.Aims)
	}
	x.leanOn(made)
	m.notes(&x, d)
	return x, nil
}

// blendMaker puts what is believed into a unit.
type blendMaker struct {
	planMaker
	part *part.Plan
	part.Believed
}

// value is a step with ±95 %: the uncertainties hold the few readings' widening already. What is left of an
// aim by rounding is 0.
func (m *blendMaker) value(f part.Foretold) *Value {
	if math.Abs(f.Value) < 1e-9 {
		f.Value = 0
	}
	return &Value{m.length(f.Value), m.length(fit.Coverage(math.Inf(1)) * f.U)}
}

func (m *blendMaker) step(b *Blended, f part.Foretold) {
	b.Step = m.value(f)
	if tiny(float64(b.Step.Value), m.u) {
		return
	}
	n := b.Between[0]
	if f.Value < 0 {
		n = b.Between[1]
	}
	b.Prouder = &n
}

func (m *blendMaker) arc(n int, made []Made) BlendArc {
	a := BlendArc{N: n, State: m.Standing[n]}
	for i := range made {
		if made[i].N != n {
			continue
		}
		a.Journal = made[i].Journal
		a.Swing = ValueOf(m.u, made[i].Swing)
	}
	return a
}

// aims adds what arc a is to be aimed at, where that is more than nothing.
func (m *blendMaker) aims(x *Blends, a *part.Arc, aims []part.Aim) {
	at, ok := m.At[a.N]
	for _, aim := range aims {
		if !ok || aim.Setting != at {
			continue
		}
		b := BlendAim{Arc: a.N, Radius: m.length(aim.Radius), Swing: m.length(a.Swing + aim.Radius), Centre: m.place(aim.Centre),
			AtEdge: aim.AtEdge}
		if !tiny(float64(b.Radius), m.u) || !tiny(m.u.From(aim.Centre.Norm()), m.u) {
			x.Advice = append(x.Advice, b)
		}
	}
}

// leanOn says which figures of the settings made so far nobody has stated. An arc that was checked stands for itself.
func (x *Blends) leanOn(made []Made) {
	var on indicator.Assumed
	for i := range made {
		radius, _ := made[i].Assumed.Radius()
		for _, l := range radius {
			if made[i].Checked == nil && !slices.ContainsFunc(on, func(o indicator.Lean) bool { return o.Name == l.Name }) {
				on = append(on, l)
			}
		}
	}
	if x.Exact = on.Names(); len(on) > 0 {
		x.Notes = append(x.Notes, nobody(on)+": the steps go by them as if they were exact; "+cure(on))
	}
}

// notes tells what is believed without a reading.
func (m *blendMaker) notes(x *Blends, d part.Doubts) {
	length := func(mm float64) string { return geom.FormatFixed(m.u.From(mm), geom.Places(m.u.From(mm), m.u)) }
	say := func(format string, args ...any) { x.Notes = append(x.Notes, fmt.Sprintf(format, args...)) }
	x.Notes = append(x.Notes, m.Held...)
	open := false
	for _, s := range m.Settings {
		open = open || s.Open
	}
	if open {
		say("settings to come are believed at their figures, swing radius ±%s %v, centre within %s %v", length(d.Tolerance), m.u,
			length(d.CentreTolerance), m.u)
	}
	if len(m.Cutters) > 0 {
		say("each cutter's diameter is believed to ±%s %v (--cutter-error)", length(d.Cutter), m.u)
	}
	if m.Measured {
		say("a measured radius is believed to a standard uncertainty of %s %v (--measured-error)", length(d.Measured), m.u)
	}
	m.straights(x, d)
}
