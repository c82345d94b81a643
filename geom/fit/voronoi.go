package fit

import (
	"math"
	"slices"

	"example.org/trammel/geom"
)

// profile is a closed profile seen from its least-squares centre.
type profile struct {
	p     []geom.Point // each place once
	all   []geom.Point
	grain float64 // lengths below this are nothing, millimetres
}

// profileGrain is the shortest edge of a diagram, in radii. Points that lie on one circle but for
// rounding (equal readings at equal angles) meet in a vertex that rounding tears into edges of some
// 1e-13; dropping them moves no centre by more, and keeps the number of edges what it should be.
const profileGrain = 1e-11

// gapSlack is how near to half a turn a gap counts as that, radians.
const gapSlack = 1e-9

// seenFrom returns the profile as seen from c.
func seenFrom(c geom.Point, points []geom.Point, grain float64) profile {
	p := profile{grain: grain}
next:
	for _, v := range points {
		v = v.Sub(c)
		p.all = append(p.all, v)
		for _, s := range p.p {
			if v.Sub(s).Norm() <= grain {
				continue next
			}
		}
		p.p = append(p.p, v)
	}
	return p
}

// edge is an edge of a Voronoi diagram: the places from which the points i and j are equally far
// and none is nearer (or none farther). They lie at mid + t·along, low ≤ t ≤ high.
type edge struct {
	i, j       int
	mid, along geom.Point
	low, high  float64
}

func (e *edge) at(t float64) geom.Point {
	return geom.Point{X: e.mid.X + float64(t*e.along.X), Y: e.mid.Y + float64(t*e.along.Y)}
}

// diagram returns the edges of the Voronoi diagram of nearest points for way = 1, of farthest
// points for way = −1. On the line between two points, every other point cuts away the part from
// which it is nearer: |P − C|² − |Pᵢ − C|² is linear in t there. Whatever rounding does, each edge
// is right to about its own size, which no walk over triangles could promise for points on a circle.
func (p *profile) diagram(way float64) []edge {
	n := len(p.p)
	order := p.scattered()
	var edges []edge
	for i := range n {
		for j := i + 1; j < n; j++ {
			if e, ok := p.edge(i, j, way, order); ok {
				edges = append(edges, e)
			}
		}
	}
	return edges
}

func (p *profile) edge(i, j int, way float64, order []int) (edge, bool) {
	a, b := p.p[i], p.p[j]
	span := b.Sub(a)
	length := span.Norm()
	e := edge{i: i, j: j, mid: geom.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2},
		along: geom.Point{X: -span.Y / length, Y: span.X / length}, low: math.Inf(-1), high: math.Inf(1)}
	for _, k := range order {
		if k == i || k == j {
			continue
		}
		// |P − C|² − |Pᵢ − C|² = (P − Pᵢ)·(P + Pᵢ − 2·mid) − 2t (P − Pᵢ)·along
		d, s := p.p[k].Sub(a), p.p[k].Add(a)
		at := way * d.Dot(geom.Point{X: s.X - 2*e.mid.X, Y: s.Y - 2*e.mid.Y})
		by := way * 2 * d.Dot(e.along)
		switch {
		case by > 0:
			e.high = min(e.high, at/by)
		case by < 0:
			e.low = max(e.low, at/by)
		case at < 0:
			return e, false
		}
		if !(e.high-e.low > p.grain) {
			return e, false
		}
	}
	return e, true
}

// scattered is an order of the points in which neighbours lie far apart, so that a pair that has no
// edge is refuted by the first few.
func (p *profile) scattered() []int {
	n := len(p.p)
	step := max(1, int(0.618*float64(n)))
	for gcd(step, n) != 1 {
		step++
	}
	order := make([]int, n)
	for i := 1; i < n; i++ {
		order[i] = (order[i-1] + step) % n
	}
	return order
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// reach returns the smallest and the largest distance of the profile from c.
func (p *profile) reach(c geom.Point) (least, most float64) {
	least = math.Inf(1)
	for _, v := range p.all {
		d := v.Sub(c)
		q := d.Dot(d)
		least, most = min(least, q), max(most, q)
	}
	return math.Sqrt(least), math.Sqrt(most)
}

// about returns the middle circle of the zone about c.
func (p *profile) about(c geom.Point) ReferenceCircle {
	least, most := p.reach(c)
	return ReferenceCircle{Centre: c, Radius: (least + most) / 2, Departure: most - least}
}

// circumscribed returns the smallest circle round the profile: on each edge of farthest points the
// place nearest to the two is tried.
func (p *profile) circumscribed(far []edge) ReferenceCircle {
	best, at := math.Inf(1), geom.Point{}
	for k := range far {
		e := &far[k]
		c := e.at(min(max(0, e.low), e.high))
		if _, most := p.reach(c); most < best {
			best, at = most, c
		}
	}
	out := p.about(at)
	out.Radius = best
	return out
}

// inscribed returns the largest empty circle that no way leads out of: the points it touches do not
// all lie on one side of its centre.
func (p *profile) inscribed(near []edge) (out ReferenceCircle, ok bool) {
	best, at := 0.0, geom.Point{}
	for k := range near {
		e := &near[k]
		for _, t := range [2]float64{e.low, e.high} {
			if math.IsInf(t, 0) {
				continue
			}
			c := e.at(t)
			if least, _ := p.reach(c); least > best && p.held(c, least) {
				best, at = least, c
			}
		}
	}
	out = p.about(at)
	out.Radius = best
	return out, best > 0
}

// held reports whether the points at the given distance from c surround it.
func (p *profile) held(c geom.Point, distance float64) bool {
	var touching []geom.Point
	for _, v := range p.p {
		if v.Sub(c).Norm() <= distance+p.grain {
			touching = append(touching, v)
		}
	}
	if len(touching) < 3 {
		return false
	}
	_, gap := widestGap(c, touching)
	return gap <= math.Pi+gapSlack
}

// widestGap returns the largest sector without points as seen from c, from where it begins
// counter-clockwise; radians.
func widestGap(c geom.Point, p []geom.Point) (from geom.Bearing, gap float64) {
	at := make([]geom.Bearing, len(p))
	for i, v := range p {
		at[i] = v.Sub(c).Bearing()
	}
	slices.Sort(at)
	for i, b := range at {
		next := float64(at[(i+1)%len(at)] - b)
		if i == len(at)-1 {
			next += 2 * math.Pi
		}
		if next > gap {
			from, gap = b, next
		}
	}
	return from, gap
}

// zone returns the minimum zone. About the best centre points outside and inside take turns: the
// pull of the outer ones, a mean of unit vectors, must be one of the inner ones too, or a step would
// narrow the zone; and no unit vector is a mean of others, so that each side has two. The centre
// then lies on an edge of either diagram.
func (p *profile) zone(near, far []edge) ReferenceCircle {
	best := p.about(geom.Point{})
	for k := range far {
		f := &far[k]
		for l := range near {
			c, ok := crossing(f, &near[l], p.grain)
			if !ok {
				continue
			}
			inner, outer := p.p[near[l].i].Sub(c).Norm(), p.p[f.i].Sub(c).Norm()
			if outer-inner >= best.Departure {
				continue
			}
			if z := p.about(c); z.Departure < best.Departure {
				best = z
			}
		}
	}
	return best
}

// crossing returns where two edges meet.
func crossing(a, b *edge, grain float64) (geom.Point, bool) {
	det := float64(a.along.X*b.along.Y) - float64(a.along.Y*b.along.X)
	d := b.mid.Sub(a.mid)
	t := (float64(d.X*b.along.Y) - float64(d.Y*b.along.X)) / det
	if !(t >= a.low-grain && t <= a.high+grain) { // also where they are parallel
		return geom.Point{}, false
	}
	c := a.at(t)
	u := c.Sub(b.mid).Dot(b.along)
	return c, u >= b.low-grain && u <= b.high+grain
}
