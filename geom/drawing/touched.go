package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Form is what touched points are taken for.
type Form uint8

// The zero Form lets the points decide.
const (
	AnyForm Form = iota
	StraightForm
	ArcForm
)

func (f Form) String() string { return [...]string{"element", "straight", "arc"}[f] }

// Group are points touched along one element, in the order along it, mm. Line is where the first stands
// in the text.
type Group struct {
	Name   string
	Form   Form
	Points []geom.Point
	Line   int
}

// MaxTouched is the most points that are fitted together, and MaxGroups the most elements.
const (
	MaxTouched = 1000
	MaxGroups  = 100
)

// TouchOptions say how touched points are fitted. Lengths are millimetres.
type TouchOptions struct {
	// Repeatability is the standard deviation of one touch, square to the surface; 0 where it is not
	// known. It counts as much as fit.Prior's eight degrees of freedom.
	Repeatability float64
	// Closed says that the last element runs on into the first.
	Closed bool
	// Layer is what the elements are put on.
	Layer string
}

// priorDof is what a stated repeatability is worth.
const priorDof = 8

// ErrNoRepeatability: points that nobody grouped can only be told apart by how well a touch repeats.
var ErrNoRepeatability = errors.New("touched points without groups and without a repeatability, need one of the two")

// GroupError: touched points cannot be fitted. Group counts from 1.
type GroupError struct {
	Group int
	Name  string
	Line  int
	Why   error
}

func (e *GroupError) Error() string {
	name := ""
	if e.Name != "" {
		name = " " + quoted(e.Name)
	}
	return fmt.Sprintf("line %d: group %d%s: %v", e.Line, e.Group, name, e.Why)
}

func (e *GroupError) Unwrap() error { return e.Why }

// ParseTouched reads touched points: lines x y, split by spaces, tab, semicolon or comma; a decimal comma
// is understood where the split is no comma. A blank line, or a line that ends in a colon and names what
// follows, begins a new element; a name that begins with line or arc says what it is. # begins a comment.
func ParseTouched(text []byte, unit geom.Unit) ([]Group, error) {
	var out []Group
	fresh, n := true, 0
	for i, line := range bytes.Split(text, []byte("\n")) {
		row := strings.TrimSpace(string(line))
		if at := strings.IndexByte(row, '#'); at >= 0 {
			if row = strings.TrimSpace(row[:at]); row == "" {
				continue
			}
		}
		if row == "" {
			fresh = true
			continue
		}
		if name, ok := strings.CutSuffix(row, ":"); ok {
			out, fresh = append(out, named(strings.TrimSpace(name), i+1)), false
			continue
		}
		p, err := pair(row, i+1, unit)
		if err != nil {
			return nil, err
		}
		if n++; n > MaxTouched {
			return nil, &LimitError{What: "touched points", Most: MaxTouched, Line: i + 1}
		}
		if fresh {
			out, fresh = append(out, Group{Line: i + 1}), false
		}
		last := &out[len(out)-1]
		if last.Points = append(last.Points, p); len(out) > MaxGroups {
			return nil, &LimitError{What: "groups", Most: MaxGroups, Line: i + 1}
		}
	}
	if n == 0 {
		return nil, &SyntaxError{Line: 1, Why: "no points, need lines of x and y"}
	}
	return out, nil
}

func named(name string, line int) Group {
	g := Group{Name: strings.ToValidUTF8(name, "?"), Line: line}
	switch first, _, _ := strings.Cut(name, " "); first {
	case "line", "straight":
		g.Form = StraightForm
	case "arc":
		g.Form = ArcForm
	}
	return g
}

// pair reads the two numbers of a line.
func pair(row string, line int, unit geom.Unit) (geom.Point, error) {
	parts := strings.FieldsFunc(row, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' })
	if len(parts) != 2 {
		parts = strings.FieldsFunc(row, func(r rune) bool { return r == ' ' || r == '\t' || r == ',' })
	}
	if len(parts) != 2 {
		return geom.Point{}, &SyntaxError{Line: line, Why: fmt.Sprintf("%.40q, need x and y, or a name with a colon", row)}
	}
	var v [2]float64
	for i, s := range parts {
		x, err := geom.ParseNumber(strings.Trim(s, ","))
		if err != nil {
			return geom.Point{}, &SyntaxError{Line: line, Why: err.Error()}
		}
		if v[i] = unit.MM(x); v[i] > Largest || v[i] < -Largest {
			return geom.Point{}, &SyntaxError{Line: line, Why: fmt.Sprintf("%v, need a number not beyond %.0e", x, Largest)}
		}
	}
	return geom.Point{X: v[0], Y: v[1]}, nil
}

// Fitted is one element and how well its points fix it. What cannot be known is NaN.
type Fitted struct {
	geom.Element
	Name string
	N    int
	// Covariance is that of an arc, over (Radius, x, y), mm².
	Covariance fit.Sym3
	// RadiusU and CentreU are an arc's 95 % uncertainties, mm; HeadingU a straight's, radians.
	RadiusU  float64
	CentreU  geom.Point
	HeadingU float64
	// Off is how far the farthest of its points lies off it, mm.
	Off float64
}

// Blend of touched elements: where one runs into the next.
type TouchedBlend struct {
	// Miss is how far the two were from touching each other in a tangent, each fitted alone, mm, and
	// MissU its 95 % uncertainty: NaN where no tangent could be meant.
	Miss, MissU float64
	// Tangent says that the miss is within its doubt, and the two were fitted so that they are tangent.
	Tangent bool
	geom.Meeting
}

// Touched are the elements of an existing part.
type Touched struct {
	Outline
	Elements []Fitted
	Blends   []TouchedBlend
	// Sigma is the standard deviation of one touch, mm, and Dof its degrees of freedom; NaN and 0 where
	// nothing tells it.
	Sigma, Dof float64
}

// FitTouched fits straights and arcs to touched points by orthogonal distance, all together. Where two
// that follow one another are tangent within their doubt, they are fitted tangent; otherwise the corner
// is left as it is. A single group without a name is first cut into elements: the cut that explains
// the points best within the repeatability, each further element paid for (Bayesian information criterion,
// G. Schwarz, Ann. Statist. 6 (1978) 461–464, from memory).
//
// It returns a *[GroupError] for a group that cannot be fitted, a *[LimitError], or ErrNoRepeatability.
//
// Covariance: s² times the upper left block of the inverse of [A Cᵀ; C 0], A the normal matrix and C the
// tangencies' gradients (least squares with constraints, from memory; held to a simulation by
// TestTouchedCoverage).
func FitTouched(groups []Group, opt TouchOptions) (Touched, error) {
	out := Touched{}
	var told tally
	total := 0
	for _, g := range groups {
		total += len(g.Points)
	}
	if total > MaxTouched || len(groups) > MaxGroups {
		return out, &LimitError{What: "touched points or groups", Most: MaxTouched}
	}
	if len(groups) == 1 && groups[0].Name == "" && groups[0].Form == AnyForm {
		if !(opt.Repeatability > 0) {
			return out, ErrNoRepeatability
		}
		groups = cutUp(groups[0], opt.Repeatability, &told)
	}
	j, err := newJoint(groups, opt)
	if err != nil {
		return out, err
	}
	if err := j.hold(); err != nil {
		return out, err
	}
	j.report(&out, &told)
	out.Notes = told.notes
	return out, nil
}
