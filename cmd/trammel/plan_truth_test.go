package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// trueAlike is within what two figures are the same, millimetres or degrees: a millionth is a thousandth of a
// micrometre, which no shop sees; the drawings' doubles and the 12 places printed leave a hundredth of that.
const trueAlike = 1e-6

// trueLetPass is what is let pass where nobody says otherwise, mm; the other is a job's, half its tolerance.
const trueLetPass, trueLetPassAsked = 0.002, 0.01

// trueFrame is one way to stand at the machine.
type trueFrame struct {
	leftHand bool
	table    *float64 // the cutter's bearing from a rotary table's axis; nil: the head is swung
}

func (f trueFrame) args() (out []string) {
	if f.leftHand {
		out = append(out, "--left-hand")
	}
	if f.table != nil {
		out = append(out, "--table", fmt.Sprint(*f.table))
	}
	return out
}

var trueFrames = func() (all []trueFrame) {
	for _, left := range []bool{false, true} {
		all = append(all, trueFrame{leftHand: left})
		for _, table := range []float64{0, 90, 215} {
			all = append(all, trueFrame{left, &table})
		}
	}
	return all
}()

// Every arc of every drawing, as the plan tells it to a hand, right-handed and left-handed cutter, head and
// table: start, sense and stop are one cut, conventional, in the waste, leaving nothing; each end's
// window is what it says.
func TestPlanTellsTheHandTrue(t *testing.T) {
	for _, d := range trueDrawings(t) {
		for _, cutters := range d.cutters {
			asked := slices.Clone(d.args)
			for _, c := range cutters {
				asked = append(asked, "--cutter", c)
			}
			if len(cutters) > 1 { // which cutter goes to the slot is another matter
				asked = append(asked, "--layer", "rim")
			}
			t.Run(d.name+" cutter "+strings.Join(cutters, " and "), func(t *testing.T) {
				base := d.tried(t, asked, trueFrame{}, trueLetPass)
				for _, f := range trueFrames[1:] {
					p := d.tried(t, slices.Concat(asked, f.args()), f, 0)
					d.sameWhatever(t, fmt.Sprint(f.args()), base, p)
				}
				d.tried(t, append(slices.Clone(asked), "--let-pass", d.letPass), trueFrame{}, trueLetPassAsked)
				if strings.HasPrefix(d.name, "mixed") {
					for _, side := range []string{"inside", "outside"} {
						d.tried(t, slices.Concat(asked, []string{"--side", side}), trueFrame{}, 0)
						d.tried(t, slices.Concat(asked, []string{"--side", side, "--left-hand", "--table", "215"}), trueFrames[7], 0)
					}
				}
			})
		}
	}
}

// tried asks for a plan and holds every arc of it to the truth; the ends' windows where it is said what is let pass.
func (d *trueDrawing) tried(t *testing.T, args []string, f trueFrame, pass float64) *toldPlan {
	t.Helper()
	p := tellPlan(t, args...)
	if p.Unit != d.unit {
		t.Fatalf("%q is in %s, want %s", args, p.Unit, d.unit)
	}
	x := trueTrial{d: d, p: &p, f: f, stated: slices.Contains(args, "--side")}
	if want := d.arcs(); !slices.Contains(args, "--layer") && len(p.Arcs) != want {
		t.Errorf("%q: %d arcs, want %d", args, len(p.Arcs), want)
	}
	all := trueComplaints{plan: "plan " + strings.Join(args, " ")}
	defer all.tell(t)
	for i := range p.Arcs {
		a := &p.Arcs[i]
		who, ok := d.arc(a)
		if !ok {
			t.Errorf("%q: arc %d on %s is none of what was drawn", args, a.N, a.Layer)
			continue
		}
		x.complain = func(format string, v ...any) {
			all.add(a.N, format, fmt.Sprintf("arc %d (%s R %.3f mm, %.2f° and on by %.2f°): %s", a.N, a.Layer, who.edge().radius,
				a.From, a.Sweep, fmt.Sprintf(format, v...)))
		}
		x.arc(a, who, pass)
	}
	return &p
}

// trueComplaints are what is wrong with the arcs of one plan; what is wrong with many is told of the first.
type trueComplaints struct {
	plan string
	all  []trueComplaint
}

type trueComplaint struct {
	kind, first string
	others      []int // the arcs of which the same is wrong
}

func (c *trueComplaints) add(n int, kind, text string) {
	i := slices.IndexFunc(c.all, func(x trueComplaint) bool { return x.kind == kind })
	if i < 0 {
		c.all = append(c.all, trueComplaint{kind: kind, first: text})
		return
	}
	if !slices.Contains(c.all[i].others, n) {
		c.all[i].others = append(c.all[i].others, n)
	}
}

func (c *trueComplaints) tell(t *testing.T) {
	t.Helper()
	for _, x := range c.all {
		more := ""
		if len(x.others) > 0 {
			more = fmt.Sprintf("; arcs %v likewise", x.others)
		}
		t.Errorf("%s: %s%s", c.plan, x.first, more)
	}
}

// trueTrial holds one plan to the truth.
type trueTrial struct {
	d        *trueDrawing
	p        *toldPlan
	f        trueFrame
	stated   bool // the side of open elements is
	complain func(format string, v ...any)
}

func (x *trueTrial) arc(a *toldArc, who trueWho, pass float64) {
	x.sides(a, who)
	if x.filled(a) {
		if a.Swing != nil {
			x.complain("swing %.6f, but one pass of its slot makes it", *a.Swing)
		}
		return
	}
	if a.Swing == nil || a.Cutter == nil {
		x.complain("no swing or no cutter, the drawing's cutters can all do it")
		return
	}
	s := trueSwing{who.edge().centre, x.d.mm(*a.Swing), x.d.mm(*a.Cutter) / 2}
	x.contact(a, who, s)
	bearings, ok := x.carried(a, who)
	if !ok {
		return
	}
	x.sense(a, who, s, bearings)
	x.inWaste(a, who, s, bearings)
	if pass > 0 {
		x.ends(a, who, s, pass)
	}
}

// filled says whether the arc is of a slot that one pass fills.
func (x *trueTrial) filled(a *toldArc) bool {
	return slices.ContainsFunc(x.p.Slots, func(s toldSlot) bool { return s.SinglePass && slices.Contains(s.Arcs, a.N) })
}

// sides: where the metal is, and who says so.
func (x *trueTrial) sides(a *toldArc, who trueWho) {
	side, from := "on", who.k.from
	switch {
	case who.k.closed:
		side = who.k.sideOf(who.i)
	case x.stated: // the first arc of a chain takes what is stated, the others what goes with it
		side, from = a.Side, "stated"
		if side == "on" {
			x.complain("side on, but --side states another")
		}
	}
	if a.Side != side {
		x.complain("metal %s, in truth %s", a.Side, side)
	}
	if told := orNone(a.MetalFrom); told != from {
		x.complain("metal_from %q, want %q", told, from)
	}
}

func orNone(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// contact: on the side that is told, the cutter touches the arc and stands off the metal.
func (x *trueTrial) contact(a *toldArc, who trueWho, s trueSwing) {
	off := map[string]float64{"on": 0, "inside": s.radius, "outside": -s.radius}[a.Side]
	if got := s.swing - who.edge().radius; math.Abs(got-off) > trueAlike {
		x.complain("swing %.6f mm with cutter %.3f stands %+.6f mm off the arc, want %+.6f (metal %s)", s.swing,
			2*s.radius, got, off, a.Side)
	}
}

// carried is where the cutter's axis is, in the part's frame, as a hand does what is told: 37 bearings
// from start to stop; of a full circle any turn of it.
func (x *trueTrial) carried(a *toldArc, who trueWho) (bearings []float64, ok bool) {
	const n = 36
	way := map[string]float64{"anticlockwise": 1, "clockwise": -1, "none": 0}[a.Sense]
	if (way == 0) != (a.Side == "on") {
		x.complain("sense %q with the metal %s", a.Sense, a.Side)
		return nil, false
	}
	begin, end, frame := a.Start, a.Stop, ""
	if x.f.table != nil {
		begin, end, frame = a.TableStart, a.TableStop, "table_"
	}
	if who.edge().full() {
		if begin != nil || end != nil || a.Start != nil || a.Stop != nil {
			x.complain("a full circle has a start or a stop")
		}
		zero := 0.0
		begin, end = &zero, &zero
	}
	if begin == nil || end == nil || !who.edge().full() && (a.Start == nil || a.Stop == nil) {
		x.complain("start, stop, %sstart or %sstop is not told", frame, frame)
		return nil, false
	}
	if way == 0 { // no sense cuts better than the other: the hand goes the way that leads over the arc
		way = 1
		if over := trueTurn(who.edge().from, x.bearing(*begin+a.Sweep/2)); math.Abs(over-a.Sweep/2) > trueAlike {
			way = -1
		}
	}
	if off := math.Remainder(*begin+way*a.Sweep-*end, 360); math.Abs(off) > trueAlike {
		x.complain("%sstart %.4f° turned %s by %.4f° is %.4f°, but %sstop is %.4f°", frame, *begin, a.Sense, a.Sweep,
			*begin+way*a.Sweep, frame, *end)
		return nil, false
	}
	for k := range n + 1 {
		bearings = append(bearings, x.bearing(*begin+way*a.Sweep*float64(k)/n))
	}
	return bearings, who.edge().full() || x.overTheArc(a, who, bearings)
}

// bearing is where the cutter is, in the part's frame, at an angle of the head's or of the table: the cutter stands at
// its bearing from the table's axis, and the part has turned away under it.
func (x *trueTrial) bearing(told float64) float64 {
	if x.f.table != nil {
		return *x.f.table - told
	}
	return told
}

// overTheArc: the cutter goes over the arc, from start to stop, and nowhere else.
func (x *trueTrial) overTheArc(a *toldArc, who trueWho, bearings []float64) bool {
	for k, b := range bearings {
		if off := trueTurn(who.edge().from-trueAlike, b); off > who.edge().sweep+2*trueAlike {
			x.complain("start %.4f°, %s, stop %.4f°: after %d/%d of the way the cutter is at %.4f°, off the arc", *a.Start, a.Sense,
				*a.Stop, k, len(bearings)-1, b)
			return false
		}
	}
	first, last := bearings[0], bearings[len(bearings)-1]
	if math.Abs(math.Remainder(first-*a.Start, 360)) > trueAlike || math.Abs(math.Remainder(last-*a.Stop, 360)) > trueAlike {
		x.complain("the cutter goes from %.4f° to %.4f° of the part, but start is %.4f° and stop %.4f°", first, last, *a.Start, *a.Stop)
		return false
	}
	return true
}

// sense: all the way, the tooth at the wall works as in conventional milling.
func (x *trueTrial) sense(a *toldArc, who trueWho, s trueSwing, bearings []float64) {
	if a.Side == "on" {
		return
	}
	for k := range len(bearings) - 1 {
		wall := trueRound(who.edge().centre, who.edge().radius, bearings[k])
		if next := bearings[k] + (bearings[k+1]-bearings[k])/100; !trueConventional(x.f.leftHand, s.axis(bearings[k]), s.axis(next), wall) {
			x.complain("metal %s, turned %s it climbs", a.Side, a.Sense)
			return
		}
	}
}

// inWaste: on the way the cutter takes nothing of the metal but what is let pass, or a problem says so
// and names the two elements.
func (x *trueTrial) inWaste(a *toldArc, who trueWho, s trueSwing, bearings []float64) {
	if a.Side == "on" {
		return
	}
	worst, into, at := math.Inf(-1), 0, 0.0
	for _, b := range bearings {
		if depth, i := who.k.depth(s.axis(b), s.radius); depth > worst {
			worst, into, at = depth, i, b
		}
		p := trueRound(who.edge().centre, who.edge().radius, b)
		if left := s.axis(b).minus(p).length() - s.radius; left > trueAlike {
			x.complain("at %.2f° the cutter leaves %.6f mm", b, left)
			return
		}
	}
	if worst <= trueLetPass+trueAlike {
		return
	}
	told := slices.ContainsFunc(x.p.Problems, func(q toldProblem) bool {
		other, ok := x.element(q.Other)
		return q.N == a.N && ok && other == trueWho{who.k, into}
	})
	if !told {
		x.complain("at %.2f° the cutter gouges %.4f mm into element %d, and no problem says so", at, worst, x.number(trueWho{who.k, into}))
	}
}

// element is the true element of a number of the plan.
func (x *trueTrial) element(n int) (trueWho, bool) {
	for i := range x.p.Arcs {
		if x.p.Arcs[i].N == n {
			return x.d.arc(&x.p.Arcs[i])
		}
	}
	for i := range x.p.Lines {
		if x.p.Lines[i].N == n {
			return x.d.line(&x.p.Lines[i])
		}
	}
	return trueWho{}, false
}

// number is the plan's number of a true element.
func (x *trueTrial) number(who trueWho) int {
	for n := range len(x.p.Arcs) + len(x.p.Lines) + len(x.p.Slots) + 1 {
		if w, ok := x.element(n); ok && w == who {
			return n
		}
	}
	return 0
}
