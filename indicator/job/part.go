package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/geom/plan"
	"example.org/trammel/indicator"
)

// Statement says of an element of a closed path where its metal is, by more than one voice; nothing of most.
type Statement func(from drawing.Source, e geom.Element) []plan.Said

// Part is the outline as it was read, for the plan: each element with its layer and where it comes from, and what
// the drawing and others say of its metal.
func Part(o *drawing.Outline, others ...Statement) plan.Outline {
	return plan.Outline{Loops: pieces(o.Loops, append([]Statement{byDrawing}, others...)), Open: pieces(o.Open, nil)}
}

func pieces(paths []drawing.Path, say []Statement) [][]plan.Piece {
	out := make([][]plan.Piece, len(paths))
	for i, p := range paths {
		for k, e := range p.Chain {
			from := p.From[k]
			piece := plan.Piece{Element: e, Layer: from.Layer, Source: origin(from), Aside: from.Aside, Slot: from.Slot}
			for _, s := range say {
				piece.Metal = append(piece.Metal, s(from, e)...)
			}
			out[i] = append(out[i], piece)
		}
	}
	return out
}

// byDrawing is what the drawing itself says.
func byDrawing(from drawing.Source, _ geom.Element) []plan.Said {
	switch from.Metal {
	case drawing.MetalInside:
		return []plan.Said{{Side: plan.Inside, By: fmt.Sprintf("line %d of the drawing says inside", from.Line)}}
	case drawing.MetalOutside:
		return []plan.Said{{Side: plan.Outside, By: fmt.Sprintf("line %d of the drawing says outside", from.Line)}}
	case drawing.Unsaid:
	}
	return nil
}

// origin says where an element comes from: "LWPOLYLINE 2A, line 120".
func origin(s drawing.Source) string {
	out := s.Entity
	switch {
	case strings.HasPrefix(s.Handle, s.Entity): // touched points that were called so
		out = s.Handle
	case s.Handle != "":
		out += " " + s.Handle
	}
	if s.Block != "" {
		out += " in block " + s.Block
	}
	return fmt.Sprintf("%s, line %d", out, s.Line)
}

// Arc is the arc of a plan that a setting is for. Lengths are millimetres, angles radians; the arc runs
// counter-clockwise from From to To.
type Arc struct {
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
	Sense   string       `json:"sense"`   // clockwise, anticlockwise or none: of the head, or of the table
	// CutterBearing is the bearing of the cutter from a table's axis, nil of a head and in settings of old.
	CutterBearing *geom.Bearing `json:"cutter_bearing,omitempty"`
	// BeforeFrom and BeforeTo are how far from an end in an inner corner the cutter has to stay, radians.
	BeforeFrom geom.Bearing `json:"before_from,omitempty"`
	BeforeTo   geom.Bearing `json:"before_to,omitempty"`
}

// Run is where the arc begins and where it stops as it is cut, radians: bearings of the arc, or, turned, how far
// the table stands turned. ok is false of a full circle, and of a table whose cutter stands nobody knows where.
func (a *Arc) Run(turned bool) (start, stop geom.Bearing, ok bool) {
	if a.To-a.From >= 2*math.Pi-1e-12 || turned && a.CutterBearing == nil {
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

// BeginsAtTo reports whether the arc is begun at To as it is cut.
func (a *Arc) BeginsAtTo(turned bool) bool {
	return a.Sense == plan.Clockwise.String() && !turned || a.Sense == plan.Anticlockwise.String() && turned
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

// ArcOf is arc n of a plan, of the part that is called part. It returns an *[ArcError] for a number that is no
// arc, and for an arc that no cutter at hand can do.
func ArcOf(p *plan.Part, n int, part string) (*Arc, error) {
	a := p.Swung(n)
	if a == nil {
		return nil, &ArcError{n, "the drawing has no such arc, need " + numbers(p.Arcs), "trammel plan lists them"}
	}
	if a.Swing == 0 && a.Slot > 0 && p.Swung(a.Slot).Swing > 0 {
		return nil, &ArcError{n, fmt.Sprintf("made by the one pass of slot %d, need that number", a.Slot), fmt.Sprintf("set slot %d instead", a.Slot)}
	}
	if !(a.Swing > 0) {
		return nil, &ArcError{n, "no swing radius, need a cutter that can do it", "name the cutters at hand with --cutter; trammel plan says what stands in the way"}
	}
	if i := slices.IndexFunc(p.Problems, func(q plan.Problem) bool { return q.Kind == plan.Gouge && q.N == n }); i >= 0 {
		return nil, &ArcError{n, "it would gouge: " + p.Problems[i].Text(geom.Millimetre), "take a smaller cutter, or say where the metal is with --metal"}
	}
	out := &Arc{Part: part, N: a.N, Centre: a.Centre, Radius: a.Radius, From: a.From, To: a.To, Side: a.Side.String(),
		Cutter: a.Cutter, Swing: a.Swing, Readout: a.Readout, Sense: a.Sense.String()}
	out.BeforeFrom, out.BeforeTo = geom.Bearing(a.Ends[0].Before), geom.Bearing(a.Ends[1].Before)
	if at, rotary := p.Rotary(); rotary {
		out.CutterBearing = &at
	}
	return out, nil
}

// numbers lists arcs by their numbers.
func numbers(arcs []plan.Arc) string {
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

// into puts the arc's figures in the place of the file's own: its swing radius, and the cutter and the side
// of the metal, with as much stock as the file leaves on. Of nil it does nothing.
func (a *Arc) into(raw *rawJob, u geom.Unit) {
	if a == nil {
		return
	}
	swing, cutter := u.From(a.Swing), u.From(a.Cutter)
	raw.Target.SwingRadius = &swing
	stock := raw.Cut
	if raw.Cut = nil; a.sided() {
		raw.Cut = &rawCut{Metal: &a.Side, Cutter: &cutter}
		if stock != nil {
			raw.Cut.Stock, raw.Cut.MeasuredError, raw.Cut.CutterError = stock.Stock, stock.MeasuredError, stock.CutterError
		}
	}
}

// sided reports whether the arc says on which side a cutter of which diameter leaves metal.
func (a *Arc) sided() bool { return a.Cutter > 0 && a.Side != plan.On.String() }

// exact puts the figures in again that have gone by way of the file's unit.
func (a *Arc) exact(j *Job) {
	if a == nil {
		return
	}
	j.Target.SwingRadius = a.Swing
	if j.Cut != nil {
		j.Cut.Cutter = a.Cutter
	}
}

// Draft is a job file whose target may still be chosen.
type Draft struct {
	Unit  geom.Unit
	Setup indicator.Setup
	// Cutters are the diameters at hand, millimetres.
	Cutters []float64

	raw  rawJob
	file file
}

// ReadJob reads a job file. name is what messages call it. The error is an *[Error]; what is wrong with its
// numbers is told by [Draft.For].
func ReadJob(name string, text []byte) (*Draft, error) {
	d := &Draft{}
	f, err := decode(name, text, &d.raw)
	if err != nil {
		return nil, err
	}
	d.file = *f
	j, _ := f.job(&d.raw, nil)
	d.Unit, d.Setup = j.Unit, j.Setup
	for _, c := range d.raw.Cutters {
		d.Cutters = append(d.Cutters, length(j.Unit, c))
	}
	return d, nil
}

// Tolerance is the file's tolerance on the swing radius, millimetres; 0 where it has none that is one.
func (d *Draft) Tolerance() float64 {
	if t := d.raw.Target.Tolerance; t != nil && *t > 0 && !math.IsInf(*t, 0) {
		return length(d.Unit, *t)
	}
	return 0
}

// For is the job for an arc: the file's setup, dial, sweep, tolerances and stock, with the arc's swing radius for
// the target, its cutter and its side of the metal, whatever the file says of these itself. Of nil it is the
// job as the file has it.
// The error is an *[Error]: the reach must bring the dial's range to the target.
func (d *Draft) For(a *Arc) (Job, error) {
	raw, f := d.raw, d.file // both may be asked again
	j, err := f.job(&raw, a)
	if err != nil {
		return Job{}, err
	}
	return j, nil
}
