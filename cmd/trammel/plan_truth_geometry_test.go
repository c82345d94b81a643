package main

import "math"

// The geometry that the plan is held to: elements as they were drawn, distances to them, discs for
// cutters. It is worked out here from the drawing alone and shares nothing with what it tests. Lengths
// are millimetres, angles degrees, counter-clockwise from +X, seen from above.

const trueDegree = math.Pi / 180

type trueSpot struct{ x, y float64 }

func (p trueSpot) plus(q trueSpot) trueSpot  { return trueSpot{p.x + q.x, p.y + q.y} }
func (p trueSpot) minus(q trueSpot) trueSpot { return trueSpot{p.x - q.x, p.y - q.y} }
func (p trueSpot) times(k float64) trueSpot  { return trueSpot{k * p.x, k * p.y} }
func (p trueSpot) dot(q trueSpot) float64    { return p.x*q.x + p.y*q.y }
func (p trueSpot) length() float64           { return math.Hypot(p.x, p.y) }
func (p trueSpot) bearing() float64          { return math.Atan2(p.y, p.x) / trueDegree }
func trueUnit(deg float64) trueSpot {
	return trueSpot{math.Cos(deg * trueDegree), math.Sin(deg * trueDegree)}
}
func trueRound(c trueSpot, r, deg float64) trueSpot { return c.plus(trueUnit(deg).times(r)) }

// trueTurn is how far it is anticlockwise from one bearing to another, from 0 up to 360; what is a
// rounding short of a whole turn is none.
func trueTurn(from, to float64) float64 {
	t := math.Mod(to-from, 360)
	if t < 0 {
		t += 360
	}
	if t > 360-1e-9 {
		return 0
	}
	return t
}

// trueEdge is one element: a straight from a to b, or an arc anticlockwise from a to b.
type trueEdge struct {
	layer               string
	curved              bool
	centre              trueSpot
	radius, from, sweep float64
	a, b                trueSpot
}

func trueArc(centre trueSpot, radius, from, sweep float64) trueEdge {
	return trueEdge{curved: true, centre: centre, radius: radius, from: from, sweep: sweep,
		a: trueRound(centre, radius, from), b: trueRound(centre, radius, from+sweep)}
}

func (e trueEdge) full() bool { return e.curved && e.sweep >= 360 }

// at is the place at a part of the way from a to b.
func (e trueEdge) at(part float64) trueSpot {
	if e.curved {
		return trueRound(e.centre, e.radius, e.from+part*e.sweep)
	}
	return e.a.plus(e.b.minus(e.a).times(part))
}

// away is the distance of a place from the nearest of the element.
func (e trueEdge) away(p trueSpot) float64 {
	ends := math.Min(p.minus(e.a).length(), p.minus(e.b).length())
	if e.curved {
		out := p.minus(e.centre)
		if e.full() || trueTurn(e.from, out.bearing()) <= e.sweep {
			return math.Abs(out.length() - e.radius)
		}
		return ends
	}
	run, to := e.b.minus(e.a), p.minus(e.a)
	if k := to.dot(run) / run.dot(run); k > 0 && k < 1 {
		return to.minus(run.times(k)).length()
	}
	return ends
}

// leaving is the way the element goes from its end a, or from its end b.
func (e trueEdge) leaving(atA bool) trueSpot {
	switch {
	case e.curved && atA:
		return trueUnit(e.from + 90)
	case e.curved:
		return trueUnit(e.from + e.sweep - 90)
	case atA:
		return e.b.minus(e.a).times(1 / e.b.minus(e.a).length())
	}
	return e.a.minus(e.b).times(1 / e.b.minus(e.a).length())
}

// trueContour is an outline: the elements that hang together by their ends.
type trueContour struct {
	edges  []trueEdge
	closed bool
	metal  string // "inside" or "outside" a closed one, as the part is meant; "" for an open one
	from   string // who says so: what metal_from must be; "" for an open one
}

// away is the distance of a place from the outline, and which element is nearest.
func (k *trueContour) away(p trueSpot) (far float64, nearest int) {
	far = math.Inf(1)
	for i, e := range k.edges {
		if d := e.away(p); d < far {
			far, nearest = d, i
		}
	}
	return far, nearest
}

// inMetal says whether a place is in the metal of a closed outline: from within, a ray crosses the outline, its arcs
// drawn as chords of 1°, an odd number of times. A chord of 1° is off its arc by R/26000 (0.002 mm at 52 mm, 0.03 mm
// at 810 mm); what is asked here lies far farther off. The ray's bearing is an odd one: along X or Y it would
// run through the very ends of elements, which miss each other by a double's last place.
func (k *trueContour) inMetal(p trueSpot) bool {
	ray := trueUnit(37.1234567)
	across := func(q trueSpot) trueSpot { q = q.minus(p); return trueSpot{q.dot(ray), ray.x*q.y - ray.y*q.x} }
	within := false
	for _, e := range k.edges {
		chords := 1
		if e.curved {
			chords = int(math.Ceil(e.sweep))
		}
		a := across(e.at(0))
		for i := range chords {
			b := across(e.at(float64(i+1) / float64(chords)))
			if (a.y > 0) != (b.y > 0) && a.x-(b.x-a.x)*a.y/(b.y-a.y) > 0 {
				within = !within
			}
			a = b
		}
	}
	return within == (k.metal == "inside")
}

// depth is how deep a disc cuts into what the outline bounds: its radius less the axis's distance from the
// outline, plus it where the axis itself is in the metal; negative: the clearance left. Of an open
// outline nobody knows how thick the metal is: the axis counts as outside it.
func (k *trueContour) depth(axis trueSpot, radius float64) (depth float64, into int) {
	far, into := k.away(axis)
	if k.closed && k.inMetal(axis) {
		return radius + far, into
	}
	return radius - far, into
}

// sideOf says where the metal of a closed outline is, seen from its arc i: a twentieth of the radius
// towards the centre, or not.
func (k *trueContour) sideOf(i int) string {
	e := k.edges[i]
	mid := e.at(0.5)
	if k.inMetal(mid.plus(e.centre.minus(mid).times(0.05))) {
		return "inside"
	}
	return "outside"
}

// path is where the axis of a cutter runs that leaves element i of a closed outline clean.
func (k *trueContour) path(i int, radius float64) trueEdge {
	e := k.edges[i]
	if e.curved {
		if k.sideOf(i) == "outside" {
			radius = -radius
		}
		return trueArc(e.centre, e.radius+radius, e.from, e.sweep)
	}
	run := e.b.minus(e.a)
	normal := trueSpot{-run.y, run.x}.times(1 / run.length())
	if k.inMetal(e.at(0.5).plus(normal.times(run.length() / 20))) {
		normal = normal.times(-1)
	}
	return trueEdge{a: e.a.plus(normal.times(radius)), b: e.b.plus(normal.times(radius))}
}

// neighbour is the element of the outline that meets element i at its end a, or b, and by how many
// degrees the outline turns there; none at an open end.
func (k *trueContour) neighbour(i int, atA bool) (j int, kink float64, ok bool) {
	e := k.edges[i]
	end, way := e.b, e.leaving(false)
	if atA {
		end, way = e.a, e.leaving(true)
	}
	for j, f := range k.edges {
		for _, fAtA := range []bool{true, false} {
			at := f.b
			if fAtA {
				at = f.a
			}
			if j == i && fAtA == atA || at.minus(end).length() > trueMeet {
				continue
			}
			on := f.leaving(fAtA).times(-1)
			return j, math.Abs(math.Atan2(way.x*on.y-way.y*on.x, way.dot(on))) / trueDegree, true
		}
	}
	return 0, 0, false
}

// trueMeet is how near ends lie that meet: the drawings are of doubles, their neighbours millimetres off.
const trueMeet = 1e-6

// trueSwing is a cutter carried round a centre.
type trueSwing struct {
	centre        trueSpot
	swing, radius float64 // of the axis's circle; of the cutter
}

func (s trueSwing) axis(deg float64) trueSpot { return trueRound(s.centre, s.swing, deg) }

// firstBeyond carries the cutter on from a bearing, anticlockwise (way 1) or clockwise (−1), and says
// after how many degrees it first cuts deeper than is let pass, and into which element.
//
// No step can leap over such a place: a cut grows no faster than the axis moves, so the room left is
// walked at once. Steps of less than 0.001° are not made: at the largest swing here, 900 mm, 16 µm. The axis
// begins outside the metal and cannot come into it without a cut of the cutter's whole radius before: it is not asked.
func (k *trueContour) firstBeyond(s trueSwing, from, way, limit, pass float64) (deg float64, into int, ok bool) {
	below := func(deg float64) float64 { far, _ := k.away(s.axis(from + way*deg)); return s.radius - far }
	before, perDegree := 0.0, s.swing*trueDegree
	for at := 0.0; at < limit; {
		room := pass - below(at)
		if room < 0 {
			for range 60 {
				if mid := (before + at) / 2; below(mid) > pass {
					at = mid
				} else {
					before = mid
				}
			}
			_, into = k.away(s.axis(from + way*at))
			return at, into, true
		}
		before = at
		at += math.Max(room/perDegree, 0.001)
	}
	return 0, 0, false
}

// leastClearance is the smallest of the least values that the clearance comes down to on such a swing that never gouges,
// millimetres: a place where it is less than a tenth of a degree before and no more than a tenth after. The two
// ends of the swing, where the arc itself is touched, are none. +Inf: there is none.
func (k *trueContour) leastClearance(s trueSwing, from, way, limit float64) float64 {
	clear := func(deg float64) float64 { far, _ := k.away(s.axis(from + way*deg)); return far - s.radius }
	n := int(limit / 0.1)
	least, a, b := math.Inf(1), clear(0), clear(0.1)
	for i := 2; i <= n; i++ {
		c := clear(float64(i) * 0.1)
		if b < a && b <= c {
			least = math.Min(least, b)
		}
		a, b = b, c
	}
	return least
}

// standing is what two cuts leave proud of an arc, millimetres: along the normal of each place of it, what
// neither disc has swept, from the last place that mine touched (short of the end) to the end.
func (k *trueContour) standing(i int, atA bool, short float64, mine, next trueEdge, rMine, rNext float64) float64 {
	e := k.edges[i]
	mine = trueArc(mine.centre, mine.radius, mine.from, mine.sweep-short)
	end, way := e.from+e.sweep, -1.0
	if atA {
		mine = trueArc(mine.centre, mine.radius, e.from+short, mine.sweep)
		end, way = e.from, 1
	}
	out := 1.0
	if k.sideOf(i) == "outside" {
		out = -1
	}
	height := func(part float64) float64 {
		bearing := end + way*short*part
		up := 0.0
		for range 200 {
			p := trueRound(e.centre, e.radius+out*up, bearing)
			uncut := math.Min(mine.away(p)-rMine, next.away(p)-rNext)
			if uncut <= 1e-13 {
				break
			}
			up += uncut // no disc is nearer than that
		}
		return up
	}
	lo, hi := 0.0, 1.0 // it rises to the crest and falls after it
	for range 80 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if height(a) < height(b) {
			lo = a
		} else {
			hi = b
		}
	}
	return height((lo + hi) / 2)
}

// trueConventional says whether a cutter whose axis moves from one place to the next, past a wall touched at
// the first, cuts conventionally. A tooth that stands at the wall is turned on by 5° as the spindle
// turns: conventional, it comes forward of the axis into what is not yet cut, its chip growing from
// nothing; climbing, it has come from there.
//
// Source: common practice, no source.
func trueConventional(leftHand bool, axis, next, wall trueSpot) bool {
	turn := -5.0 // clockwise, seen from above
	if leftHand {
		turn = 5
	}
	tooth := wall.minus(axis)
	on := trueUnit(tooth.bearing() + turn).times(tooth.length())
	return on.minus(tooth).dot(next.minus(axis)) > 0
}
