package drawing

import (
	"math"

	"example.org/trammel/geom"
)

// traits are numbers that two drawings of the same element share, whatever way it runs: of a straight
// its middle and the width and height of its box, of an arc its middle, centre and radius as well.
type traits struct {
	curved bool
	at     [7]float64
}

func traitsOf(e geom.Element) traits {
	t := traits{curved: e.Curved()}
	d := e.End.Sub(e.Start)
	m := e.At(0.5)
	if e.Full() {
		m = e.Centre // it may begin anywhere
	}
	t.at = [7]float64{m.X, m.Y, math.Abs(d.X), math.Abs(d.Y)}
	if t.curved {
		t.at[4], t.at[5], t.at[6] = e.Centre.X, e.Centre.Y, e.Radius
	}
	return t
}

// sameElement compares in full.
func sameElement(a, b geom.Element) bool {
	close := func(p, q geom.Point) bool { return p.Sub(q).Norm() <= doubled }
	if a.Curved() != b.Curved() {
		return false
	}
	if a.Curved() && (!close(a.Centre, b.Centre) || math.Abs(a.Radius-b.Radius) > doubled || a.Full() != b.Full()) {
		return false
	}
	if a.Full() {
		return true
	}
	if !(close(a.Start, b.Start) && close(a.End, b.End)) && !(close(a.Start, b.End) && close(a.End, b.Start)) {
		return false
	}
	return close(a.At(0.5), b.At(0.5))
}

// doubled is how near two elements have to be to count as the same drawn twice, millimetres.
const doubled = 1e-4

// bin is a cell of the space of traits.
type bin struct {
	curved bool
	at     [7]int64
}

// binSize makes cells of traits so large that few elements lie at an edge, where the cell beyond has
// to be looked into as well, and so small that not many different ones fit into one.
const binSize = 8 * doubled

// bins lists the cells in which an element like t may lie; the first is its own.
func (t traits) bins() []bin {
	out := []bin{{curved: t.curved}}
	for i, x := range t.at {
		home := math.Floor(x / binSize)
		for k := range out {
			out[k].at[i] = int64(home)
		}
		beside := 0.0
		switch within := x - home*binSize; {
		case within < doubled:
			beside = -1
		case within > binSize-doubled:
			beside = 1
		}
		if x == 0 && i >= 2 && i < 4 || beside == 0 { // no box is below 0
			continue
		}
		for k := range len(out) {
			next := out[k]
			next.at[i] = int64(home + beside)
			out = append(out, next)
		}
	}
	return out
}

// once takes elements that are drawn twice once. A piece that loses an element falls apart there.
func once(pieces []piece, told *tally) (out []piece) {
	seen := map[bin][]geom.Element{}
	for _, p := range pieces {
		rest := piece{closed: p.closed}
		var parts []piece
		for i, e := range p.Chain {
			if !isNew(seen, e) {
				told.count(Note{Kind: Doubled, Entity: p.From[i].Entity, Layer: p.From[i].Layer, Count: 1, At: e.Start})
				rest.closed = false
				parts, rest = append(parts, rest), piece{}
				continue
			}
			rest.Chain, rest.From = append(rest.Chain, e), append(rest.From, p.From[i])
		}
		for _, part := range append(parts, rest) {
			if len(part.Chain) > 0 {
				out = append(out, part)
			}
		}
	}
	return out
}

// isNew reports whether an element was not seen before, and remembers it.
func isNew(seen map[bin][]geom.Element, e geom.Element) bool {
	bins := traitsOf(e).bins()
	for _, b := range bins {
		for _, other := range seen[b] {
			if sameElement(e, other) {
				return false
			}
		}
	}
	seen[bins[0]] = append(seen[bins[0]], e)
	return true
}
