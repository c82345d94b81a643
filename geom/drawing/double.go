package drawing

import (
	"cmp"
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

// binSize makes cells of traits so large that few elements lie at an edge, where the cell beyond has
// to be looked into as well, and so small that not many different ones fit into one. Round numbers, of
// which drawings are made, lie well inside.
const (
	binSize  = 8 * doubled
	binShift = 0.37 * binSize
)

// bins lists the cells in which an element like t may lie, each as one number; the first is its own. (Two
// cells with one number cost a comparison, no more.)
func (t traits) bins(into []uint64) []uint64 {
	first := uint64(1)
	if t.curved {
		first = 2
	}
	out := append(into[:0], first)
	for i, x := range t.at {
		if i >= 4 && !t.curved {
			break
		}
		x += binShift
		home := math.Floor(x / binSize)
		beside := 0.0
		switch within := x - home*binSize; {
		case within < doubled:
			beside = -1
		case within > binSize-doubled:
			beside = 1
		}
		for k := range len(out) {
			if beside != 0 {
				out = append(out, mixed(out[k], home+beside))
			}
			out[k] = mixed(out[k], home)
		}
	}
	return out
}

// mixed is a number that depends on all bits of both (the multiplier is 2⁶⁴ divided by the golden ratio).
func mixed(h uint64, x float64) uint64 {
	h = (h ^ uint64(int64(x))) * 0x9e3779b97f4a7c15
	return h ^ h>>29
}

// once takes elements that are drawn twice once. A piece that loses an element falls apart there. What either drawing
// says of the metal and the depth counts; an error where they say two things.
func once(pieces []piece, told *tally) (out []piece, err error) {
	seen := elements{at: map[uint64][]int32{}}
	again := make([][]bool, len(pieces))
	for n, p := range pieces {
		again[n] = make([]bool, len(p.Chain))
		for i, e := range p.Chain {
			first := seen.firstOf(e, &p.From[i])
			if again[n][i] = first != &p.From[i]; !again[n][i] {
				continue
			}
			told.count(Note{Kind: Doubled, Entity: p.From[i].Entity, Layer: p.From[i].Layer, Count: 1, At: e.Start})
			if err := first.hear(&p.From[i]); err != nil {
				return nil, err
			}
		}
	}
	for n, p := range pieces {
		rest := piece{closed: p.closed}
		var parts []piece
		for i, e := range p.Chain {
			if again[n][i] {
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
	return out, nil
}

// hear takes what is said of the metal and of the depth where the element is drawn again.
func (s *Source) hear(again *Source) error {
	switch {
	case again.metal() == Unsaid || again.metal() == s.metal():
	case s.metal() == Unsaid:
		s.Metal, s.Says = again.Metal, again.Line
	default:
		return &SidesError{Line: again.Line, Other: cmp.Or(s.Says, s.Line), Side: again.metal()}
	}
	switch {
	case again.Depth == 0 || again.Depth == s.Depth:
	case s.Depth == 0:
		s.Depth, s.DepthSays = again.Depth, again.Line
	default:
		return &DepthsError{Line: again.Line, Other: cmp.Or(s.DepthSays, s.Line)}
	}
	return nil
}

// metal is what stands of the metal where the element is drawn.
func (s *Source) metal() Metal {
	if s.Slot {
		return MetalOutside
	}
	return s.Metal
}

// elements are those seen so far, where each comes from, and which of them lie in a cell.
type elements struct {
	all  []geom.Element
	from []*Source
	at   map[uint64][]int32
	bins []uint64
}

// firstOf is where an element came from when it was first seen: from itself, which is remembered, where it is new.
func (s *elements) firstOf(e geom.Element, from *Source) *Source {
	s.bins = traitsOf(e).bins(s.bins)
	for _, b := range s.bins {
		for _, i := range s.at[b] {
			if sameElement(e, s.all[i]) {
				return s.from[i]
			}
		}
	}
	s.at[s.bins[0]] = append(s.at[s.bins[0]], int32(len(s.all)))
	s.all, s.from = append(s.all, e), append(s.from, from)
	return from
}
