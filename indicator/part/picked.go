package part

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// Picked is the arc of a plan that a setting is for, as the setting's opening keeps it. Lengths are millimetres, angles
// radians; the arc runs counter-clockwise from From to To.
type Picked struct {
	Part    string       `json:"part"` // the part's name
	N       int          `json:"n"`    // the arc's number in the plan
	Centre  geom.Point   `json:"centre"`
	Radius  float64      `json:"radius"`
	From    geom.Bearing `json:"from"`
	To      geom.Bearing `json:"to"`
	Side    string       `json:"side"` // where the metal is: inside, outside or on
	Cutter  float64      `json:"cutter"`
	Swing   float64      `json:"swing"`
	Readout geom.Point   `json:"readout"` // centre − datum
	// Lone says that no whole circle is drawn about the centre: there may be nothing to sweep.
	Lone bool `json:"lone,omitempty"`
	// Circles are those about other centres, the nearest first; the questions alone ask for them.
	Circles []job.Circle `json:"-"`
	Sense   string       `json:"sense"` // clockwise, anticlockwise or none: of the head, or of the table
	// CutterBearing is the bearing of the cutter from a table's axis, nil of a head and in settings of old.
	CutterBearing *geom.Bearing `json:"cutter_bearing,omitempty"`
	// BeforeFrom and BeforeTo are how far from an end in an inner corner the cutter has to stay, radians.
	BeforeFrom geom.Bearing `json:"before_from,omitempty"`
	BeforeTo   geom.Bearing `json:"before_to,omitempty"`
	// AtFrom and AtTo are the windows of the stops, nil of an end that is no tangent, of a full circle, and in settings of old.
	AtFrom *Window `json:"at_from,omitempty"`
	AtTo   *Window `json:"at_to,omitempty"`
	// Frees says that the part comes loose with this arc.
	Frees bool `json:"frees,omitempty"`
	// CornerFrom and CornerTo are those of an end that is no tangent: as far as its tolerance and what stands there let it be.
	CornerFrom *Window `json:"corner_from,omitempty"`
	CornerTo   *Window `json:"corner_to,omitempty"`
	// LetPass is the gouge, and what may stand proud, that the windows let pass, millimetres; 0 in settings of old.
	LetPass float64 `json:"let_pass,omitempty"`
	// Depth is from the top of the stock to the floor of the arc's cut, 0 where the drawing does not say; Step how deep one pass
	// may go, Spring asks for a spring pass, and WayIn is where the cutter may go down.
	Depth  float64     `json:"depth,omitempty"`
	Step   float64     `json:"step,omitempty"`
	Spring bool        `json:"spring,omitempty"`
	WayIn  setup.WayIn `json:"entry,omitempty"`
}

// Check refuses what no plan can have picked.
func (p *Picked) Check() error {
	switch {
	case p == nil:
		return nil
	case p.N < 1 || !(p.Radius > 0):
		return fmt.Errorf("arc %d of radius %v mm, need a number from 1, and a radius above 0", p.N, p.Radius)
	case p.Swing < 0 || p.Cutter < 0:
		return fmt.Errorf("arc %d: swing radius %v mm and cutter %v mm, need none below 0", p.N, p.Swing, p.Cutter)
	case p.Depth < 0 || p.Step < 0 || p.LetPass < 0:
		return fmt.Errorf("arc %d: depth %v mm, step %v mm, let pass %v mm, need none below 0", p.N, p.Depth, p.Step, p.LetPass)
	case p.Side != "" && !slices.Contains([]string{On.String(), Inside.String(), Outside.String()}, p.Side):
		return fmt.Errorf("arc %d: side %q, need %v, %v or %v", p.N, p.Side, On, Inside, Outside)
	case p.Sense != "" && !slices.Contains([]string{NoSense.String(), Anticlockwise.String(), Clockwise.String()}, p.Sense):
		return fmt.Errorf("arc %d: sense %q, need %v, %v or %v", p.N, p.Sense, NoSense, Anticlockwise, Clockwise)
	}
	return nil
}

// Window is how far the cutter may be off a tangent end, radians: beyond it by Past before it gouges, nil for as far as one
// likes, and before it by Short before too much stands proud.
type Window struct {
	Past  *geom.Bearing `json:"past"`
	Short geom.Bearing  `json:"short"`
}

// window is that of an end of a plan, where it has one.
func window(e *End) *Window {
	if !e.Tangent || e.Before > 0 {
		return nil
	}
	w := &Window{Short: geom.Bearing(e.Short)}
	if past := geom.Bearing(min(e.Past, e.Clear)); !math.IsInf(float64(past), 0) {
		w.Past = &past
	}
	return w
}

// corner is the window of an end that is no tangent, of what is swung at a radius: a tolerance either way, and no farther beyond the
// end than the cutter may go there; as far as one likes past an outer corner, and not at all towards an inner one.
func corner(e *End, tolerance, swing float64) *Window {
	if e.Tangent && !(e.Before > 0) {
		return nil
	}
	w := &Window{Short: geom.Bearing(tolerance / swing)}
	past := min(e.Past, e.Clear)
	switch {
	case e.Before > 0:
		past = 0
	case math.IsInf(past, 1) && e.Next != 0:
		return w
	default:
		past = min(past, tolerance/swing)
	}
	w.Past = (*geom.Bearing)(&past)
	return w
}

// Run is where the arc begins and where it stops as it is cut, radians: bearings of the arc, or, turned, how far
// the table stands turned. ok is false of a full circle, and of a table whose cutter stands nobody knows where.
func (a *Picked) Run(turned bool) (start, stop geom.Bearing, ok bool) {
	if a.full() || turned && a.CutterBearing == nil {
		return 0, 0, false
	}
	start, stop = a.From, a.To
	if a.BeginsAtTo(turned) {
		start, stop = a.To, a.From
	}
	if turned {
		start, stop = *a.CutterBearing-start, *a.CutterBearing-stop
	}
	return start, stop, true
}

// full reports whether the arc is a full circle.
func (a *Picked) full() bool { return a.To-a.From >= 2*math.Pi-1e-12 }

// BeginsAtTo reports whether the arc is begun at To as it is cut.
func (a *Picked) BeginsAtTo(turned bool) bool {
	return a.Sense == Clockwise.String() && !turned || a.Sense == Anticlockwise.String() && turned
}

// ArcError says why arc N of a plan cannot be set.
type ArcError struct {
	N    int
	Why  string // value seen, then value needed
	hint string
}

func (e *ArcError) Error() string { return fmt.Sprintf("arc %d: %s", e.N, e.Why) }

// Hint says what to do.
func (e *ArcError) Hint() string { return e.hint }

// Pick takes arc n of a plan, of the part that is called name. It returns an *[ArcError] for a number that is no
// arc, and for an arc that no cutter at hand can do.
func Pick(p *Plan, n int, name string) (*Picked, error) {
	a := p.Swung(n)
	if a == nil {
		return nil, &ArcError{n, "the drawing has no such arc, need " + numbers(p.Arcs), "trammel plan lists them"}
	}
	if a.Swing == 0 && a.Slot > 0 && p.Swung(a.Slot).Swing > 0 {
		return nil, &ArcError{n, fmt.Sprintf("made by the one pass of slot %d, need that number", a.Slot),
			fmt.Sprintf("set slot %d instead", a.Slot)}
	}
	if !(a.Swing > 0) && p.problem(OutOfTravel, n) >= 0 {
		return nil, &ArcError{n, BeyondTravel.String() + ", need a cutter that brings its swing radius within it",
			"trammel plan says where the slide ends"}
	}
	if !(a.Swing > 0) {
		return nil, &ArcError{n, "no swing radius, need a cutter that can do it",
			"name the cutters at hand with --cutter; trammel plan says what stands in the way"}
	}
	if i := p.problem(Gouge, n); i >= 0 {
		return nil, &ArcError{n, "it would gouge: " + p.Problems[i].Text(geom.Millimetre),
			"take a smaller cutter, or say where the metal is with --metal"}
	}
	out := p.picked(a, name)
	out.Lone, out.Circles = p.circles(a.Centre)
	return out, nil
}

// picked are the figures of an arc that can be set.
func (p *Plan) picked(a *Arc, name string) *Picked {
	out := &Picked{Part: name, N: a.N, Centre: a.Centre, Radius: a.Radius, From: a.From, To: a.To, Side: a.Side.String(),
		Cutter: a.Cutter, Swing: a.Swing, Readout: a.Readout, Sense: a.Sense.String()}
	out.BeforeFrom, out.BeforeTo = geom.Bearing(a.Ends[0].Before), geom.Bearing(a.Ends[1].Before)
	if !a.Full() {
		out.AtFrom, out.AtTo = window(&a.Ends[0]), window(&a.Ends[1])
		out.CornerFrom, out.CornerTo = corner(&a.Ends[0], p.limits.End, a.Swing), corner(&a.Ends[1], p.limits.End, a.Swing)
		out.LetPass = p.limits.Gouge
	}
	out.Frees = slices.ContainsFunc(p.Releases, func(r Release) bool { return r.N == a.N })
	if a.Depth > 0 {
		out.Depth, out.Step, out.Spring, out.WayIn = a.Depth, p.stepTo(a.N), p.spring, a.WayIn
	}
	if at, rotary := p.Rotary(); rotary {
		out.CutterBearing = &at
	}
	return out
}

// circles are the whole circles about other centres than one, the nearest first; lone says that there is none about that one itself.
func (p *Plan) circles(centre geom.Point) (lone bool, out []job.Circle) {
	lone = true
	for i := range p.Arcs {
		a := &p.Arcs[i]
		switch {
		case !a.Full():
		case a.Centre.Sub(centre).Norm() <= job.Concentric:
			lone = false
		default:
			out = append(out, job.Circle{N: a.N, Centre: a.Centre, Radius: a.Radius})
		}
	}
	slices.SortStableFunc(out, func(x, y job.Circle) int {
		return cmp.Compare(x.Centre.Sub(centre).Norm(), y.Centre.Sub(centre).Norm())
	})
	return lone, out
}

// problem is where a problem of arc n stands, −1 for none of the kind.
func (p *Plan) problem(kind Kind, n int) int {
	return slices.IndexFunc(p.Problems, func(q Problem) bool { return q.Kind == kind && q.N == n })
}

// numbers lists arcs by their numbers.
func numbers(arcs []Arc) string {
	const shown = 12
	var all []string
	for _, a := range arcs {
		if len(all) == shown {
			return "one of " + strings.Join(all, ", ") + " …"
		}
		all = append(all, strconv.Itoa(a.N))
	}
	if len(all) == 0 {
		return "one that has arcs"
	}
	return "one of " + strings.Join(all, ", ")
}

// Figures are what the arc puts in the place of a job file's own; nil of nil, where the file stands alone.
func (a *Picked) Figures() *job.Figures {
	if a == nil {
		return nil
	}
	f := &job.Figures{Swing: a.Swing, Centre: a.Centre, Lone: a.Lone, Circles: a.Circles, Depth: a.Depth, Step: a.Step, Spring: a.Spring,
		Entry: a.WayIn}
	if a.Cutter > 0 && a.Side != On.String() { // on a slot's centre line the cutter leaves metal on no one side
		f.Cutter, f.Metal = a.Cutter, a.Side
	}
	return f
}

// Cut is how deep the arc is cut and in which steps, by the drawing: all that is known of the cut along a slot's centre line, which
// leaves metal on no one side. It is nil of nil, and where the drawing says no depth.
func (a *Picked) Cut() *setup.Cut {
	if a == nil || a.Depth == 0 {
		return nil
	}
	return &setup.Cut{Cutter: a.Cutter, Depth: a.Depth, Step: a.Step, Spring: a.Spring, Entry: a.WayIn}
}
