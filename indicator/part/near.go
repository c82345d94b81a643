package part

import (
	"iter"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// index finds the loops and the elements that a search may be about, so that none looks at all of them.
type index struct {
	loops    []*geom.Loop             // as work.closed
	inLoops  *geom.Boxes              // of the loops
	elements *geom.Boxes              // of all elements, once the slots have their centre lines
	arcs     nearby                   // of those that are arcs, by centre and radius
	spans    map[[3]int64]*geom.Boxes // of a cell of many arcs, where on the circle they lie, as far as it has been asked
}

// indexLoops takes the loops as they were read.
func (w *work) indexLoops() {
	boxes := make([]geom.Box, len(w.closed))
	for i, c := range w.closed {
		l := geom.NewLoop(c)
		w.index.loops, boxes[i] = append(w.index.loops, l), l.Box()
	}
	w.index.inLoops = geom.NewBoxes(boxes)
}

// indexElements takes the elements once there are no more to come.
func (w *work) indexElements() {
	boxes := make([]geom.Box, len(w.elements))
	w.index.arcs, w.index.spans = newNearby(w.Limits.Gap), map[[3]int64]*geom.Boxes{}
	for i := range w.elements {
		e := &w.elements[i]
		boxes[i] = e.Box()
		if e.Curved() {
			w.index.arcs.add(i, e.Centre.X, e.Centre.Y, e.Radius)
		}
	}
	w.index.elements = geom.NewBoxes(boxes)
}

// around are the loops, by index, that hold a place.
func (w *work) around(p geom.Point) []int {
	return slices.DeleteFunc(w.index.inLoops.Meeting(geom.Box{Lo: p, Hi: p}), func(i int) bool { return !w.index.loops[i].Holds(p) })
}

// within are the elements, by index, that may come as near to another one, or to a place, as a distance.
func (w *work) within(e geom.Element, distance float64) []int {
	return w.index.elements.Meeting(e.Box().Grown(distance))
}

// nearCircle are the elements, by index, that may come as near to the circle of an arc as a distance.
func (w *work) nearCircle(arc geom.Element, distance float64) []int {
	distance += 1e-6 + 1e-12*(arc.Radius+arc.Centre.Norm()) // what is rounded
	return w.index.elements.Where(func(b geom.Box) bool {
		return b.Distance(arc.Centre) <= arc.Radius+distance && b.Farthest(arc.Centre) >= arc.Radius-distance
	})
}

// opposite are the arcs, by index, that may lie on the circle of a radius about the centre of an arc, beside it.
func (w *work) opposite(e geom.Element, radius float64) (found []int) {
	const many = 16
	full := geom.Bearing(2 * math.Pi)
	span := func(e geom.Element, turned geom.Bearing) geom.Box {
		from, to := e.Span()
		return geom.Box{Lo: geom.Point{X: float64(from + turned)}, Hi: geom.Point{X: float64(to + turned)}}.Grown(1e-9)
	}
	for c, all := range w.index.arcs.cells(e.Centre.X, e.Centre.Y, radius) {
		if len(all) <= many {
			found = append(found, all...)
			continue
		}
		spans := w.index.spans[c]
		if spans == nil {
			boxes := make([]geom.Box, len(all))
			for k, i := range all {
				boxes[k] = span(w.elements[i].Element, 0)
			}
			spans = geom.NewBoxes(boxes)
			w.index.spans[c] = spans
		}
		for _, turned := range []geom.Bearing{-full, 0, full} {
			for _, k := range spans.Meeting(span(e, turned)) {
				found = append(found, all[k])
			}
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// nearby finds, of things with up to three figures, those that differ by no more than a limit in each: they lie in the same cell
// or in one beside it.
type nearby struct {
	size float64
	at   map[[3]int64][]int
}

// newNearby takes a limit above 0; a little more than that is a cell's size, so that nothing is lost by rounding.
func newNearby(limit float64) nearby { return nearby{1.001 * limit, map[[3]int64][]int{}} }

func (n *nearby) cell(figures []float64) (c [3]int64) {
	for k, v := range figures {
		c[k] = int64(min(1e18, max(-1e18, math.Floor(v/n.size))))
	}
	return c
}

func (n *nearby) add(i int, figures ...float64) {
	c := n.cell(figures)
	n.at[c] = append(n.at[c], i)
}

// cells are the cells about some figures in which something lies, and what.
func (n *nearby) cells(figures ...float64) iter.Seq2[[3]int64, []int] {
	return func(yield func([3]int64, []int) bool) {
		c, ways := n.cell(figures), 1
		for range figures {
			ways *= 3
		}
		for way := range ways {
			beside := c
			for k := range figures {
				beside[k] += int64(way%3) - 1
				way /= 3
			}
			if all := n.at[beside]; len(all) > 0 && !yield(beside, all) {
				return
			}
		}
	}
}

// each are those that may differ by no more than the limit, as they lie in the cells.
func (n *nearby) each(figures ...float64) iter.Seq[int] {
	return func(yield func(int) bool) {
		for _, all := range n.cells(figures...) {
			for _, i := range all {
				if !yield(i) {
					return
				}
			}
		}
	}
}

// of are those that may differ by no more than the limit, the first that was added first.
func (n *nearby) of(figures ...float64) (found []int) {
	for _, all := range n.cells(figures...) {
		found = append(found, all...)
	}
	slices.Sort(found)
	return found
}
