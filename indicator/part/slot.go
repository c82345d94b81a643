package part

import (
	"math"

	"example.org/trammel/geom"
)

// asWide is how much a cutter may differ from a slot's width and still be as wide as it, millimetres.
const asWide = 0.005

// slot is an arc slot: two walls about one centre, and two round ends between them.
type slot struct {
	centreLine geom.Element // counter-clockwise
	width      float64
	single     bool // some cutter at hand is as wide
	at         int  // the centre line's own element, by index
}

// filledBy reports whether a cutter is as wide as the slot.
func (s *slot) filledBy(d float64) bool { return math.Abs(d-s.width) <= asWide+1e-9 }

// slotOf is the arc slot that a loop of four arcs is, nil where it is none: the walls have one centre and stand
// as wide apart as the ends, half circles that bow outwards, are across.
func (w *work) slotOf(c *chain) *slot {
	gap := w.Limits.Gap
	if len(c.elements) != 4 {
		return nil
	}
	for first := range 2 {
		at := func(k int) *element { return &w.elements[c.elements[(first+k)%4]] }
		outer, inner := at(0), at(2)
		if outer.Radius < inner.Radius {
			outer, inner = inner, outer
		}
		width := outer.Radius - inner.Radius
		if !(outer.Turn*inner.Turn < 0) || width <= gap || outer.Centre.Sub(inner.Centre).Norm() > gap {
			continue
		}
		ends := true
		for _, e := range []*element{at(1), at(3)} {
			middle := e.Centre.Sub(outer.Centre).Norm() - (outer.Radius+inner.Radius)/2
			half := math.Abs(float64(e.Turn)) - math.Pi
			ends = ends && e.Turn*outer.Turn > 0 && math.Abs(e.Radius-width/2) <= gap && math.Abs(middle) <= gap &&
				math.Abs(half)*e.Radius <= gap
		}
		if from, to := outer.Span(); ends && math.Abs(math.Abs(float64(outer.Turn))-math.Abs(float64(inner.Turn)))*outer.Radius <= 2*gap {
			return &slot{centreLine: geom.ArcOf(outer.Centre, (outer.Radius+inner.Radius)/2, from, to-from), width: width}
		}
	}
	return nil
}

// slots gives each slot that is cut an element more, its centre line, and sees whether a cutter is as wide.
func (w *work) slots() {
	for i := range w.closed {
		c := &w.chains[i]
		if c.slot == nil || c.side == Inside || !w.cutWhole(c) {
			c.slot = nil
			continue
		}
		first := &w.elements[c.elements[0]]
		e := element{Element: c.slot.centreLine, layer: first.layer, source: first.source, n: w.number(), chain: i, centreLine: true,
			next: [2]int{-1, -1}}
		e.middle, e.half = e.At(0.5), e.Length()/2
		c.slot.at = len(w.elements)
		w.elements = append(w.elements, e)
		reached := e.Radius >= w.SwingMin && e.Radius <= w.SwingMax
		for _, d := range w.Cutters {
			c.slot.single = c.slot.single || reached && c.slot.filledBy(d)
		}
	}
}

// cutWhole reports whether all elements of a chain are cut.
func (w *work) cutWhole(c *chain) bool {
	for _, k := range c.elements {
		if w.elements[k].n == 0 {
			return false
		}
	}
	return true
}

// inSingle reports whether element i is a wall or an end of a slot that one pass makes.
func (w *work) inSingle(i int) bool {
	s := w.chains[w.elements[i].chain].slot
	return s != nil && s.single && !w.elements[i].centreLine
}

// tryCentreLine tries a cutter on the centre line of a slot: any that is no wider, and of those that make it in
// one pass only these.
func (w *work) tryCentreLine(i int, d float64) (Problem, bool) {
	e := &w.elements[i]
	s := w.chains[e.chain].slot
	if !s.filledBy(d) && (s.single || d > s.width) {
		return Problem{Kind: TooWide, N: e.n, At: e.middle, Size: d, Need: s.width, Cutter: d}, false
	}
	return Problem{}, true
}

// slotLine lists a slot whose first pass is cut by trial t, nil: no cutter at hand can.
func (w *work) slotLine(i int, t *trial, tried []trial) {
	e := &w.elements[i]
	c := &w.chains[e.chain]
	s := Slot{Arc: w.arc(i, t, tried), Width: c.slot.width, Single: c.slot.single}
	s.Layer, s.SideFrom, s.Swing = e.layer, c.from, 0
	if t != nil {
		s.Swing = e.Radius
	}
	for _, k := range c.elements {
		s.Walls = append(s.Walls, w.elements[k].n)
	}
	w.part.Slots = append(w.part.Slots, s)
}
