// Package check is what a finished arc has to say: its radius by the measurements of the shop with the
// uncertainty of each, what that makes of the tolerance, the cutter that must have cut it, what it
// teaches for the next radius, and how much the last wind still has to do.
//
// Lengths are millimetres. Budgets are those of [indicator.Measure], and a finished arc's is made as a reach's is: a
// limit counts by /√3, a step by half of it over √3, and a stated repeatability has [indicator.RepeatDof] degrees of
// freedom. What is known beforehand (pin, base, pitch, ball) is exact unless somebody says otherwise, and the arc
// names it; a figure that was measured on the work without any doubt leaves the uncertainty open. The errors of
// one instrument in chord and sagitta count as independent.
package check

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Side says where the metal is, seen from the arc.
type Side uint8

const (
	// Inside: a boss, a convex rim. The cutter runs outside of the arc, R = r + D/2.
	Inside Side = iota
	// Outside: a hollow, a concave corner. The cutter runs inside of it, R = r − D/2.
	Outside
)

// sign is + where a larger cutter needs a larger swing radius.
func (s Side) sign() float64 {
	if s == Outside {
		return -1
	}
	return 1
}

// String is the word that flags and records use.
func (s Side) String() string {
	if s == Outside {
		return "outside"
	}
	return "inside"
}

// Other is the other side.
func (s Side) Other() Side { return 1 - s }

// Figure is a length that was measured, or is known. What is not stated of its doubt is 0.
type Figure struct {
	V float64
	// Limit bounds its error, ±, and Resolution is the step it was read in.
	Limit, Resolution float64
	// Repeat is the standard deviation of one such measurement, worth RepeatDof degrees of freedom
	// (0: as many as any stated repeatability, [indicator.RepeatDof]).
	Repeat, RepeatDof float64
	// Stated says that somebody has said how right it is, with a limit of 0 too.
	Stated bool
}

// doubted reports whether anything is stated of the figure's doubt.
func (f Figure) doubted() bool { return f.Stated || f.Limit > 0 || f.Resolution > 0 || f.Repeat > 0 }

// Remark is a sentence with lengths in it, which are put into a unit where it is shown: each %s stands
// for one of Lengths.
type Remark struct {
	Form    string
	Lengths []float64
	// Bars says that no verdict may be given while it stands.
	Bars bool
}

// In spells the remark in a unit.
func (r Remark) In(u geom.Unit) string {
	out, rest := "", r.Form
	for _, v := range r.Lengths {
		before, after, ok := strings.Cut(rest, "%s")
		if !ok {
			break
		}
		out, rest = out+before+fmt.Sprintf("%.6g %v", u.From(v), u), after
	}
	return out + rest
}

// ShapeError: figures that no arc has. It reads like a [Remark].
type ShapeError struct {
	Remark
	hint string
}

func (e *ShapeError) Error() string { return e.In(geom.Millimetre) }

// Hint says what to look at.
func (e *ShapeError) Hint() string { return e.hint }

// NumberError: a figure that is no number, or a doubt that is less than none.
type NumberError struct {
	What string
	V    float64
}

func (e *NumberError) Error() string {
	return fmt.Sprintf("%s %v, need a finite number, and of a doubt none below 0", e.What, e.V)
}

// Arc is a finished arc as one way of measuring has found it.
type Arc struct {
	// Way names the way, Formula is its formula.
	Way, Formula string
	Radius       indicator.Measure
	// Step is what the coarsest step that a figure was read in makes of the radius, and Farthest how far
	// the steps and limits of all figures together can put it out at the most.
	Step, Farthest float64
	// Half is how far to either side of its middle the arc has to reach for what touched it, radians, and Chord what was laid
	// across it, millimetres; 0 where there is no such thing.
	Half, Chord float64
	Remarks     []Remark
	// Assumed are the figures that were taken as exact.
	Assumed indicator.Assumed
}

// input is one figure of a way: its name, its derivative, and what to do about it.
type input struct {
	name string
	Figure
	slope float64
	// known says that the figure is of the tool, not of the work: it may be taken as exact.
	known bool
}

// finite refuses what is no number; bad is nil where all is well. A figure that has to be above 0 is
// asked of [above].
func finite(in ...input) error {
	for _, x := range in {
		for _, v := range []float64{x.Limit, x.Resolution, x.Repeat, x.RepeatDof} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				return &NumberError{"doubt of the " + x.name, v}
			}
		}
		if math.IsNaN(x.V) || math.IsInf(x.V, 0) {
			return &NumberError{x.name, x.V}
		}
	}
	return nil
}

// above refuses what is no number above 0.
func above(in ...input) error {
	if err := finite(in...); err != nil {
		return err
	}
	for _, x := range in {
		if !(x.V > 0) {
			return &indicator.PlaceError{What: x.name, V: x.V}
		}
	}
	return nil
}

// arc puts the budget together. The uncertainty is open where nothing is stated of a figure that was
// measured on the work.
func arc(way, formula string, r float64, in ...input) (Arc, error) {
	a := Arc{Way: way, Formula: formula, Radius: indicator.Measure{V: r}}
	for _, x := range in {
		size := math.Abs(x.slope)
		dof := x.RepeatDof
		if dof == 0 {
			dof = indicator.RepeatDof
		}
		for _, y := range []indicator.Input{
			{Name: x.name, U: indicator.FromLimit(x.Limit), Dof: math.Inf(1), Cure: "have what the " + x.name +
				" is measured with checked"},
			{Name: x.name + "'s step", U: indicator.FromLimit(x.Resolution / 2), Dof: math.Inf(1), Cure: "read the " + x.name + " finer"},
			{Name: x.name + "'s repeatability", U: x.Repeat, Dof: dof, Cure: "measure the " + x.name + " several times, and take the mean"},
		} {
			y.Sensitivity = x.slope
			a.Radius.Add(y)
		}
		a.Step = max(a.Step, size*x.Resolution)
		a.Farthest += size * (x.Limit + x.Resolution/2)
		if !x.doubted() {
			if !x.known {
				a.Radius.Open = true
			} else {
				a.Assumed = lean(a.Assumed, x.name, size)
			}
		}
	}
	if math.IsNaN(r) || math.IsInf(r, 0) { // figures beyond what a float64 can hold
		return a, &NumberError{"radius", r}
	}
	return a, nil
}

func (a *Arc) remark(bars bool, form string, lengths ...float64) {
	a.Remarks = append(a.Remarks, Remark{form, lengths, bars})
}
