package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/geom/plan"
)

// Part is the outline as it was read, for the plan: each element with its layer and where it comes from.
func Part(o *drawing.Outline) plan.Outline {
	return plan.Outline{Loops: pieces(o.Loops), Open: pieces(o.Open)}
}

func pieces(paths []drawing.Path) [][]plan.Piece {
	out := make([][]plan.Piece, len(paths))
	for i, p := range paths {
		for k, e := range p.Chain {
			from := p.From[k]
			out[i] = append(out[i], plan.Piece{Element: e, Layer: from.Layer, Source: origin(from)})
		}
	}
	return out
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
	Sense   string       `json:"sense"`   // clockwise, anticlockwise or none
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
	i := slices.IndexFunc(p.Arcs, func(a plan.Arc) bool { return a.N == n })
	if i < 0 {
		return nil, &ArcError{n, "the drawing has no such arc, need " + numbers(p.Arcs), "trammel plan lists them"}
	}
	a := &p.Arcs[i]
	if !(a.Swing > 0) {
		return nil, &ArcError{n, "no swing radius, need a cutter that can do it", "name the cutters at hand with --cutter; trammel plan says what stands in the way"}
	}
	return &Arc{Part: part, N: a.N, Centre: a.Centre, Radius: a.Radius, From: a.From, To: a.To, Side: a.Side.String(),
		Cutter: a.Cutter, Swing: a.Swing, Readout: a.Readout, Sense: a.Sense.String()}, nil
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

// ParseJobFor reads a job file for an arc: its setup, dial, sweep and tolerances, with the arc's swing radius
// for the target, whatever swing_radius the file names itself. The arc may be nil, then it is [ParseJob].
func ParseJobFor(name string, text []byte, a *Arc) (Job, error) {
	var raw rawJob
	f, err := decode(name, text, &raw)
	if err != nil {
		return Job{}, err
	}
	return f.job(&raw, a)
}
