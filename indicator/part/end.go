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
		out.Past, out.Clear, out.Free, out.Tangent = math.Inf(1), math.Inf(1), true, false
		return out
	}
	own := func(e *element) bool { return e.chain == w.elements[i].chain && !e.centreLine }
	past, into, free := w.past(i, path, t.cutter, own)
	out.Past, out.Free = past, free
	if into >= 0 {
		out.Into = w.elements[into].n
	}
	out.Clear, into, _ = w.past(i, path, t.cutter, func(o *element) bool {
		return o.chain != e.chain && o.hand != 0 && !w.passesOver(&w.chains[e.chain], &w.chains[o.chain])
	})
	if into >= 0 {
		out.InWay = w.elements[into].n
	}
	if out.Tangent {
		out.Short = w.short(i, j, t)
	}
	out.Before = t.before[which]
	return out
}

// past is how far beyond the end of its path a cutter may be run on behalf of element i before it gouges one of some
// elements by more than is let pass, and which one. free says that it never does so before it comes to the path's other
// end; far is +Inf then, but the way to that end where it comes by an element with little clearance.
//
// A cutter gouges an element where its axis is nearer to it than its radius: it comes to that distance where its path
// crosses the two curves that lie so far off the element and the circles round its ends. Between two such places nothing
// changes, so it is enough to look at the middle.
func (w *work) past(i int, path geom.Element, d float64, of func(*element) bool) (far float64, into int, free bool) {
	self, on := &w.elements[i], runOn{path}
	within := func(j int) float64 {
		e := &w.elements[j]
		if j == i || !of(e) {
			return math.Inf(1)
		}
		if x, ok := on.firstWithin(e.Element, d/2-w.passes(self, e, j)); ok {
			return x
		}
		return math.Inf(1)
	}
	if !path.Curved() {
		far, into = w.index.elements.Least(func(b geom.Box) float64 { return on.enters(b.Grown(d / 2)) }, within)
		return far, into, into < 0
	}
	far, into = math.Inf(1), -1
	var near []int
	for _, j := range w.nearCircle(path, d/2+clearEnough) {
		if j == i || !of(&w.elements[j]) {
			continue
		}
		near = append(near, j)
		if x := within(j); x < far {
			far, into = x, j
		}
	}
	switch {
	case into >= 0:
		return far, into, false
	case w.comesBy(near, on, d/2):
		return on.rest(), -1, true
	}
	return far, -1, true
}

// comesBy reports whether a cutter of a radius, run on to the other end of its path, comes by one of some elements with
// little clearance. Its clearance grows from one end and shrinks again to the other; a least value between is what is
// asked for: where the axis is nearest to an element, and no other is nearer.
func (w *work) comesBy(near []int, on runOn, radius float64) bool {
	const atEnd = 1e-3 // millimetres: nearer to an end than this is the contact there
	circle := geom.ArcOf(on.path.Centre, on.path.Radius, 0, 2*math.Pi)
	var room [16]geom.Point
	for _, j := range near {
		e := &w.elements[j]
		at := critical(room[:0], circle, e.Element)
		for _, p := range []geom.Point{e.Start, e.End} {
			at = append(at, circle.Centre.Along(p.Sub(circle.Centre).Bearing(), circle.Radius))
		}
		for _, p := range at {
			clear, _ := e.Distance(p)
			x := on.of(p)
			if clear-radius >= clearEnough || x*circle.Radius < atEnd || (on.rest()-x)*circle.Radius < atEnd {
				continue
			}
			if w.leastHere(near, on, x, clear) {
				return true
			}
		}
	}
	return false
}

// leastHere reports whether the distance to some elements is least at a place of the way on: clear there, and no less
// a little to either side.
func (w *work) leastHere(near []int, on runOn, x, clear float64) bool {
	const aside = 1e-4 // millimetres
	for _, dx := range []float64{0, aside / on.path.Radius, -aside / on.path.Radius} {
		for _, j := range near {
			if other, _ := w.elements[j].Distance(on.at(x + dx)); other < clear-1e-9 {
				return false
			}
		}
	}
	return true
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

// enters is how far on the way along a line comes into a box at the earliest; +Inf where it never does.
func (r runOn) enters(b geom.Box) float64 {
	b = b.Grown(1e-5) // for what is rounded so far on
	first, last, u := 0.0, r.rest(), r.path.Heading(1).Unit()
	for _, axis := range [2][4]float64{{r.path.End.X, u.X, b.Lo.X, b.Hi.X}, {r.path.End.Y, u.Y, b.Lo.Y, b.Hi.Y}} {
		at, way, lo, hi := axis[0], axis[1], axis[2], axis[3]
		switch {
		case way != 0:
			in, out := (lo-at)/way, (hi-at)/way
			first, last = max(first, min(in, out)), min(last, max(in, out))
		case at < lo || at > hi:
			return math.Inf(1)
		}
	}
	if first > last+1e-6 {
		return math.Inf(1)
	}
	return max(0, first-1e-6)
}

// firstWithin is how far on the way first comes nearer to an element than a distance; ok is false where it never does
// before the other end.
func (r runOn) firstWithin(e geom.Element, distance float64) (x float64, ok bool) {
	limit := r.rest()
	var room [20]float64
	at := r.crossings(append(room[:0], 0, limit), e, distance)
	at = slices.DeleteFunc(at, func(x float64) bool { return x < 0 || x > limit })
	slices.SortFunc(at, cmp.Compare[float64])
	for k := 1; k < len(at); k++ {
		if at[k]-at[k-1] <= 1e-12 {
			continue
		}
		if apart, _ := e.Distance(r.at((at[k-1] + at[k]) / 2)); apart < distance {
			return at[k-1], true
		}
	}
	return 0, false
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

// betweenCorners is how far from the start and from the end of a path the cutter that runs along it for element i has
// to stay lest it gouges the neighbours: outside of the longest stretch that is clear of both. ok is false where none is.
func (w *work) betweenCorners(i int, path geom.Element, d float64) (before [2]float64, ok bool) {
	self, on := &w.elements[i], runOn{sub(path, -1, 0)} // the way on from a piece that ends where the path begins
	whole := math.Abs(float64(path.Turn))
	if !path.Curved() {
		whole = path.Length()
	}
	at := []float64{0, whole}
	for _, j := range self.next {
		if j >= 0 {
			at = on.crossings(at, w.elements[j].Element, d/2-w.passes(self, &w.elements[j], j))
		}
	}
	at = slices.DeleteFunc(at, func(x float64) bool { return x < 0 || x > whole })
	slices.SortFunc(at, cmp.Compare[float64])
	clear := func(x float64) bool {
		for _, j := range self.next {
			if j < 0 {
				continue
			}
			if apart, _ := w.elements[j].Distance(on.at(x)); apart < d/2-w.passes(self, &w.elements[j], j) {
				return false
			}
		}
		return true
	}
	from, longest := -1.0, 0.0
	for k := 1; k < len(at); k++ {
		switch {
		case !clear((at[k-1] + at[k]) / 2):
			from = -1
			continue
		case from < 0:
			from = at[k-1]
		}
		if at[k]-from > longest {
			longest, before = at[k]-from, [2]float64{from, whole - at[k]}
		}
	}
	return before, longest > 0
}
