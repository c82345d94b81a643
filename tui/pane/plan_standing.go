package pane

import (
	"math"
	"slices"
)

// Standing is how far an arc of a plan is.
type Standing uint8

const (
	ToDo    Standing = iota
	Begun            // a setting of it is open
	SetUp            // a setting of it is accepted
	BeenCut          // and it is cut
	Checked          // and measured, inside its tolerance
	Missed           // and measured, outside
	Ticked           // done by slide, and ticked off
	Trouble          // it cannot be cut as it is
)

// done reports whether a setting of the arc is accepted, whatever came of it.
func (s Standing) done() bool { return s >= SetUp && s <= Missed }

// atOnce reports whether arc n is made by the one pass of its slot, and so not set by itself.
func (v *PlanView) atOnce(n int) bool {
	a := v.Plan.Arc(n)
	return a != nil && math.IsNaN(float64(a.Swing)) && a.Slot > 0 && v.Plan.Slot(a.Slot).SinglePass
}

// IsSet reports whether a setting of arc n is accepted, and none is begun anew.
func (v *PlanView) IsSet(n int) bool { return v.standing(n).done() }

// isNext reports whether an element is what the whole run comes to now, so that what is done is said already.
func (v *PlanView) isNext(n int) bool {
	return v.Where != nil && v.Where.Next != nil && v.Where.Next.N == n
}

// AnySet reports whether any arc's is.
func (v *PlanView) AnySet() bool { return slices.ContainsFunc(v.Rows, v.IsSet) }

// allSet reports whether nothing is left to do: every arc that is set by itself is.
func (v *PlanView) allSet() bool {
	return v.AnySet() && !slices.ContainsFunc(v.Plan.Swung(), func(n int) bool { return !v.IsSet(n) && !v.atOnce(n) })
}

// None reports whether nothing is left to do, and no element is chosen.
func (v *PlanView) None() bool { return v.Chosen < 0 }

// Before chooses the element before; in front of the first one none, where nothing is left to do.
func (v *PlanView) Before() {
	if v.Chosen > 0 || v.Chosen == 0 && v.allSet() {
		v.Chosen--
	}
}
