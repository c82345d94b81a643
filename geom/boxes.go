package geom

import (
	"cmp"
	"math"
	"slices"
)

// Box is an upright window, millimetres.
type Box struct{ Lo, Hi Point }

// Grown is the box with so much more on every side.
func (b Box) Grown(by float64) Box {
	more := Point{by, by}
	return Box{b.Lo.Sub(more), b.Hi.Add(more)}
}

// And is the least box that holds both.
func (b Box) And(o Box) Box {
	return Box{Point{min(b.Lo.X, o.Lo.X), min(b.Lo.Y, o.Lo.Y)}, Point{max(b.Hi.X, o.Hi.X), max(b.Hi.Y, o.Hi.Y)}}
}

// Meets reports whether two boxes have a place in common.
func (b Box) Meets(o Box) bool {
	return b.Lo.X <= o.Hi.X && o.Lo.X <= b.Hi.X && b.Lo.Y <= o.Hi.Y && o.Lo.Y <= b.Hi.Y
}

// Distance is how far a place lies from the box, 0 in it.
func (b Box) Distance(p Point) float64 {
	return math.Hypot(max(0, b.Lo.X-p.X, p.X-b.Hi.X), max(0, b.Lo.Y-p.Y, p.Y-b.Hi.Y))
}

// Farthest is how far the corner lies that is farthest from a place.
func (b Box) Farthest(p Point) float64 {
	return math.Hypot(max(p.X-b.Lo.X, b.Hi.X-p.X), max(p.Y-b.Lo.Y, b.Hi.Y-p.Y))
}

// Box is a window outside of which no place of the element lies, whichever of its methods tells the place: the figures of an arc
// may contradict one another, where its ends lie a little off its circle, and all of them are rounded.
func (e Element) Box() Box {
	lo, hi := e.Bounds()
	b := Box{lo, hi}
	most := max(math.Abs(lo.X), math.Abs(lo.Y), math.Abs(hi.X), math.Abs(hi.Y))
	off := 0.0
	if e.Curved() {
		most = max(most, math.Abs(e.Centre.X), math.Abs(e.Centre.Y), e.Radius)
		off = math.Abs(e.Start.Sub(e.Centre).Norm()-e.Radius) + e.Centre.Along(e.From()+e.Turn, e.Radius).Sub(e.End).Norm()
	}
	return b.Grown(1e-6 + 1e-12*most + off)
}

// fan is how many boxes one of the next level holds.
const fan = 8

// Boxes finds among many boxes those that matter, without a look at each: boxes that lie near each other lie in one larger box, and
// so on, up to one that holds all. With n boxes a question takes some log n looks, and as many as there are answers.
type Boxes struct {
	items  []int   // which box lies where, those near each other next to each other
	levels [][]Box // of the items first, then each of fan of the level before; the last has at most fan
}

// NewBoxes takes boxes, to be asked for by index. It takes n·log n steps and n memory.
func NewBoxes(all []Box) *Boxes {
	x := &Boxes{items: make([]int, len(all))}
	key := alongCurve(all)
	for i := range x.items {
		x.items[i] = i
	}
	slices.SortFunc(x.items, func(a, b int) int { return cmp.Or(cmp.Compare(key[a], key[b]), cmp.Compare(a, b)) })
	ordered := make([]Box, len(all))
	for k, i := range x.items {
		ordered[k] = all[i]
	}
	x.levels = stacked(ordered)
	return x
}

// stacked are the levels over boxes as they lie in a row.
func stacked(row []Box) [][]Box {
	levels := [][]Box{row}
	for len(row) > fan {
		var up []Box
		for k := 0; k < len(row); k += fan {
			b := row[k]
			for _, o := range row[k+1 : min(k+fan, len(row))] {
				b = b.And(o)
			}
			up = append(up, b)
		}
		levels, row = append(levels, up), up
	}
	return levels
}

// alongCurve numbers boxes by where their middles lie on a curve that fills the plane, so that what lies near each other on the
// curve lies near each other in the plane: the bits of both coordinates by turns.
func alongCurve(all []Box) []uint64 {
	if len(all) == 0 {
		return nil
	}
	whole := all[0]
	for _, b := range all[1:] {
		whole = whole.And(b)
	}
	middle := func(b Box) Point { return b.Lo.Add(b.Hi).Times(0.5) }
	size := max(whole.Hi.X-whole.Lo.X, whole.Hi.Y-whole.Lo.Y, math.SmallestNonzeroFloat64)
	part := func(v float64) uint64 { return uint64(min(1, max(0, v/size)) * (1<<32 - 1)) }
	key := make([]uint64, len(all))
	for i, b := range all {
		m := middle(b).Sub(whole.Lo)
		key[i] = spread(part(m.X)) | spread(part(m.Y))<<1
	}
	return key
}

// spread puts a zero behind each of the lower 32 bits.
func spread(v uint64) uint64 {
	v = (v | v<<16) & 0x0000ffff0000ffff
	v = (v | v<<8) & 0x00ff00ff00ff00ff
	v = (v | v<<4) & 0x0f0f0f0f0f0f0f0f
	v = (v | v<<2) & 0x3333333333333333
	return (v | v<<1) & 0x5555555555555555
}

// Where are the boxes, by index and in that order, of which a condition holds. It must hold of every box in which one lies of which
// it holds.
func (x *Boxes) Where(holds func(Box) bool) []int {
	var found []int
	var look func(level, from, to int)
	look = func(level, from, to int) {
		row := x.levels[level]
		for k := from; k < min(to, len(row)); k++ {
			switch {
			case !holds(row[k]):
			case level == 0:
				found = append(found, x.items[k])
			default:
				look(level-1, k*fan, (k+1)*fan)
			}
		}
	}
	look(len(x.levels)-1, 0, fan)
	slices.Sort(found)
	return found
}

// Meeting are the boxes, by index and in that order, that meet a box.
func (x *Boxes) Meeting(b Box) []int { return x.Where(b.Meets) }

// Least is the one of the boxes' things with the least value, and of those the one with the lowest index; −1 where every value is
// +Inf. No thing's value is less than the bound of a box that its own lies in.
func (x *Boxes) Least(bound func(Box) float64, value func(int) float64) (least float64, at int) {
	least, at = math.Inf(1), -1
	var look func(level, from, to int)
	look = func(level, from, to int) {
		row := x.levels[level]
		to = min(to, len(row))
		var room [fan]struct {
			bound float64
			k     int
		}
		nearest := room[:0]
		for k := from; k < to; k++ {
			if b := bound(row[k]); b <= least && !math.IsInf(b, 1) {
				nearest = append(nearest, struct {
					bound float64
					k     int
				}{b, k})
			}
		}
		for n := range nearest { // the nearest first: the others may then be left out
			for m := n + 1; m < len(nearest); m++ {
				if nearest[m].bound < nearest[n].bound {
					nearest[n], nearest[m] = nearest[m], nearest[n]
				}
			}
			b := nearest[n]
			switch {
			case b.bound > least:
				return
			case level > 0:
				look(level-1, b.k*fan, (b.k+1)*fan)
			default:
				if v, i := value(x.items[b.k]), x.items[b.k]; v < least || v == least && i < at {
					least, at = v, i
				}
			}
		}
	}
	look(len(x.levels)-1, 0, fan)
	return least, at
}
