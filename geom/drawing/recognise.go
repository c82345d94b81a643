package drawing

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

const (
	// minChords is the fewest chords that are taken for an arc: of fewer, three corners of which fix
	// the circle anyway, too many lie on one by chance.
	minChords = 6
	// maxChordTurn is the most that one chord may turn: coarser ones are corners that are meant, such
	// as those of a polygon (24 sides turn by it; common practice, no source).
	maxChordTurn = 15 * geom.Degree
	// chordsAlike is how much longer than the shortest the longest chord may be; the first and the
	// last may be shorter than all.
	chordsAlike = 1.1
	// stray is by how many times the others' departure an outermost corner may lie off the arc of the
	// others before it is left out of it.
	stray = 6
)

// recognise takes runs of short chords for arcs if their corners lie within limit of one, mm: as from
// each element on the longest run that does. The arc keeps the corners at its ends.
func (p *piece) recognise(limit float64, told *tally) {
	if !p.closed {
		p.recogniseFrom(limit, told)
		return
	}
	// Of a loop, no run may be cut in two by where it happens to begin.
	for i := range p.Chain {
		n := p.run(i, limit)
		if n == 0 {
			continue
		}
		if n == len(p.Chain) {
			p.wholeCircle(told)
			return
		}
		p.rotate((i + n) % len(p.Chain))
		break
	}
	p.recogniseFrom(limit, told)
}

func (p *piece) recogniseFrom(limit float64, told *tally) {
	chain, from := p.Chain[:0:0], p.From[:0:0]
	for i := 0; i < len(p.Chain); {
		n := p.run(i, limit)
		if n == 0 {
			chain, from = append(chain, p.Chain[i]), append(from, p.From[i])
			i++
			continue
		}
		f, off, _ := fitted(corners(p.Chain[i : i+n]))
		arc := through(p.Chain[i:i+n], f)
		told.tell(Note{Kind: Recognised, Layer: p.From[i].Layer, Line: p.From[i].Line, Count: n, At: arc.Centre, Size: off})
		chain, from = append(chain, arc), append(from, p.From[i])
		i += n
	}
	p.Chain, p.From = chain, from
}

// wholeCircle takes a loop of chords as a full circle.
func (p *piece) wholeCircle(told *tally) {
	f, off, _ := fitted(corners(p.Chain)[1:])
	turn := geom.Bearing(2 * math.Pi)
	if p.Chain.Area() < 0 {
		turn = -turn
	}
	told.tell(Note{Kind: Recognised, Layer: p.From[0].Layer, Line: p.From[0].Line, Count: len(p.Chain), At: f.Centre, Size: off})
	arc := geom.ArcOf(f.Centre, f.Radius, p.Chain[0].Start.Sub(f.Centre).Bearing(), turn)
	p.Chain, p.From = geom.Chain{arc}, p.From[:1]
}

// corners are the places that chords run through.
func corners(chords geom.Chain) []geom.Point {
	out := []geom.Point{chords[0].Start}
	for _, e := range chords {
		out = append(out, e.End)
	}
	return out
}

// fitted fits a circle, and tells how far the farthest corner lies off it.
func fitted(at []geom.Point) (f fit.Points, off float64, ok bool) {
	f, err := fit.Orthogonal(at, nil)
	if err != nil {
		return f, 0, false
	}
	for _, q := range at {
		off = max(off, math.Abs(f.Residual(q)))
	}
	return f, off, true
}

// through is the arc on a fitted circle that runs as the chords do.
func through(chords geom.Chain, f fit.Points) geom.Element {
	e := geom.Element{Start: chords[0].Start, End: chords[len(chords)-1].End, Centre: f.Centre, Radius: f.Radius}
	for _, c := range chords {
		a, b := c.Start.Sub(f.Centre), c.End.Sub(f.Centre)
		e.Turn += geom.Bearing(math.Atan2(a.Cross(b), a.Dot(b)))
	}
	return e
}

// run is how many chords from element i on make the longest arc, 0 for none.
func (p *piece) run(i int, limit float64) int {
	if p.alike(i, minChords) < minChords {
		return 0
	}
	good := func(n int) bool {
		_, off, ok := fitted(corners(p.Chain[i : i+n]))
		return ok && off <= limit
	}
	if !good(minChords) {
		return 0
	}
	most := p.alike(i, len(p.Chain)-i)
	n, step := minChords, minChords
	for n < most && good(min(n+step, most)) {
		n, step = min(n+step, most), 2*step
	}
	for step = min(step, most-n); step > 0; step /= 2 {
		for n+step <= most && good(n+step) {
			n += step
		}
	}
	n = p.trim(i, n)
	at := corners(p.Chain[i : i+n])
	inner, off, ok := fitted(at[1 : len(at)-1])
	if ok && n > minChords && math.Abs(inner.Residual(at[0])) > stray*max(off, meets) {
		return 0 // the arc begins with the next chord
	}
	return n
}

// alike is how many chords from element i on, at most so many, could be those of one arc by their length
// and their turn: straight, turning one way by little and not more than once round, and all about as
// long, but for the first and the last.
func (p *piece) alike(i, most int) int {
	n, way, turned := 1, 0.0, 0.0
	if p.Chain[i].Curved() {
		return 0
	}
	shortest, longest := math.Inf(1), 0.0
	for most = min(most, len(p.Chain)-i); n < most; n++ {
		e := p.Chain[i+n]
		if e.Curved() || p.From[i+n].Aside != p.From[i].Aside {
			break
		}
		length, turn := e.Length(), float64(geom.Meet(p.Chain[i+n-1], e).Kink)
		turned += turn
		if math.Abs(turn) > float64(maxChordTurn) || turn == 0 || turn*way < 0 || math.Abs(turned)+math.Abs(turn) > 2*math.Pi+1e-6 {
			break
		}
		way, longest = turn, max(longest, length)
		if length > chordsAlike*shortest {
			break
		}
		if length*chordsAlike < longest || n == 1 && p.Chain[i].Length() > chordsAlike*length {
			return n + 1 // a last, shorter one
		}
		shortest = min(shortest, length)
	}
	return n
}

// trim takes off an outermost chord that lies further off the arc of the others than they do
// themselves: the straight that an arc runs into, if it happens to be as short as the chords.
func (p *piece) trim(i, n int) int {
	for n > minChords {
		at := corners(p.Chain[i : i+n])
		inner, off, ok := fitted(at[1 : len(at)-1])
		if !ok {
			return n
		}
		if math.Abs(inner.Residual(at[n])) <= stray*max(off, meets) {
			break
		}
		n--
	}
	return n
}
