package session

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// MeasuredBy is the way in which a finished arc was measured, with what was read, millimetres. Assumed says that nobody has
// said how well the lengths on the work were measured, and the usual limit was taken.
type MeasuredBy struct {
	Way     string    `json:"way"`
	Figures []Figured `json:"figures"`
	Assumed bool      `json:"assumed,omitempty"`
}

// Figured is one figure of it, by its name among [check.Lengths], with what was stated of its doubt as in [check.Figure].
type Figured struct {
	Name       string  `json:"name"`
	V          float64 `json:"is"`
	Limit      float64 `json:"limit,omitempty"`
	Resolution float64 `json:"resolution,omitempty"`
	Repeat     float64 `json:"repeat,omitempty"`
}

// figure hands out a figure by its name.
func (b *MeasuredBy) figure(name string) check.Figure {
	if i := slices.IndexFunc(b.Figures, func(f Figured) bool { return f.Name == name }); i >= 0 {
		f := b.Figures[i]
		return check.Figure{V: f.V, Limit: f.Limit, Resolution: f.Resolution, Repeat: f.Repeat}
	}
	return check.Figure{}
}

// way is the row of the way; nil of one that this program does not know.
func (b *MeasuredBy) way() *check.Way {
	if i := slices.IndexFunc(check.Ways, func(w check.Way) bool { return w.Name == b.Way && w.Says != nil }); i >= 0 {
		return &check.Ways[i]
	}
	return nil
}

// check refuses what is no way, and figures that are not those of the way.
func (b *MeasuredBy) check() error {
	w := b.way()
	if w == nil {
		return fmt.Errorf("way %q, which this program does not know", b.Way)
	}
	var names []string
	for _, f := range b.Figures {
		names = append(names, f.Name)
	}
	if check.WayOf(names) != w {
		return fmt.Errorf("way %q with the figures %q, need %q", b.Way, names, w.Needs)
	}
	return nil
}

// Gauged is what an arc's measurement says of its radius by the way it was measured in; ok is false of a bare radius.
func (s *State) Gauged(w *Worked) (a check.Arc, way *check.Way, ok bool) {
	if w.By == nil || w.By.way() == nil {
		return a, nil, false
	}
	way = w.By.way()
	a, err := way.Measure(w.By.figure, s.metal())
	return a, way, err == nil
}

// ShouldHave is what the figure that the way aims at should have been for an arc of a radius; ok is false where there is none.
func (s *State) ShouldHave(w *Worked, radius float64) (name string, v float64, ok bool) {
	if w.By == nil || w.By.way() == nil {
		return "", 0, false
	}
	way := w.By.way()
	v, ok = way.Should(w.By.figure, s.metal(), radius)
	return way.Aim, v, ok
}

// metal is the side of the metal of the setting that is open.
func (s *State) metal() check.Side { return metal(s.Set.Job.Cut != nil && s.Set.Job.Cut.Hollow) }

// Meant is the radius that an arc is meant to have where a step asks for it: with its stock on, or finished; 0 where the job
// does not say.
func (s *State) Meant(c Chore) float64 {
	r := s.Set.Job.Arc()
	if c == Measure && s.ByTrial() {
		return s.lastCut().meant
	}
	left := slices.ContainsFunc(s.Worked, func(w Worked) bool { return w.Step == LeaveStock && !w.Skipped })
	if c == Measure && r > 0 && left {
		r += s.Set.Job.Cut.Left()
	}
	return r
}

// span is what is known of the arc that a step asks for.
func (s *State) span(c Chore) check.Span {
	x := check.Span{Side: s.metal(), Sided: s.Set.Job.Cut != nil, Radius: s.Meant(c), Hole: 2 * s.Set.Job.Setup.ReferenceRadius,
		NoHole: "no radius is stated of the hole or boss that was swept, need one (setup.reference_radius)"}
	if s.SetUp().Does().Away {
		x.Hole, x.NoHole = 0, "what was swept stands away from this arc's centre, and there is no wall from it to the arc"
	}
	if a := s.Set.Arc; a != nil {
		x.Angle = float64(a.To - a.From)
	}
	return x
}

// AskedWay is a way in which the arc that is asked for can be measured: what is said for it, the figures that it takes one
// after the other, and why it cannot be taken here; empty where it can.
type AskedWay struct {
	Says  string // "chord C sagitta H"
	Asks  []check.Length
	Why   string
	Named string
}

// Ways are the ways in which the arc that is asked for can be measured; none where none is asked for.
func (s *State) Ways() (out []AskedWay) {
	c, _, _, ok := s.chore()
	if !ok || c.row().answer != arcRadius {
		return nil
	}
	span := s.span(c)
	for i := range check.Ways {
		if w := &check.Ways[i]; w.Says != nil {
			out = append(out, AskedWay{Says: saysOf(w), Asks: asksOf(w), Why: w.Not(&span), Named: w.Name})
		}
	}
	return out
}

// asksOf are the lengths that a way is said by.
func asksOf(w *check.Way) (out []check.Length) {
	for _, name := range w.Says {
		i := slices.IndexFunc(check.Lengths, func(l check.Length) bool { return l.Name == name })
		out = append(out, check.Lengths[i])
	}
	return out
}

// saysOf is how a way is said: "chord C sagitta H".
func saysOf(w *check.Way) string {
	var parts []string
	for _, l := range asksOf(w) {
		parts = append(parts, l.Name+" "+l.Letter)
	}
	return strings.Join(parts, " ")
}

// Gauge answers a step that asks for an arc with what was measured of it. Figures are those that were said, and Error,
// Resolution and Repeatability what was said of how the lengths on the work were measured, ToolError of pins; millimetres, 0
// where nothing was. Short says that it is a radius told by its diameter, however that was found.
type Gauge struct {
	Way                                         *check.Way
	Figures                                     []Figured
	Error, Resolution, Repeatability, ToolError float64
	Short                                       bool
}

func (g Gauge) row() *CommandRow { return gauges[max(0, slices.Index(waysSaid, g.Way))] }

// waysSaid are the ways that are taken at the machine, and gauges their rows in the same order; behind them stands the short
// word for a diameter.
var (
	waysSaid = saidWays()
	gauges   = gaugeRows()
)

func saidWays() (out []*check.Way) {
	for i := range check.Ways {
		if check.Ways[i].Says != nil {
			out = append(out, &check.Ways[i])
		}
	}
	return out
}

// across is the short word for a diameter.
const across = "d"

func gaugeRows() (out []*CommandRow) {
	for _, w := range waysSaid {
		out = append(out, command[Gauge]{word: w.Says[0], forms: []Phrase{{saysOf(w), "the arc, measured: " + w.Is}},
			parse:  func(rest string, u geom.Unit) (Gauge, error) { return parseGauge(w, rest, u) },
			decide: decideGauge}.row())
	}
	w := waysSaid[slices.IndexFunc(waysSaid, func(w *check.Way) bool { return w.Says[0] == "diameter" })]
	return append(out, command[Gauge]{word: across, forms: []Phrase{{across + " D", "the arc's radius, told by its diameter"}},
		parse: func(rest string, u geom.Unit) (Gauge, error) {
			g, err := parseGauge(w, rest, u)
			g.Short = true
			return g, err
		},
		decide: decideGauge}.row())
}

// doubtWord is one of these words, and the figure behind it.
type doubtWord struct {
	word string
	of   func(*Gauge) *float64
}

// doubtWords are what may be said behind the figures of how they were measured, as the flags of the verb check call it.
var doubtWords = []doubtWord{
	{"error", func(g *Gauge) *float64 { return &g.Error }},
	{"resolution", func(g *Gauge) *float64 { return &g.Resolution }},
	{"repeatability", func(g *Gauge) *float64 { return &g.Repeatability }},
	{"tool-error", func(g *Gauge) *float64 { return &g.ToolError }},
}

// parseGauge reads the figures of a way behind its first word: a number, then names with theirs in any order.
func parseGauge(w *check.Way, rest string, u geom.Unit) (Gauge, error) {
	g := Gauge{Way: w}
	like := saysOf(w) + ", in " + u.String() + "; error E behind it says how well it was measured, plus or minus"
	fields := append([]string{w.Says[0]}, geom.LengthFields(rest)...)
	said := map[string]bool{}
	for i := 0; i < len(fields); i += 2 {
		name := fields[i]
		if said[name] {
			return g, refuse(like, "%s is there twice, need it once", geom.PrintableLine(name))
		}
		said[name] = true
		if i+1 >= len(fields) {
			return g, refuse(like, "%s without its figure", geom.PrintableLine(name))
		}
		v, err := geom.ParseLength(fields[i+1], u)
		if err != nil {
			return g, refuse(like, "%s: %v", geom.PrintableLine(name), err)
		}
		if v = u.MM(v); !(v > 0) || math.IsInf(v, 0) {
			return g, refuse(like, "%s %s, need it above 0", geom.PrintableLine(name), geom.PrintableLine(fields[i+1]))
		}
		switch k := slices.IndexFunc(doubtWords, func(d doubtWord) bool { return d.word == name }); {
		case slices.Contains(w.Says, name):
			g.Figures = append(g.Figures, Figured{Name: name, V: v})
		case k >= 0:
			*doubtWords[k].of(&g) = v
		default:
			return g, refuse(like, "%q is no figure of %s", geom.PrintableLine(name), w.Name)
		}
	}
	for _, name := range w.Says {
		if !said[name] {
			return g, refuse(like, "%s without %s", w.Says[0], name)
		}
	}
	return g, nil
}

func decideGauge(s *State, g Gauge) (Event, error) {
	c, _, _, ok := s.chore()
	if !ok || c.row().answer != arcRadius {
		return nil, refuse(s.hint(), "no arc is asked for, so %s is nothing to measure now", g.Way.Says[0])
	}
	span := s.span(c)
	why := g.Way.Not(&span)
	if g.Short && why != "" {
		return choreAsked{chore: c}.number(s, g.Figures[0].V/2)
	}
	u := s.Set.Job.Unit
	if why != "" {
		return nil, refuse("measure it another way, or skip; the step says which there are", "%s: %s", g.Way.Name, why)
	}
	by := s.by(&g, &span)
	a, err := g.Way.Measure(by.figure, span.Side)
	if err == nil {
		err = a.Beyond(&span)
	}
	if err != nil {
		return nil, refuseShape(err, u)
	}
	if err := s.checkArc(a.Radius.V); err != nil {
		return nil, err
	}
	return Worked{Step: c, Value: &a.Radius.V, By: &by}, nil
}

// refuseShape is the refusal of figures that no arc, or not this one, has.
func refuseShape(err error, u geom.Unit) error {
	var shape *check.ShapeError
	var place *indicator.PlaceError
	switch {
	case errors.As(err, &shape):
		return refuse(shape.Hint(), "%s", shape.In(u))
	case errors.As(err, &place):
		return refuse("check the figures", "%s %.6g %v, need it above 0", place.What, u.From(place.V), u)
	}
	return refuse("check the figures", "%v", err)
}

// by puts the doubts to the figures, and adds what the setting knows of a hole: its diameter, with the limit that is stated
// for the reference, and how far the accepted setting may have left its middle off the arc's.
func (s *State) by(g *Gauge, span *check.Span) MeasuredBy {
	b := MeasuredBy{Way: g.Way.Name, Figures: slices.Clone(g.Figures)}
	if g.Error == 0 && g.Resolution == 0 && g.Repeatability == 0 {
		b.Assumed, g.Error = true, s.usualLimit()
	}
	for i := range b.Figures {
		f := &b.Figures[i]
		at := slices.IndexFunc(check.Lengths, func(l check.Length) bool { return l.Name == f.Name })
		if check.Lengths[at].Tool {
			f.Limit = g.ToolError
			continue
		}
		f.Limit, f.Resolution, f.Repeat = g.Error, g.Resolution, g.Repeatability
	}
	if slices.Contains(g.Way.Needs, "hole") {
		b.Figures = append(b.Figures, Figured{Name: "hole", V: span.Hole, Limit: 2 * s.Set.Job.Setup.ReferenceLimit},
			Figured{Name: "off-centre", V: s.mostOff()})
	}
	return b
}

// usualLimit is how well a length on the work is taken to be measured where nobody says, ±, millimetres: what makes the
// standard uncertainty that the job states for a measured arc, or the usual one.
func (s *State) usualLimit() float64 {
	stated := 0.0
	if c := s.Set.Job.Cut; c != nil {
		stated = c.MeasuredError
	}
	m, _ := measuredOr(stated)
	return m / indicator.FromLimit(1)
}

// mostOff bounds how far the reference's middle may lie off the axis, as the accepted setting has left it, millimetres.
func (s *State) mostOff() float64 {
	f, err := s.Fit()
	if err != nil {
		return s.Set.Job.Target.CentreTolerance
	}
	g, _ := s.Standing(&f)
	x, y := g.CentreX(), g.CentreY()
	if off := math.Hypot(math.Abs(x.V)+x.U, math.Abs(y.V)+y.U); off < math.Inf(1) {
		return off
	}
	return s.Set.Job.Target.CentreTolerance
}

// measuredDoubt is the standard uncertainty of an arc's measurement; 0 where neither its way nor the job says.
func (s *State) measuredDoubt(w *Worked) float64 {
	if a, _, ok := s.Gauged(w); ok && !a.Radius.Open {
		return a.Radius.Value().U / fit.Coverage(math.Inf(1))
	}
	return s.Set.Job.Cut.MeasuredError
}

// checkArc refuses a radius that no arc of this setting has. It does not say which was set: the eye would go by it.
func (s *State) checkArc(v float64) error {
	u := s.Set.Job.Unit
	switch {
	case !(v > 0) || math.IsInf(v, 0):
		return refuse("type the radius, like 38.31, or skip", "radius %.6g %v, need above 0", u.From(v), u)
	case s.Set.Job.Cut == nil || math.Abs(v-s.Set.Job.Arc()) <= mostBeside:
		return nil
	case s.ByTrial() && math.Abs(v-s.Meant(Measure)) <= mostBeside:
		return nil
	}
	const again = "measure again, or skip"
	off := func(hint string) error {
		return refuse(hint, "radius %.6g %v is more than %.4g %v off the arc that was set", u.From(v), u, u.From(mostBeside), u)
	}
	if math.Abs(v/2-s.Set.Job.Arc()) > mostBeside {
		return off(again)
	}
	return pressed(off(fmt.Sprintf("is that the diameter? say it as one, like %s %.6g; or %s", across, u.From(v), again)), s.asDiameter())
}

// asDiameter says how a keypad tells a diameter: by its line of the list, which an arc has that can be measured across.
func (s *State) asDiameter() string {
	for _, w := range s.Ways() {
		if w.Says == "diameter D" && w.Why == "" {
			return "is that the diameter? *, then the line diameter D; or measure again"
		}
	}
	return "is that the diameter? half of it is the radius; or measure again"
}
