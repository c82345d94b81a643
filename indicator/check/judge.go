package check

import (
	"math"

	"example.org/trammel/indicator"
)

// Judge compares the radius with a target: its error with the expanded uncertainty, the verdict of
// [indicator.Judge], and why that is held back. A measurement that reads in coarser steps than the
// tolerance proves nothing inside, and outside only where the farthest that steps and limits reach
// still lies outside. What is taken as exact has to be left some room ([indicator.HoldBack]).
func (a Arc) Judge(target, tolerance float64) (indicator.Value, indicator.Verdict, []Remark) {
	v := a.Radius.Value()
	off := indicator.Value{V: v.V - target, U: v.U}
	verdict := indicator.HoldBack(indicator.Judge(off, tolerance, 1), a.Room(target, tolerance))
	var why []Remark
	if a.Step > tolerance {
		why = append(why, Remark{"one step of what was read makes %s of the radius, which is coarser than the tolerance of %s",
			[]float64{a.Step, tolerance}, true})
		if verdict == indicator.Outside && math.Abs(off.V)-a.Farthest > tolerance {
			why[0].Bars = false
		}
	}
	for _, r := range append(why, a.Remarks...) {
		if r.Bars && verdict != indicator.NoVerdict {
			verdict = indicator.Undecided
		}
	}
	return off, verdict, why
}

// Cutter returns the diameter that the cutter must have cut for this radius, at a swing radius taken as
// it was set:
//
//	D = 2(R − r) with the metal inside        D = 2(r − R) with it outside
//
// It carries every error of the swing radius with it: it serves further arcs with the metal on the same
// side, and no other ([Learnt]). A *[ShapeError] is returned where it is not above 0.
func (a Arc) Cutter(swing Figure, s Side) (indicator.Measure, error) {
	set := input{name: "swing radius", Figure: swing, slope: 1}
	if err := above(set); err != nil {
		return indicator.Measure{}, err
	}
	r, err := arc("", "", swing.V, set)
	if err != nil {
		return indicator.Measure{}, err
	}
	if !set.doubted() {
		r.Radius.Open = false // taken as exact
	}
	d := a.Radius.Times(-2 * s.sign()).Plus(r.Radius.Times(2 * s.sign()))
	if !(d.V > 0) {
		return d, &ShapeError{Remark{Form: "radius %s with the metal " + s.String() + " at a swing radius of %s: a cutter of %s, need " +
			"one above 0", Lengths: []float64{a.Radius.V, swing.V, d.V}}, "check the side of the metal, and the swing radius that was set"}
	}
	return d, nil
}

// Made is the radius that a swing radius and a cutter's diameter make: R − D/2 with the metal inside,
// R + D/2 with it outside.
func Made(swing, cutter float64, s Side) float64 { return swing - s.sign()*cutter/2 }
