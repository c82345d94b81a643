package part

import (
	"math"

	"example.org/trammel/geom"
)

// apart is the least distance between two elements, millimetres, and the place on b where it is
// reached.
//
// The distance is least at an end of either, where they cross, or where the line between two inner
// places is square to both: through an arc's centre, along a straight's normal. All these are tried,
// each moved to the nearest place of a, so that none can tell less than the truth.
func apart(a, b geom.Element) (distance float64, at geom.Point) {
	var room [10]geom.Point
	distance = math.Inf(1)
	for _, q := range append(critical(room[:0], a, b), a.Start, a.End, b.Start, b.End) {
		_, part := a.Distance(q)
		if d, on := b.Distance(a.At(part)); d < distance {
			distance, at = d, b.At(on)
		}
	}
	return distance, at
}

// critical appends the inner places of a where the distance to b may be least.
func critical(out []geom.Point, a, b geom.Element) []geom.Point {
	switch {
	case a.Curved() && b.Curved():
		d := b.Centre.Sub(a.Centre)
		if n := d.Norm(); n > 0 {
			u := d.Times(1 / n)
			out = append(out, a.Centre.Add(u.Times(a.Radius)), a.Centre.Sub(u.Times(a.Radius)))
			out = circlesMeet(out, a, b)
		}
	case a.Curved():
		out = crossings(out, a, b)
		run := b.End.Sub(b.Start)
		if n := run.Norm(); n > 0 {
			normal := geom.Point{X: -run.Y, Y: run.X}.Times(a.Radius / n)
			out = append(out, a.Centre.Add(normal), a.Centre.Sub(normal))
		}
	case b.Curved():
		out = append(crossings(out, b, a), b.Centre)
	default:
		ra, rb := a.End.Sub(a.Start), b.End.Sub(b.Start)
		if det := ra.Cross(rb); det != 0 {
			out = append(out, a.Start.Add(ra.Times(b.Start.Sub(a.Start).Cross(rb)/det)))
		}
	}
	return out
}

// circlesMeet appends where the circles of two arcs cross.
func circlesMeet(out []geom.Point, a, b geom.Element) []geom.Point {
	d := b.Centre.Sub(a.Centre)
	n := d.Norm()
	if n == 0 {
		return out
	}
	along := (n + (a.Radius-b.Radius)*(a.Radius+b.Radius)/n) / 2
	return chordEnds(out, a.Centre, d.Times(1/n), along, a.Radius)
}

// crossings appends where the circle of an arc crosses the line of a straight.
func crossings(out []geom.Point, arc, straight geom.Element) []geom.Point {
	run := straight.End.Sub(straight.Start)
	n := run.Norm()
	if n == 0 {
		return out
	}
	normal := geom.Point{X: -run.Y, Y: run.X}.Times(1 / n)
	return chordEnds(out, arc.Centre, normal, straight.Start.Sub(arc.Centre).Dot(normal), arc.Radius)
}

// chordEnds appends the ends of the chord that stands square to u, the given way from the centre.
func chordEnds(out []geom.Point, centre, u geom.Point, along, radius float64) []geom.Point {
	square := (radius - along) * (radius + along)
	if !(square >= 0) {
		return out
	}
	foot, half := centre.Add(u.Times(along)), geom.Point{X: -u.Y, Y: u.X}.Times(math.Sqrt(square))
	return append(out, foot.Add(half), foot.Sub(half))
}

// sub is the piece of an element from one part of the way along to another; parts below 0 and above 1
// run on beyond its ends.
func sub(e geom.Element, from, to float64) geom.Element {
	if e.Curved() {
		return geom.ArcOf(e.Centre, e.Radius, e.From()+geom.Bearing(from)*e.Turn, geom.Bearing(to-from)*e.Turn)
	}
	run := e.End.Sub(e.Start)
	return geom.Straight(e.Start.Add(run.Times(from)), e.Start.Add(run.Times(to)))
}

// bite is how far a cutter passes beyond the surface of an element, millimetres: negative, the
// clearance left.
type bite struct {
	depth  float64
	excess float64 // depth beyond what is let pass
	into   int     // the element bitten, by index; −1: there is nothing to bite
	at     geom.Point
}

// bites calls each with how a cutter of diameter d, its axis run along a path on behalf of element i,
// bites every other element within its reach that has its metal on a side, and has it higher than the cutter goes: making a boss
// it passes over the plate. An open element without a side of its own is cut into metal: its chain does not
// count, and neither does whether the axis is in metal.
func (w *work) bites(i int, path geom.Element, d float64, each func(bite)) {
	self := &w.elements[i]
	crossed := false
	for _, j := range w.within(path, d/2) {
		e := &w.elements[j]
		if j == i || e.hand == 0 || self.hand == 0 && e.chain == self.chain ||
			w.passesOver(&w.chains[self.chain], &w.chains[e.chain]) {
			continue
		}
		near, at := apart(path, e.Element)
		crossed = crossed || near <= 1e-9
		b := bite{depth: d/2 - near, into: j, at: at}
		b.excess = b.depth - w.passes(self, e, j)
		each(b)
	}
	if self.hand != 0 && !w.chains[self.chain].open && (crossed || w.inMetal(self, path.Start)) {
		if b := w.sunk(i, path, d); b.into >= 0 {
			each(b)
		}
	}
}

// passes is what is let pass between element self and element e, index j: a little gap between
// neighbours must not be told a second time as a bite.
func (w *work) passes(self, e *element, j int) float64 {
	pass := w.Limits.Gouge
	for k, n := range self.next {
		if n == j {
			pass += min(self.gap[k], w.Limits.Gap)
		}
	}
	return pass
}

// inMetal reports whether the material at a place stands higher than the cutter goes that makes an element.
func (w *work) inMetal(e *element, p geom.Point) bool {
	c := &w.chains[e.chain]
	if c.floor > 0 {
		if high := w.surfaceAt(c, p); !math.IsNaN(high) {
			return high < c.floor-atDepth
		}
	}
	return w.height(c, p) > c.lower
}

// sunk is the deepest bite of a cutter whose axis itself enters the metal. Depth below the surface has
// no closed form where several elements are near, so the path is walked in steps and the deepest
// refined by thirds.
func (w *work) sunk(i int, path geom.Element, d float64) bite {
	const steps = 180
	below := func(part float64) bite {
		p, b := path.At(part), bite{into: -1, depth: math.Inf(-1)}
		if !w.inMetal(&w.elements[i], p) {
			return b
		}
		nearest, j := w.index.elements.Least(func(b geom.Box) float64 { return b.Distance(p) }, func(j int) float64 {
			e := &w.elements[j]
			if j == i || e.centreLine || w.chains[e.chain].open {
				return math.Inf(1)
			}
			far, _ := e.Distance(p)
			return far
		})
		if j >= 0 {
			_, on := w.elements[j].Distance(p)
			b.into, b.at = j, w.elements[j].At(on)
		}
		b.depth = d/2 + nearest
		return b
	}
	deepest, at := bite{into: -1, depth: math.Inf(-1)}, 0.0
	for k := range steps + 1 {
		if b := below(float64(k) / steps); b.depth > deepest.depth {
			deepest, at = b, float64(k)/steps
		}
	}
	lo, hi := max(0, at-1.0/steps), min(1, at+1.0/steps)
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if da, db := below(a), below(b); da.depth >= db.depth {
			hi = b
		} else {
			lo = a
		}
	}
	if b := below((lo + hi) / 2); b.depth > deepest.depth {
		deepest = b
	}
	deepest.excess = deepest.depth - w.Limits.Gouge
	return deepest
}
