package drawing

import (
	"math"

	"example.org/trammel/geom"
)

// Blend rounds the corner where b follows a with an arc of a radius, millimetres, tangent to both: it
// lies on the side that the run turns to. It returns both elements cut to where the arc takes over, and
// the arc; ok is false where there is no corner, or the arc finds no room on the two.
func Blend(a, b geom.Element, radius float64) (before, arc, after geom.Element, ok bool) {
	corner := geom.Meet(a, b)
	if math.Abs(float64(corner.Kink)) < 1e-9 || a.Full() || b.Full() {
		return a, arc, b, false
	}
	side := math.Copysign(1, float64(corner.Kink))
	best := math.Inf(1)
	for _, c := range meetings(beside(a, side*radius), beside(b, side*radius)) {
		from, ta, onA := foot(a, c)
		to, tb, onB := foot(b, c)
		if far := c.Sub(corner.At).Norm(); !onA || !onB || far >= best {
			continue
		} else {
			best = far
		}
		before, after = a, b
		before.End, before.Turn = from, a.Turn*geom.Bearing(ta)
		after.Start, after.Turn = to, b.Turn*geom.Bearing(1-tb)
		u, v := from.Sub(c), to.Sub(c)
		turn := math.Atan2(u.Cross(v), u.Dot(v))
		if turn*side < 0 {
			turn += side * 2 * math.Pi
		}
		arc, ok = geom.Element{Start: from, End: to, Centre: c, Radius: radius, Turn: geom.Bearing(turn)}, true
	}
	return before, arc, after, ok
}

// path of a whole line or circle: all places beside an element.
type whole struct {
	at, along geom.Point // of a line, along of length 1
	radius    float64    // of a circle about at; 0 for a line
	none      bool
}

// beside is the line or circle that runs beside an element, + to its left, mm.
func beside(e geom.Element, left float64) whole {
	if !e.Curved() {
		along := e.End.Sub(e.Start).Times(1 / e.Length())
		return whole{at: e.Start.Add(geom.Point{X: -along.Y, Y: along.X}.Times(left)), along: along}
	}
	radius := e.Radius - math.Copysign(left, left*float64(e.Turn))
	return whole{at: e.Centre, radius: radius, none: !(radius > 0)}
}

// meetings are the places where two lines or circles cross.
func meetings(a, b whole) []geom.Point {
	switch {
	case a.none || b.none:
		return nil
	case a.radius == 0 && b.radius == 0:
		cross := a.along.Cross(b.along)
		if math.Abs(cross) < 1e-12 {
			return nil
		}
		return []geom.Point{a.at.Add(a.along.Times(b.at.Sub(a.at).Cross(b.along) / cross))}
	case a.radius == 0:
		return meetings(b, a)
	}
	// The chord that both share: where it stands as seen from a's centre, and which way it runs.
	var middle, along geom.Point
	if b.radius == 0 {
		along = b.along
		middle = b.at.Add(along.Times(a.at.Sub(b.at).Dot(along))).Sub(a.at)
	} else {
		apart := b.at.Sub(a.at)
		square := apart.Dot(apart)
		if square == 0 {
			return nil
		}
		middle = apart.Times((square + float64((a.radius-b.radius)*(a.radius+b.radius))) / (2 * square))
		along = geom.Point{X: -apart.Y, Y: apart.X}.Times(1 / apart.Norm())
	}
	half := (a.radius - middle.Norm()) * (a.radius + middle.Norm())
	if half < 0 {
		return nil
	}
	half = math.Sqrt(half)
	return []geom.Point{a.at.Add(middle).Add(along.Times(half)), a.at.Add(middle).Add(along.Times(-half))}
}

// foot is the place on an element that is square below c, the part of the way along, and whether it is
// on the element at all.
func foot(e geom.Element, c geom.Point) (at geom.Point, part float64, on bool) {
	const slack = 1e-9 // an element may be used up to its end
	if !e.Curved() {
		run := e.End.Sub(e.Start)
		part = c.Sub(e.Start).Dot(run) / run.Dot(run)
		return e.Start.Add(run.Times(part)), part, part >= -slack && part <= 1+slack
	}
	away := c.Sub(e.Centre)
	at = e.Centre.Add(away.Times(e.Radius / away.Norm()))
	turned := away.Bearing() - e.From()
	if e.Turn < 0 {
		turned = -turned
	}
	turned = turned.Normalized()
	if float64(turned) > 2*math.Pi-slack {
		turned = 0
	}
	part = float64(turned) / math.Abs(float64(e.Turn))
	return at, part, part <= 1+slack
}
