package main

import "math"

// trueEndTolerance is the tolerance of an end that is no tangent, where nobody says otherwise, mm.
const trueEndTolerance = 0.1

// trueClear is the clearance below which an end that never gouges still must not run on for ever, mm.
const trueClear = 0.5

// trueTangent parts tangent ends from corners, degrees: the drawings' tangents turn by 1e-9, their corners by 28 and more.
const trueTangent = 1.0

// ends: each end of the arc is where it was drawn, and its window is what it says.
func (x *trueTrial) ends(a *toldArc, who trueWho, s trueSwing, pass float64) {
	if who.edge().full() {
		if len(a.Ends) != 0 {
			x.complain("a full circle has %d ends", len(a.Ends))
		}
		return
	}
	if len(a.Ends) != 2 {
		x.complain("%d ends, want 2", len(a.Ends))
		return
	}
	for i, e := range a.Ends {
		place, at := who.edge().b, "to"
		if i == 0 {
			place, at = who.edge().a, "from"
		}
		if off := x.d.spot(e.At).minus(place).length(); off > trueAlike {
			x.complain("its end at %q is told %.6f mm off", at, off)
		}
		j, kink, meets := who.k.neighbour(who.i, i == 0)
		if !meets || kink > trueTangent || a.Side == "on" {
			x.corner(at, e)
			continue
		}
		if e.EndTolerance != nil {
			x.complain("its tangent end at %q has an end_tolerance", at)
		}
		x.past(who, at, e, s, pass)
		x.short(a, who, at, j, e, s, pass)
	}
}

// corner: an end that is no tangent is held by a tolerance.
func (x *trueTrial) corner(at string, e toldEnd) {
	if e.Past != nil || e.Short != nil {
		x.complain("its end at %q is no tangent and has a past or a short", at)
	}
	if e.EndTolerance == nil {
		x.complain("its end at %q is no tangent and has no end_tolerance, want %v mm", at, trueEndTolerance)
	} else if got := x.d.mm(*e.EndTolerance); math.Abs(got-trueEndTolerance) > trueAlike {
		x.complain("its end at %q has end_tolerance %.6f mm, want %v", at, got, trueEndTolerance)
	}
}

// trueBeyond is how far beyond a window's end the gouge must be deeper than at it, degrees: the slowest grows there by
// 0.0026 mm a degree, so by 26 times trueAlike.
const trueBeyond = 0.01

// past: swung on by that much, the cutter first gouges what is let pass.
func (x *trueTrial) past(who trueWho, at string, e toldEnd, s trueSwing, pass float64) {
	end, way := who.edge().from+who.edge().sweep, 1.0
	if at == "from" {
		end, way = who.edge().from, -1
	}
	round := 360 - who.edge().sweep
	first, into, gouges := who.k.firstBeyond(s, end, way, round, pass)
	least := 0.0
	if !gouges {
		least = who.k.leastClearance(s, end, way, round)
	}
	switch {
	case !gouges && least >= trueClear:
		if e.Past != nil {
			x.complain("past %q by %.6f°, but the cutter never gouges and clears by %.3f mm at least", at, *e.Past, least)
		}
	case e.Past == nil && gouges:
		x.complain("past %q is null, but after %.6f° the cutter gouges %.4f mm into element %d", at, first, pass,
			x.number(trueWho{who.k, into}))
	case e.Past == nil:
		x.complain("past %q is null, but the clearance comes down to %.3f mm: want %.6f°, the other end", at, least, round)
	case !gouges:
		if math.Abs(*e.Past-round) > trueAlike {
			x.complain("past %q by %.6f°, want %.6f°, the other end", at, *e.Past, round)
		}
	default:
		depth, _ := who.k.depth(s.axis(end+way**e.Past), s.radius)
		beyond, _ := who.k.depth(s.axis(end+way*(*e.Past+trueBeyond)), s.radius)
		if math.Abs(depth-pass) > trueAlike || *e.Past > first+trueBeyond {
			x.complain("past %q by %.6f° the cutter gouges %.6f mm, let pass %v mm: reached first at %.6f°", at, *e.Past, depth,
				pass, first)
		} else if beyond <= pass+trueAlike {
			x.complain("past %q by %.6f° and %v° more the cutter gouges %.6f mm, no more than is let pass", at, *e.Past, trueBeyond, beyond)
		}
		if other, ok := x.element(e.Into); !ok || other != (trueWho{who.k, into}) {
			x.complain("past %q it is told to gouge element %d, in truth %d", at, e.Into, x.number(trueWho{who.k, into}))
		}
	}
}

// short: stopped by that much before the end, with the neighbour cut to its own end by its own cutter, what
// stands proud is what is let pass; stopped a little sooner, more.
func (x *trueTrial) short(a *toldArc, who trueWho, at string, j int, e toldEnd, s trueSwing, pass float64) {
	if e.Short == nil || !(*e.Short > 0 && *e.Short < a.Sweep) {
		x.complain("no short at its tangent end at %q, or none within its sweep", at)
		return
	}
	cutter := x.cutter(trueWho{who.k, j})
	if cutter <= 0 {
		x.complain("what meets it at %q has no cutter", at)
		return
	}
	standing := func(short float64) float64 {
		return who.k.standing(who.i, at == "from", short, who.k.path(who.i, s.radius), who.k.path(j, cutter/2), s.radius, cutter/2)
	}
	if got := standing(*e.Short); math.Abs(got-pass) > trueAlike {
		x.complain("short of %q by %.6f° (cutter %.2f, then %.2f mm) there stand %.6f mm proud, let pass %v mm", at,
			*e.Short, 2*s.radius, cutter, got, pass)
	} else if more := standing(*e.Short + trueBeyond); more <= got {
		x.complain("short of %q by %.6f° and %v° more there stand %.6f mm proud, no more than at it", at, *e.Short, trueBeyond, more)
	}
}

// cutter is the diameter that the plan cuts a true element with, mm; 0: none.
func (x *trueTrial) cutter(who trueWho) float64 {
	for i := range x.p.Arcs {
		if w, ok := x.d.arc(&x.p.Arcs[i]); ok && w == who && x.p.Arcs[i].Cutter != nil {
			return x.d.mm(*x.p.Arcs[i].Cutter)
		}
	}
	for i := range x.p.Lines {
		if w, ok := x.d.line(&x.p.Lines[i]); ok && w == who && x.p.Lines[i].Cutter != nil {
			return x.d.mm(*x.p.Lines[i].Cutter)
		}
	}
	return 0
}
