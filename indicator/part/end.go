package part

import (
	"cmp"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// clearEnough is the clearance from which nobody need think of an element that the cutter comes by, millimetres.
const clearEnough = 0.5

// end tells how near to an end of element i, which trial t cuts, the cutter has to stop: which is 0 at the start
// of its run and 1 at the end.
func (w *work) end(i, which int, t *trial) End {
	e := &w.elements[i]
	path := t.path
	if which == 0 {
		path = path.Reversed()
	}
	var out End
	if e.centreLine {
		return out // the stops make it
	}
	j := e.next[which]
	if j >= 0 {
		out.Next = w.elements[j].n
		a, b := e.Element, w.elements[j].Element
		if which == 0 {
			a, b = b, a
		}
		out.Tangent = w.tangent(geom.Meet(a, b))
	}
	if e.hand == 0 { // there is no metal on either side to gouge
		out.Past, out.Free = math.Inf(1), true
		return out
	}
	past, into, free := w.past(i, path, t.cutter)
	out.Past, out.Free = past, free
	if into >= 0 {
		out.Into = w.elements[into].n
	}
	if out.Tangent {
		out.Short = w.short(i, j, t)
	} else if past == 0 {
		out.Before = w.before(i, path, t.cutter)
	}
	return out
}

// past is how far beyond the end of its path a cutter may be run on behalf of element i before it gouges an
// element of the outline by more than is let pass, and which one. free says that it never does so before it
// comes to the path's other end; far is +Inf then, but the way to that end where it comes by an element with
// little clearance.
//
// A cutter gouges where its axis is nearer to an element than its radius: the axis comes to that distance where
// its path crosses the two curves that lie so far off the element and the circles round its ends. Between two
// such places nothing changes, so it is enough to look at the middle.
func (w *work) past(i int, path geom.Element, d float64) (far float64, into int, free bool) {
	self, on := &w.elements[i], runOn{path}
	limit := on.rest()
	at := []float64{0, limit}
	var near []int
	for j := range w.elements {
		if e := &w.elements[j]; j != i && e.chain == self.chain && !e.centreLine {
			near = append(near, j)
			at = on.crossings(at, e.Element, d/2-w.passes(self, e, j))
		}
	}
	at = slices.DeleteFunc(at, func(x float64) bool { return x < 0 || x > limit })
	slices.SortFunc(at, cmp.Compare[float64])
	for k := 1; k < len(at); k++ {
		p := on.at((at[k-1] + at[k]) / 2)
		for _, j := range near {
			e := &w.elements[j]
			if apart, _ := e.Distance(p); apart < d/2-w.passes(self, e, j) && at[k]-at[k-1] > 1e-12 {
				return at[k-1], j, false
			}
		}
	}
	if path.Curved() && w.comesBy(near, on, d/2) {
		return limit, -1, true
	}
	return math.Inf(1), -1, true
}

// comesBy reports whether a cutter of a radius, run on to the other end of its path, comes by an element with
// little clearance. Its clearance grows from one end and shrinks again to the other; a least value between is
// what is asked for.
func (w *work) comesBy(near []int, on runOn, radius float64) bool {
	const steps = 720
	clear := func(x float64) float64 {
		p, least := on.at(x), math.Inf(1)
		for _, j := range near {
			apart, _ := w.elements[j].Distance(p)
			least = min(least, apart-radius)
		}
		return least
	}
	rise := 1e-6 // what rounding may make of a clearance that only grows
	step := on.rest() / steps
	highest, lowest, at := math.Inf(-1), math.Inf(1), 0.0
	for k := range steps + 1 {
		c := clear(float64(k) * step)
		switch {
		case c >= highest-rise && math.IsInf(lowest, 1):
			highest = max(highest, c)
		case c < lowest:
			lowest, at = c, float64(k)*step
		case c > lowest+rise: // behind a least value
			lo, hi := max(0, at-step), min(on.rest(), at+step)
			for range 60 {
				a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
				if clear(a) <= clear(b) {
					hi = b
				} else {
					lo = a
				}
			}
			if clear((lo+hi)/2) < clearEnough {
				return true
			}
			highest, lowest = c, math.Inf(1)
		}
	}
	return false
}

// runOn is the way on from the end of a path: along its circle, in radians, or its line, in millimetres.
type runOn struct{ path geom.Element }

// rest is how far it goes on: to the path's other end, along a straight without end.
func (r runOn) rest() float64 {
	if r.path.Curved() {
		return max(0, 2*math.Pi-math.Abs(float64(r.path.Turn)))
	}
	return 1e9
}

// at is the place so far on.
func (r runOn) at(x float64) geom.Point {
	e := r.path
	if e.Curved() {
		return e.Centre.Along(e.From()+e.Turn+geom.Bearing(math.Copysign(x, float64(e.Turn))), e.Radius)
	}
	return e.End.Along(e.Heading(1), x)
}

// of is how far on a place of the path's circle or line is.
func (r runOn) of(p geom.Point) float64 {
	e := r.path
	if !e.Curved() {
		return p.Sub(e.End).Dot(e.Heading(1).Unit())
	}
	turned := p.Sub(e.Centre).Bearing() - e.From() - e.Turn
	if e.Turn < 0 {
		turned = -turned
	}
	return float64(turned.Normalized())
}

// crossings appends how far on the way comes to a distance from an element, or leaves it.
func (r runOn) crossings(out []float64, e geom.Element, distance float64) []float64 {
	if distance <= 0 {
		return out
	}
	var room [16]geom.Point
	at := room[:0]
	full := geom.Bearing(2 * math.Pi)
	for _, p := range []geom.Point{e.Start, e.End} {
		at = r.meets(at, geom.ArcOf(p, distance, 0, full))
	}
	if e.Curved() {
		for _, radius := range []float64{e.Radius + distance, e.Radius - distance} {
			if radius > 0 {
				at = r.meets(at, geom.ArcOf(e.Centre, radius, 0, full))
			}
		}
	} else if run := e.End.Sub(e.Start); run.Norm() > 0 {
		off := geom.Point{X: -run.Y, Y: run.X}.Times(distance / run.Norm())
		at = r.meets(at, geom.Straight(e.Start.Add(off), e.End.Add(off)))
		at = r.meets(at, geom.Straight(e.Start.Sub(off), e.End.Sub(off)))
	}
	for _, p := range at {
		out = append(out, r.of(p))
	}
	return out
}

// meets appends where the path's circle or line meets another circle or line.
func (r runOn) meets(out []geom.Point, other geom.Element) []geom.Point {
	e := r.path
	switch {
	case e.Curved() && other.Curved():
		return circlesMeet(out, e, other)
	case e.Curved():
		return crossings(out, e, other)
	case other.Curved():
		return crossings(out, other, e)
	}
	a, b := e.End.Sub(e.Start), other.End.Sub(other.Start)
	if det := a.Cross(b); det != 0 {
		out = append(out, e.Start.Add(a.Times(other.Start.Sub(e.Start).Cross(b)/det)))
	}
	return out
}

// short is how far before its end element i may be left by the cutter before more than is let pass stands proud,
// element j beyond being cut to its own end. What stands is the cusp between the two cutters, which are tangent to
// the outline a way apart: its top, ρ from the arc's centre, is on both their circles. A cutter of radius r whose
// axis is S from the centre reaches it at an angle of
//
//	acos((S² + ρ² − r²)/(2·S·ρ))                 along a straight: √(2·r·h − h²)
//
// to either side, h being what is let pass, ρ = R + h of a convex arc, R − h of a concave one.
func (w *work) short(i, j int, t *trial) float64 {
	e, h := &w.elements[i], w.Limits.Gouge
	reach := func(d float64) float64 {
		r, k := d/2, e.kappa()
		if k == 0 {
			return math.Sqrt(max(0, h*(d-h)))
		}
		axis, top := e.Radius+k*r, e.Radius+k*h
		return math.Acos(min(1, max(-1, (axis*axis+top*top-r*r)/(2*axis*top))))
	}
	beyond := t.cutter
	if u := w.cutBy(j); u != nil && (e.kappa() >= 0 || u.cutter < 2*e.Radius) {
		beyond = u.cutter
	}
	whole := math.Abs(float64(e.Turn))
	if !e.Curved() {
		whole = e.Length()
	}
	return min(whole, reach(t.cutter)+reach(beyond))
}

// before is how far before the end of its path, which runs into an inner corner, the cutter has to stop.
func (w *work) before(i int, path geom.Element, d float64) float64 {
	if w.worst(i, sub(path, 0.5, 1), d).excess <= 0 {
		return 0
	}
	clear, bitten := 0.5, 1.0
	for range 50 {
		mid := (clear + bitten) / 2
		if w.worst(i, sub(path, 0.5, mid), d).excess <= 0 {
			clear = mid
		} else {
			bitten = mid
		}
	}
	if path.Curved() {
		return (1 - clear) * math.Abs(float64(path.Turn))
	}
	return (1 - clear) * path.Length()
}
