package geom

import "math"

// Element is one piece of an outline, a straight or an arc, run through from Start to End.
// Lengths are millimetres.
type Element struct {
	Start Point `json:"start"`
	End   Point `json:"end"`
	// Turn is the angle that an arc sweeps about Centre, radians: + counter-clockwise, − clockwise,
	// ±2π for a full circle, whose Start and End are the same place. 0 for a straight, whose Centre
	// and Radius mean nothing.
	Turn   Bearing `json:"turn,omitempty"`
	Centre Point   `json:"centre"`
	Radius float64 `json:"radius,omitempty"`
}

// Straight is the element that runs straight from a to b.
func Straight(a, b Point) Element { return Element{Start: a, End: b} }

// ArcOf is the arc about a centre that begins at bearing from and sweeps turn, + counter-clockwise.
func ArcOf(centre Point, radius float64, from, turn Bearing) Element {
	e := Element{Centre: centre, Radius: radius, Turn: turn}
	e.Start = centre.Along(from, radius)
	e.End = centre.Along(from+turn, radius)
	if e.Full() {
		e.End = e.Start
	}
	return e
}

// Bulged is the element from a to b with a bulge: the tangent of a quarter of the angle swept, +
// counter-clockwise, as the polylines of drawing files give it. A bulge of 0 is a straight.
func Bulged(a, b Point, bulge float64) Element {
	chord := b.Sub(a)
	half := chord.Norm() / 2
	if bulge == 0 || half == 0 {
		return Straight(a, b)
	}
	// With t = tan(Turn/4): radius = half·(1 + t²)/(2|t|), and the centre lies half·(1 − t²)/(2t) to
	// the left of the chord's middle.
	left := Point{-chord.Y, chord.X}.Times(1 / (2 * half))
	middle := a.Add(chord.Times(0.5))
	square := float64(bulge * bulge)
	return Element{
		Start: a, End: b,
		Turn:   Bearing(4 * math.Atan(bulge)),
		Centre: middle.Add(left.Times(half * (1 - square) / (2 * bulge))),
		Radius: half * (1 + square) / (2 * math.Abs(bulge)),
	}
}

// Curved reports whether the element is an arc.
func (e Element) Curved() bool { return e.Turn != 0 }

// Full reports whether the element is a full circle.
func (e Element) Full() bool { return math.Abs(float64(e.Turn)) >= 2*math.Pi-1e-12 }

// From is the bearing from the centre to where an arc begins, in [0, 2π).
func (e Element) From() Bearing { return e.Start.Sub(e.Centre).Bearing() }

// Span returns the bearings between which an arc lies, whatever way it is run through: counter-
// clockwise from from, in [0, 2π), to to, which is larger; a full circle is 0 to 2π.
func (e Element) Span() (from, to Bearing) {
	sweep := Bearing(math.Abs(float64(e.Turn)))
	if e.Full() {
		return 0, 2 * math.Pi
	}
	if from = e.From(); e.Turn < 0 {
		from = e.End.Sub(e.Centre).Bearing()
	}
	return from, from + sweep
}

// Reversed is the same piece run through the other way.
func (e Element) Reversed() Element {
	e.Start, e.End, e.Turn = e.End, e.Start, -e.Turn
	return e
}

// Length is the length along the element, millimetres.
func (e Element) Length() float64 {
	if e.Curved() {
		return e.Radius * math.Abs(float64(e.Turn))
	}
	return e.End.Sub(e.Start).Norm()
}

// At is the place a part of the way along, 0 at Start and 1 at End.
func (e Element) At(part float64) Point {
	switch {
	case part == 0:
		return e.Start
	case part == 1:
		return e.End
	case e.Curved():
		return e.Centre.Along(e.From()+Bearing(part)*e.Turn, e.Radius)
	}
	return e.Start.Add(e.End.Sub(e.Start).Times(part))
}

// Heading is the bearing in which the element runs, a part of the way along.
func (e Element) Heading(part float64) Bearing {
	if !e.Curved() {
		return e.End.Sub(e.Start).Bearing()
	}
	quarter := Bearing(math.Pi / 2)
	if e.Turn < 0 {
		quarter = -quarter
	}
	// From the end's own coordinates where there is a choice: they are what meets the next element.
	switch part {
	case 0:
		return (e.From() + quarter).Normalized()
	case 1:
		return (e.End.Sub(e.Centre).Bearing() + quarter).Normalized()
	}
	return (e.From() + Bearing(part)*e.Turn + quarter).Normalized()
}

// Distance is how far a place lies from the element, millimetres, and the part of the way along at
// which it is nearest.
func (e Element) Distance(p Point) (distance, part float64) {
	if !e.Curved() {
		run := e.End.Sub(e.Start)
		if square := run.Dot(run); square > 0 {
			part = min(1, max(0, p.Sub(e.Start).Dot(run)/square))
		}
		return p.Sub(e.At(part)).Norm(), part
	}
	away := p.Sub(e.Centre)
	on := away.Bearing() - e.From()
	if e.Turn < 0 {
		on = -on
	}
	if part = float64(on.Normalized()) / math.Abs(float64(e.Turn)); part <= 1 {
		return math.Abs(away.Norm() - e.Radius), part
	}
	toStart, toEnd := p.Sub(e.Start).Norm(), p.Sub(e.End).Norm()
	if toStart <= toEnd {
		return toStart, 0
	}
	return toEnd, 1
}

// Bounds are the corners of the upright window that just holds the element.
func (e Element) Bounds() (lo, hi Point) {
	lo, hi = Point{min(e.Start.X, e.End.X), min(e.Start.Y, e.End.Y)}, Point{max(e.Start.X, e.End.X), max(e.Start.Y, e.End.Y)}
	if !e.Curved() {
		return lo, hi
	}
	from, to := e.Span()
	for k := range 4 { // the outermost places of the circle, as far as the arc has them
		b := Bearing(k) * math.Pi / 2
		if (b - from).Normalized() > to-from {
			continue
		}
		p := e.Centre.Along(b, e.Radius)
		lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return lo, hi
}

// bow is twice the signed area between an element and its chord, + where it bows to the right of its
// run, which is outwards of a counter-clockwise loop.
func (e Element) bow() float64 {
	if !e.Curved() {
		return 0
	}
	turn := float64(e.Turn)
	return float64(e.Radius*e.Radius) * (turn - math.Sin(turn))
}

// Chain is a run of elements, each of which begins where the one before it ends.
type Chain []Element

// Closed reports whether the chain ends where it begins, give or take gap.
func (c Chain) Closed(gap float64) bool {
	return len(c) > 0 && c[len(c)-1].End.Sub(c[0].Start).Norm() <= gap
}

// Area is the area inside a closed chain, square millimetres: + where it runs counter-clockwise.
func (c Chain) Area() float64 {
	if len(c) == 0 {
		return 0
	}
	twice, o := 0.0, c[0].Start // from a corner of the chain: far from the origin nothing cancels
	for _, e := range c {
		twice += e.Start.Sub(o).Cross(e.End.Sub(o)) + e.bow()
	}
	return twice / 2
}

// Reversed is the same chain run through the other way.
func (c Chain) Reversed() Chain {
	out := make(Chain, len(c))
	for i, e := range c {
		out[len(c)-1-i] = e.Reversed()
	}
	return out
}

// Holds reports whether a place lies inside a closed chain. A place on the chain itself may be told
// either way.
func (c Chain) Holds(p Point) bool {
	turned := 0.0
	for _, e := range c {
		turned += e.angleFrom(p)
	}
	return math.Abs(turned) > math.Pi
}

// angleFrom is the angle by which the line from p to the element's run turns, radians. An arc turns it
// like its chord, but for a full turn where p lies between the two.
func (e Element) angleFrom(p Point) float64 {
	if e.Full() {
		if p.Sub(e.Centre).Norm() < e.Radius {
			return float64(e.Turn)
		}
		return 0
	}
	a, b := e.Start.Sub(p), e.End.Sub(p)
	chord := math.Atan2(a.Cross(b), a.Dot(b))
	if !e.Curved() || p.Sub(e.Centre).Norm() >= e.Radius {
		return chord
	}
	// Inside the circle the line turns the arc's way all along.
	if turn := float64(e.Turn); chord*turn < 0 {
		return chord + math.Copysign(2*math.Pi, turn)
	}
	return chord
}

// Meeting is where one element of an outline meets the next.
type Meeting struct {
	At Point
	// Gap is the distance from the first's end to the second's start, millimetres.
	Gap float64
	// Kink is the angle by which the run turns there, radians in (−π, π]: + to the left, 0 where the
	// two are tangent.
	Kink Bearing
}

// Meet tells how element b follows element a.
func Meet(a, b Element) Meeting {
	d := b.Start.Sub(a.End)
	kink := b.Heading(0) - a.Heading(1)
	return Meeting{
		At:   a.End.Add(d.Times(0.5)),
		Gap:  d.Norm(),
		Kink: Bearing(math.Atan2(math.Sin(float64(kink)), math.Cos(float64(kink)))),
	}
}
