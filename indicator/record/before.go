package record

import (
	"fmt"
	"math"
	"slices"
)

// standing is what is true at the machine between two steps of the order: how far the work is turned from how the arcs are cut,
// degrees, and over which axis the readouts were zeroed.
type standing struct {
	turn   float64
	cutter bool // over the cutter's axis; else over the head's, or the table's
}

// sameTurn is how near two turns of the work are for one clocking to serve both, degrees: 0.002 mm on 100.
const sameTurn = 0.001

// Before says what is done ahead of step i of the order, first thing first, whatever has been done by then: the work turned or turned
// back, and over which axis the readouts are zeroed. Nothing where all stays as it is.
func (x *Plan) Before(i int) []string {
	var s standing
	var out []string
	for k := range x.Steps[:i+1] {
		out = x.change(&s, x.Steps[k].N)
	}
	return x.before(i, out)
}

// before is that, with what changes.
func (x *Plan) before(i int, changes []string) []string {
	return append(append(x.milled(i), changes...), x.sweptAnew(i)...)
}

// sweptAnew says once that a hole has been made about the centre that is swept ahead of step i.
func (x *Plan) sweptAnew(i int) []string {
	n := x.taken[i]
	if n == 0 || slices.Contains(x.taken[:i], n) {
		return nil
	}
	return []string{"about this centre there is the hole of " + x.Called(n) + " now: " + x.sweptHole(x.Arc(n))}
}

// sweptHole says what is swept in the place of a hole that has been cut away.
func (x *Plan) sweptHole(hole *PlanArc) string {
	return fmt.Sprintf("where a hole is swept, sweep that one, of the radius that it was measured to (%s %v as drawn)", x.Length(hole.Radius),
		x.Unit)
}

// takenNotes tell of each hole that is made before other arcs about its centre are set: what was swept there may be cut away with it.
func (x *Plan) takenNotes() (out []string) {
	behind := map[int][]int{}
	for i, hole := range x.taken {
		behind[hole] = append(behind[hole], x.Order[i])
	}
	for _, n := range x.Order {
		if later := behind[n]; len(later) > 0 {
			out = append(out, fmt.Sprintf("element %d takes away the hole that was there before it: for %s, set after it about the same centre, %s",
				n, Numbers(later), x.sweptHole(x.Arc(n))))
		}
	}
	return out
}

// milled says what the slides mill off ahead of step i.
func (x *Plan) milled(i int) (out []string) {
	for k := range x.Mills {
		if m := &x.Mills[k]; m.Before == x.Steps[i].N {
			out = append(out, x.MillWords(m)...)
		}
	}
	return out
}

// MillWords say what is milled off, as the hand does it, a movement each.
func (x *Plan) MillWords(m *PlanMill) []string {
	of := milling{unit: x.Unit, table: x.Table, depth: m.Depth}
	for _, n := range m.Round {
		of.floors = append(of.floors, millFloor{n, x.Arc(n).Cutter})
		if i, ok := x.step[n]; ok {
			of.passes = x.Steps[i].Passes
		}
	}
	out := of.words()
	out[0] = fmt.Sprintf("milling %d: %s", m.N, out[0])
	return out
}

// elements names some: "element 1", "elements 1, 4".
func elements(n []int) string {
	if len(n) == 1 {
		return "element " + Numbers(n)
	}
	return "elements " + Numbers(n)
}

// depthOf is how deep element n is cut, 0 where nobody says.
func (x *Plan) depthOf(n int) Number {
	if a := x.Arc(n); a != nil {
		return a.Depth
	} else if l := x.Line(n); l != nil {
		return l.Depth
	}
	return 0
}

// fromTop says from which face the depth of element n is counted where the plate's own has been milled down by then.
func (x *Plan) fromTop(n int) string {
	for i, s := range x.Steps {
		if s.N == n {
			break
		}
		a := x.Arc(s.N)
		if a == nil || !a.ToStep || a.Depth == 0 || a.Cutter.Unknown() || x.depthOf(n) <= a.Depth || i == len(x.Steps)-1 {
			continue
		}
		if x.within(n, a) {
			return fmt.Sprintf("from the top of the boss, element %d", a.N)
		}
		return fmt.Sprintf("from the stock's top as it was (the plate's face there is %s down already)", x.depth(a.Depth))
	}
	return "from the top of the stock"
}

// within reports whether arc n lies inside the whole circle of a boss.
func (x *Plan) within(n int, boss *PlanArc) bool {
	a := x.Arc(n)
	if a == nil || !boss.Whole() {
		return false
	}
	return a.Centre.Point().Sub(boss.Centre.Point()).Norm()+float64(a.Radius) < float64(boss.Radius)
}

// change is what has to be done for element n from how things stand, and leaves them as they stand then.
func (x *Plan) change(s *standing, n int) (out []string) {
	was := *s
	want := standing{}
	a, l := x.Arc(n), x.Line(n)
	switch {
	case l != nil && l.Cutter.Unknown():
		return nil
	case l != nil:
		want.cutter = true
		if x.MustTurn(l) {
			want.turn = float64(l.Turn)
		}
	case a != nil && a.PlanPlaces != nil:
		want.cutter = true
	case a == nil || a.Swing.Unknown(): // nothing is cut
		return nil
	}
	*s = want
	turned := math.Abs(want.turn-was.turn) > sameTurn
	switch {
	case turned && want.turn == 0:
		out = append(out, "turn the work back to 0, as the arcs were cut; clamp it and clock it")
	case turned:
		words := x.turnWords(want.turn, *l.Along)
		if was.turn != 0 {
			words += fmt.Sprintf(" (it stands turned %s now)", turnAngle(was.turn))
		}
		out = append(out, words+"; clamp it and clock it")
	case want.turn != 0:
		out = append(out, fmt.Sprintf("the work stays turned %s, as for the one before", turnAngle(want.turn)))
	}
	switch {
	case want.cutter && (turned || !was.cutter):
		out = append(out, x.zeroCutter(was.cutter))
	case !want.cutter && (turned || was.cutter):
		out = append(out, x.zeroSwing())
	}
	return out
}

// turnAngle is a turn of the work with its way: "12.700° anticlockwise".
func turnAngle(deg float64) string {
	way := "anticlockwise"
	if deg < 0 {
		way = "clockwise"
	}
	return fineDegrees(math.Abs(deg)) + " " + way
}

// turnWords say how the work is turned, always counted from how the arcs were cut, whatever it has been turned by since.
func (x *Plan) turnWords(deg float64, along string) string {
	return fmt.Sprintf("from how the arcs were cut, turn the work %s from above, so that it lies along %s", turnAngle(deg), upper(along))
}

// zeroCutter says how the readouts come to tell of the cutter's axis, which with the head locked stands a swing radius off the head's
// own; locked: it stands so already.
func (x *Plan) zeroCutter(locked bool) string {
	over := fmt.Sprintf("bring the cutter's axis over the datum, %s of the drawing, and set both readouts to zero", x.At(x.Datum))
	for k, name := range [...]string{"X", "Y"} {
		if s := x.hands[k]; s != nil && !s.Readout {
			over += fmt.Sprintf(" (%s has none: come up to the datum %s, so that its backlash is taken up, and set its collar to zero)", name,
				comesUp(s))
		}
	}
	switch {
	case x.Table:
		return "wind the cross slides back to zero, so that the datum lies over the table's axis; bring the cutter's axis over the " +
			"table's axis, and set both readouts to zero"
	case locked:
		return "the head stays locked; " + over
	}
	return "lock the head at one figure of its ring, any, and leave it there; " + over +
		": the cutter's, not the head's, which is a swing radius off"
}

// zeroSwing says how the readouts come to tell of the axis that arcs are swung about.
func (x *Plan) zeroSwing() string {
	if x.Table {
		return "the table's axis counts again: the swing radius is set anew"
	}
	return fmt.Sprintf("release the head; bring the head's axis over the datum, %s of the drawing, and set both readouts to zero: arcs "+
		"count from there", x.At(x.Datum))
}

// stepwise reports whether a plan says what is done between its steps: where a depth is said, a straight needs the work turned, or
// places are plunged at.
func (x *Plan) stepwise() bool {
	return slices.ContainsFunc(x.Steps, func(s PlanStep) bool { return len(s.Passes) > 0 }) ||
		slices.ContainsFunc(x.Lines, func(l PlanLine) bool { return x.MustTurn(&l) }) || x.StepHeight != nil
}
