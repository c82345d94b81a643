package plan

import (
	"math"

	"example.org/trammel/geom"
)

// work is a part while it is planned.
type work struct {
	Options
	part     *Part
	elements []element    // element n is elements[n−1]
	chains   []chain      // loops first
	closed   []geom.Chain // the loops
}

// chain is a loop or an open chain: its elements, in the order in which it was drawn.
type chain struct {
	open     bool
	elements []int // by index
	depth    int   // loops: how many others lie round it
	within   int   // loops: the outermost loop that holds it, by index, itself where it is one
}

// element is one element of the part, run as drawn.
type element struct {
	geom.Element
	layer, source string
	chain         int
	hand          int    // the metal's: +1 on the left of the run, −1 on the right, 0 it has no side
	next          [2]int // the elements met at Start and at End, by index, −1: none
	gap           [2]float64
	middle        geom.Point // no place of it is farther from there than half
	half          float64
}

// kappa is +1 for an arc with its metal inside, −1 for one with it outside, else 0.
func (e *element) kappa() float64 {
	if e.Turn < 0 {
		return -float64(e.hand)
	}
	if e.Turn > 0 {
		return float64(e.hand)
	}
	return 0
}

func (e *element) side() Side {
	switch e.kappa() {
	case 1:
		return Inside
	case -1:
		return Outside
	}
	return On
}

// read numbers the pieces, arcs that are one joined.
func (w *work) read(o Outline) error {
	for _, pieces := range o.Loops {
		if err := w.add(pieces, false); err != nil {
			return err
		}
	}
	for _, pieces := range o.Open {
		if err := w.add(pieces, true); err != nil {
			return err
		}
	}
	if len(w.elements) == 0 {
		return ErrEmpty
	}
	return nil
}

func (w *work) add(pieces []Piece, open bool) error {
	for _, p := range pieces {
		if !finite(p.Start.X, p.Start.Y, p.End.X, p.End.Y, p.Centre.X, p.Centre.Y, p.Radius, float64(p.Turn)) || p.Curved() && !(p.Radius > 0) {
			return &PieceError{p.Source}
		}
	}
	pieces = w.joined(pieces, open)
	if len(pieces) == 0 {
		return nil
	}
	c, at, whole := len(w.chains), len(w.elements), geom.Chain{}
	ch := chain{open: open}
	for i, p := range pieces {
		e := element{Element: p.Element, layer: p.Layer, source: p.Source, chain: c, next: [2]int{-1, -1}}
		e.middle, e.half = p.At(0.5), p.Length()/2
		before, after := i-1, i+1
		if !open {
			before, after = (i+len(pieces)-1)%len(pieces), (i+1)%len(pieces)
		}
		if before >= 0 && before != i {
			e.next[0], e.gap[0] = at+before, geom.Meet(pieces[before].Element, p.Element).Gap
		}
		if after < len(pieces) && after != i {
			e.next[1], e.gap[1] = at+after, geom.Meet(p.Element, pieces[after].Element).Gap
		}
		w.elements = append(w.elements, e)
		ch.elements = append(ch.elements, at+i)
		whole = append(whole, p.Element)
	}
	w.chains = append(w.chains, ch)
	if !open {
		w.closed = append(w.closed, whole)
	}
	return nil
}

// joined leaves out pieces of no length and makes one arc of arcs that go on as one.
func (w *work) joined(pieces []Piece, open bool) []Piece {
	var out []Piece
	for _, p := range pieces {
		if p.Length() == 0 {
			continue
		}
		if n := len(out); n > 0 {
			if j, ok := w.join(out[n-1], p); ok {
				out[n-1] = j
				continue
			}
		}
		out = append(out, p)
	}
	if n := len(out); !open && n > 1 {
		if j, ok := w.join(out[n-1], out[0]); ok {
			out[0] = j
			out = out[:n-1]
		}
	}
	return out
}

// join makes one arc of two that share centre and radius and meet end to end.
func (w *work) join(a, b Piece) (Piece, bool) {
	gap := w.Limits.Gap
	sum := a.Turn + b.Turn
	switch {
	case float64(a.Turn)*float64(b.Turn) <= 0, // a straight, or back the way it came
		a.Centre.Sub(b.Centre).Norm() > gap, math.Abs(a.Radius-b.Radius) > gap, a.End.Sub(b.Start).Norm() > gap,
		math.Abs(float64(sum)) > 2*math.Pi+gap/a.Radius:
		return a, false
	}
	if b.End.Sub(a.Start).Norm() <= gap && math.Abs(float64(sum)) > math.Pi {
		a.Element = geom.ArcOf(a.Centre, a.Radius, a.From(), geom.Bearing(math.Copysign(2*math.Pi, float64(sum))))
	} else {
		a.Turn, a.End = sum, b.End
	}
	if b.Source != a.Source {
		a.Source += ", " + b.Source
	}
	return a, true
}

// nest finds which loop lies in which, and from that where each element's metal is: inside the
// outermost loop, outside one in it, inside one in that.
func (w *work) nest() {
	for i := range w.closed {
		c := &w.chains[i]
		c.within = i
		for j := range w.closed {
			if i == j || !w.holds(j, i) {
				continue
			}
			c.depth++
			if math.Abs(w.closed[j].Area()) > math.Abs(w.closed[c.within].Area()) {
				c.within = j
			}
		}
		hand := 1
		if w.closed[i].Area() < 0 {
			hand = -hand
		}
		if c.depth%2 == 1 {
			hand = -hand
		}
		for _, k := range c.elements {
			w.elements[k].hand = hand
		}
	}
	for _, c := range w.chains[len(w.closed):] {
		w.handOpen(c)
	}
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
			nearest := math.Inf(1)
			for _, f := range w.closed[j] {
				d, _ := f.Distance(p)
				nearest = min(nearest, d)
			}
			if nearest > farthest {
				farthest, place = nearest, p
			}
		}
	}
	return w.closed[j].Holds(place)
}

// inMetal reports whether a place lies in the metal that the loops bound.
func (w *work) inMetal(p geom.Point) bool {
	in := false
	for _, c := range w.closed {
		if c.Holds(p) {
			in = !in
		}
	}
	return in
}

// crossings tells elements of the loops that touch or cross where they should not.
func (w *work) crossings() {
	for i := range w.elements {
		a := &w.elements[i]
		if w.chains[a.chain].open {
			break
		}
		for j := i + 1; j < len(w.elements); j++ {
			b := &w.elements[j]
			if w.chains[b.chain].open {
				break
			}
			if a.next[0] == j || a.next[1] == j || a.middle.Sub(b.middle).Norm() > a.half+b.half+w.Limits.Gap {
				continue
			}
			if d, at := apart(a.Element, b.Element); d <= w.Limits.Gap {
				w.tell(Problem{Kind: Crossing, N: i + 1, Other: j + 1, At: at, Size: d, Need: w.Limits.Gap})
			}
		}
	}
}

// blends lists the meetings of successive elements.
func (w *work) blends() {
	for _, c := range w.chains {
		for _, i := range c.elements {
			j := w.elements[i].next[1]
			if j < 0 {
				continue
			}
			a, b := &w.elements[i], &w.elements[j]
			m := geom.Meet(a.Element, b.Element)
			blend := Blend{Between: [2]int{i + 1, j + 1}, At: m.At, Kink: m.Kink, Gap: m.Gap}
			if hand := float64(a.hand); hand != 0 {
				blend.Kink *= geom.Bearing(hand)
				ahead := a.Heading(1).Unit().Add(b.Heading(0).Unit())
				if n := ahead.Norm(); n > 1e-9 { // else a cusp, which has no normal
					blend.Normal = geom.Point{X: ahead.Y, Y: -ahead.X}.Times(hand / n)
				}
			}
			kink := math.Abs(float64(m.Kink))
			blend.Tangent = kink <= float64(w.Limits.Kink) && m.Gap <= w.Limits.Gap
			w.part.Blends = append(w.part.Blends, blend)
			if m.Gap > w.Limits.Gap {
				w.tell(Problem{Kind: Gap, N: i + 1, Other: j + 1, At: m.At, Size: m.Gap, Need: w.Limits.Gap})
			}
			if kink > float64(w.Limits.Kink) && kink < float64(w.Limits.Corner) {
				w.tell(Problem{Kind: Kink, N: i + 1, Other: j + 1, At: m.At, Size: kink, Need: float64(w.Limits.Kink)})
			}
		}
	}
}
