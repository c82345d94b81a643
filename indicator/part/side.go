package part

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// nested is where a loop lies among the others, and on which side of it the metal is.
type nested struct {
	parent    int // the smallest loop that holds it, by index, −1: none
	depth     int // how many others lie round it
	within    int // the outermost loop that holds it, by index, itself where it is one
	children  []int
	said      []Said
	drawnSlot bool
	side      Side
	from      Origin
	// upper and lower are how high the material stands on its two sides, once it is cut: a plate 1, what was
	// cut through it 0, a boss on it 2. A cutter that makes a wall takes everything above lower from where it
	// passes.
	upper, lower int
}

// A MetalError is what is said of one closed element and contradicts itself, or the slot that it is.
type MetalError struct {
	Layer string
	Said  [2]Said // By of the second is empty where it is the drawing of a slot
}

func (e *MetalError) Error() string {
	if e.Said[1].By == "" {
		return fmt.Sprintf("layer %q: %s, but it is a slot, need its metal outside", e.Layer, e.Said[0].By)
	}
	return fmt.Sprintf("layer %q: %s, but %s, need one side of the metal", e.Layer, e.Said[0].By, e.Said[1].By)
}

// Hint says what to do.
func (e *MetalError) Hint() string {
	if e.Said[1].By == "" {
		return "draw what stands like a slot as a closed path; a slot is open"
	}
	return "take one of the two back"
}

// nest finds which loop lies in which, and from that and from what is said where each element's metal is. What
// nobody says goes by nesting: inside the outermost loop, outside one in it, inside one in that.
func (w *work) nest() error {
	w.indexLoops()
	w.families()
	order := make([]int, len(w.closed))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w.chains[a].depth, w.chains[b].depth) })
	for _, i := range order {
		c := &w.chains[i]
		c.slot = w.slotOf(c)
		if err := w.sideOf(c); err != nil {
			return err
		}
		hand := 1
		if w.closed[i].Area() < 0 {
			hand = -hand
		}
		if c.side == Outside {
			hand = -hand
		}
		for _, k := range c.elements {
			w.elements[k].hand = hand
			w.part.metal[w.elements[k].n] = c.side
		}
	}
	for _, c := range w.chains[len(w.closed):] {
		w.handOpen(c)
	}
	w.unsure()
	return nil
}

// families finds the parent of each loop. Of loops that hold another, the smallest is its parent.
func (w *work) families() {
	lo, hi, area := make([]geom.Point, len(w.closed)), make([]geom.Point, len(w.closed)), make([]float64, len(w.closed))
	for i, c := range w.closed {
		lo[i], hi[i] = bounds(c)
		area[i] = math.Abs(c.Area())
	}
	for i := range w.closed {
		c := &w.chains[i]
		c.parent, c.within = -1, i
		for _, j := range w.index.inLoops.Meeting(geom.Box{Lo: lo[i], Hi: hi[i]}) {
			apart := lo[i].X > hi[j].X || hi[i].X < lo[j].X || lo[i].Y > hi[j].Y || hi[i].Y < lo[j].Y
			if i == j || apart || area[j] < area[i] || !w.holds(j, i) {
				continue
			}
			c.depth++
			if area[j] > area[c.within] {
				c.within = j
			}
			if c.parent < 0 || area[j] < area[c.parent] {
				c.parent = j
			}
		}
	}
	for i := range w.closed {
		if p := w.chains[i].parent; p >= 0 {
			w.chains[p].children = append(w.chains[p].children, i)
		}
	}
}

// bounds are the corners of the upright window that just holds a loop.
func bounds(c geom.Chain) (lo, hi geom.Point) {
	lo, hi = c[0].Bounds()
	for _, e := range c[1:] {
		a, b := e.Bounds()
		lo = geom.Point{X: min(lo.X, a.X), Y: min(lo.Y, a.Y)}
		hi = geom.Point{X: max(hi.X, b.X), Y: max(hi.Y, b.Y)}
	}
	return lo, hi
}

// sideOf gives a loop, whose parent has one, the side of its metal, and how high the material stands on either.
func (w *work) sideOf(c *chain) error {
	layer := w.elements[c.elements[0]].layer
	for _, s := range c.said {
		if s.Side != c.said[0].Side {
			return &MetalError{layer, [2]Said{c.said[0], s}}
		}
		if c.drawnSlot && s.Side == Inside {
			return &MetalError{layer, [2]Said{s}}
		}
	}
	switch {
	case len(c.said) > 0 && !c.drawnSlot:
		c.side, c.from = c.said[0].Side, Stated
	case c.drawnSlot, c.slot != nil && c.parent >= 0 && len(c.children) == 0: // an outermost one may as well be a rim
		c.side, c.from = Outside, AsSlot
	case c.parent >= 0 && w.chains[c.parent].side == Inside:
		c.side, c.from = Outside, Nesting
	default:
		c.side, c.from = Inside, Nesting
	}
	around := 0 // how high the material stands round the loop
	switch {
	case c.parent >= 0 && w.chains[c.parent].side == Inside:
		around = w.chains[c.parent].upper
	case c.parent >= 0:
		around = w.chains[c.parent].lower
	case c.side == Outside:
		around = 1
	}
	if c.lower, c.upper = around, around+1; c.side == Outside {
		c.lower, c.upper = around-1, around
	}
	return nil
}

// height is how high the material stands at a place, as seen from within the outermost loop of loop c.
func (w *work) height(c *chain, p geom.Point) int {
	high := 0
	if w.chains[c.within].side == Outside {
		high = 1
	}
	for _, i := range w.around(p) {
		high += w.chains[i].rise()
	}
	return high
}

// rise is by how much the material stands higher in a loop than round it.
func (n *nested) rise() int {
	if n.side == Outside {
		return -1
	}
	return 1
}

// top is how high the metal of a chain stands: of an open one as high as a plate.
func (c *chain) top() int {
	if c.open {
		return 1
	}
	return c.upper
}

// known reports whether somebody has said where the metal of a loop is, its drawing as a slot included.
func (n *nested) known() bool { return n.from == Stated || n.from == AsSlot }

// unsure tells which loops' sides nobody can know from the lines alone: inside an outermost loop, one in another.
// A boss on the plate with its bore looks like a hole with an island in it. What is stated settles what lies
// right inside it.
func (w *work) unsure() {
	for i := range w.closed {
		c := &w.chains[i]
		w.unsureAlone(c)
		if c.depth < 2 {
			continue
		}
		p := &w.chains[c.parent]
		settled := p.parent >= 0 && w.chains[p.parent].known() // two loops that cross each other may hold one, and neither the other
		if p.known() || settled && c.known() || !w.concerned(i) && !w.concerned(c.parent) {
			continue
		}
		in, out := c.elements[0], p.elements[0]
		q := Problem{Kind: SideUnknown, N: w.elements[in].n, Other: w.elements[out].n, At: w.elements[in].Start,
			Layer: w.elements[out].layer}
		q.Names = [2]string{w.name(in), w.name(out)}
		w.tell(q)
	}
}

// unsureAlone tells what an outermost loop that is cut has been taken for: a hole, or a rim that is drawn like a
// slot.
func (w *work) unsureAlone(c *chain) {
	e := &w.elements[c.elements[0]]
	switch {
	case c.depth > 0 || e.n == 0 || c.drawnSlot:
	case c.side == Outside:
		w.tell(Problem{Kind: OuterHole, N: e.n, At: e.Start, Layer: e.layer})
	case c.slot != nil && c.from == Nesting && len(c.children) == 0:
		w.tell(Problem{Kind: OuterSlot, N: e.n, At: e.Start, Layer: e.layer})
	}
}

// concerned reports whether a loop, or one in it, is cut.
func (w *work) concerned(i int) bool {
	if slices.ContainsFunc(w.chains[i].elements, func(k int) bool { return w.elements[k].n > 0 }) {
		return true
	}
	return slices.ContainsFunc(w.chains[i].children, w.concerned)
}

// name is what an element is called: by its number and layer, or by its layer and where it comes from.
func (w *work) name(i int) string {
	e := &w.elements[i]
	switch {
	case e.n > 0 && e.layer == "":
		return fmt.Sprintf("element %d", e.n)
	case e.n > 0:
		return fmt.Sprintf("element %d (%s)", e.n, e.layer)
	case e.layer == "":
		return fmt.Sprintf("an element that is not cut (%s)", e.source)
	}
	return fmt.Sprintf("an element that is not cut (%s: %s)", e.layer, e.source)
}

// handOpen gives an open chain the side that was asked for.
func (w *work) handOpen(c chain) {
	hand := 0
	for _, k := range c.elements {
		if e := w.elements[k]; e.Curved() && w.OpenSide != On {
			if hand = 1; (e.Turn > 0) != (w.OpenSide == Inside) {
				hand = -1
			}
			break
		}
	}
	for _, k := range c.elements {
		w.elements[k].hand = hand
	}
}

// holds reports whether loop j lies round loop i. The place asked for is the one of loop i that lies
// farthest from loop j, since on it either could be told.
func (w *work) holds(j, i int) bool {
	var place geom.Point
	farthest := -1.0
	for _, e := range w.closed[i] {
		for _, p := range []geom.Point{e.Start, e.At(0.5)} {
			if nearest := w.index.loops[j].Distance(p); nearest > farthest {
				farthest, place = nearest, p
			}
		}
	}
	return w.index.loops[j].Holds(place)
}
