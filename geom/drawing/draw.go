package drawing

import (
	"math"

	"example.org/trammel/geom"
)

// draw makes the elements of an entity.
func (p *placer) draw(e *entity, m affine, from Source) {
	at := func(q geom.Point) geom.Point { return m.apply(q).Times(p.scale) }
	here := geom.Point{X: e.p[0], Y: e.p[1]}
	switch e.kind {
	case "LINE":
		if slope := math.Abs(e.q[2]-e.p[2]) * p.scale; slope > meets {
			p.count(Note{Kind: Sloped, Entity: e.kind, Layer: from.Layer, Count: 1, Size: slope})
		}
		p.add(piece{Path: Path{Chain: geom.Chain{geom.Straight(at(here), at(geom.Point{X: e.q[0], Y: e.q[1]}))}, From: []Source{from}}})
	case "ARC", "CIRCLE":
		grows, ok := m.round()
		if !ok {
			p.count(Note{Kind: Stretched, Entity: e.kind, Layer: from.Layer, Count: 1})
			return
		}
		begin, sweep := 0.0, 360.0
		if e.kind == "ARC" {
			begin = math.Mod(e.angle[0], 360)
			if sweep = math.Mod(e.angle[1]-e.angle[0], 360); sweep <= 0 {
				sweep += 360
			}
		}
		// The bearing at which the arc begins, in place.
		sin, cos := sincosDegrees(begin)
		to := geom.Point{X: float64(m.a*cos) + float64(m.b*sin), Y: float64(m.c*cos) + float64(m.d*sin)}.Bearing()
		turn := geom.Bearing(math.Copysign(sweep*math.Pi/180, grows))
		arc := geom.ArcOf(at(here), math.Abs(e.r[0]*grows)*p.scale, to, turn)
		p.add(piece{Path: Path{Chain: geom.Chain{arc}, From: []Source{from}}, closed: arc.Full()})
	default:
		p.polyline(e, m, from)
	}
}

// polyline makes the elements of a polyline.
func (p *placer) polyline(e *entity, m affine, from Source) {
	wide := e.wide
	if e.kind == "POLYLINE" {
		if e.flags&(meshFlags|splineFlag) != 0 {
			p.count(Note{Kind: NotUnderstood, Entity: "POLYLINE of a mesh or spline", Layer: from.Layer, Count: 1})
			return
		}
		wide = max(wide, e.r[0], e.r[1])
	}
	if wide > 0 {
		p.count(Note{Kind: Wide, Entity: e.kind, Layer: from.Layer, Count: 1, Size: wide * p.scale})
	}
	out := piece{closed: e.flags&closedFlag != 0}
	last := len(e.corners) - 1
	for i := range e.corners {
		if i == last && e.flags&closedFlag == 0 {
			break
		}
		element, ok := p.side(e, i, m, from)
		switch {
		case !ok: // what came before and what comes after stand on their own
			p.count(Note{Kind: Stretched, Entity: e.kind, Layer: from.Layer, Count: 1})
			out.closed = false
			p.add(out)
			out = piece{}
		case element.Start == element.End && i == last: // closed twice over is a habit of those who write files
		case element.Start == element.End:
			p.count(Note{Kind: NoLength, Entity: e.kind, Layer: from.Layer, Count: 1, At: element.Start})
		default:
			here := from
			here.Line = e.corners[i].line
			out.Chain, out.From = append(out.Chain, element), append(out.From, here)
		}
	}
	p.add(out)
}

// side is the element from corner i of a polyline to the next; ok is false if it was an arc and is none
// any more.
func (p *placer) side(e *entity, i int, m affine, from Source) (geom.Element, bool) {
	c, next := e.corners[i], e.corners[(i+1)%len(e.corners)]
	if rise := math.Abs(c.z-next.z) * p.scale; rise > meets && e.flags&threeDFlag != 0 && e.kind == "POLYLINE" {
		p.count(Note{Kind: Sloped, Entity: e.kind, Layer: from.Layer, Count: 1, Size: rise})
	}
	a := m.apply(geom.Point{X: c.x, Y: c.y}).Times(p.scale)
	b := m.apply(geom.Point{X: next.x, Y: next.y}).Times(p.scale)
	if c.bulge == 0 {
		return geom.Straight(a, b), true
	}
	grows, ok := m.round()
	return geom.Bulged(a, b, c.bulge*math.Copysign(1, grows)), ok
}

// add keeps a piece, if there is anything of it, less what has no length.
func (p *placer) add(whole piece) {
	kept := piece{closed: whole.closed}
	for i, e := range whole.Chain {
		if from := whole.From[i]; !finite(e) || e.Length() <= meets || e.Curved() && e.Radius <= meets {
			p.count(Note{Kind: NoLength, Entity: from.Entity, Layer: from.Layer, Count: 1, At: e.Start})
			continue
		}
		kept.Chain, kept.From = append(kept.Chain, e), append(kept.From, whole.From[i])
	}
	if len(kept.Chain) > 0 {
		p.drawn = append(p.drawn, kept)
	}
}

// finite reports whether an element has numbers for its places.
func finite(e geom.Element) bool {
	sum := e.Start.X + e.Start.Y + e.End.X + e.End.Y + e.Radius + e.Centre.X + e.Centre.Y
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
