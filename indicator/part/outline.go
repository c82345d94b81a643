package part

import (
	"math"
	"slices"

	"example.org/trammel/geom"
)

// work is a part while it is planned.
type work struct {
	Options
	outline  Outline
	part     *Plan
	elements []element    // the last of them are the centre lines of slots
	chains   []chain      // loops first
	closed   []geom.Chain // the loops
	tried    [][]trial    // by element, then by cutter
	chosen   []int        // by element: which of them it is cut by, −1 none
	numbers  int          // how many have been given
	levelled bool         // somebody says how deep something is cut
	index    index
}

// chain is a loop or an open chain: its elements, in the order in which it was drawn.
type chain struct {
	open     bool
	elements []int // by index
	nested         // loops only
	level
	slot *slot // nil: it is none
}

// element is one element of the part, run as drawn.
type element struct {
	geom.Element
	layer, source string
	n             int // its number, 0 where it is not cut
	chain         int
	centreLine    bool   // of the slot that its chain is
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
	if w.numbers == 0 {
		return ErrEmpty
	}
	return nil
}

// number is the next number.
func (w *work) number() int {
	w.numbers++
	return w.numbers
}

func (w *work) add(pieces []Piece, open bool) error {
	for _, p := range pieces {
		if !finite(p.Start.X, p.Start.Y, p.End.X, p.End.Y, p.Centre.X, p.Centre.Y, p.Radius, float64(p.Turn)) || p.Curved() &&
			!(p.Radius > 0) {
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
		if !p.Aside {
			e.n = w.number()
		}
		ch.said, ch.drawnSlot = append(ch.said, p.Metal...), ch.drawnSlot || p.Slot
		ch.saidDepths = append(ch.saidDepths, p.Depth...)
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
	case a.Aside != b.Aside,
		float64(a.Turn)*float64(b.Turn) <= 0, // a straight, or back the way it came
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
	a.Metal, a.Slot = append(slices.Clip(a.Metal), b.Metal...), a.Slot || b.Slot
	a.Depth = append(slices.Clip(a.Depth), b.Depth...)
	return a, true
}

// crossings tells elements of the loops that touch or cross where they should not.
func (w *work) crossings() {
	for i := range w.elements {
		a := &w.elements[i]
		if w.chains[a.chain].open {
			break
		}
		if a.n == 0 || a.centreLine {
			continue
		}
		for _, j := range w.within(a.Element, w.Limits.Gap) {
			b := &w.elements[j]
			if j <= i || b.n == 0 || b.centreLine || w.chains[b.chain].open || a.next[0] == j || a.next[1] == j {
				continue
			}
			if d, at := apart(a.Element, b.Element); d <= w.Limits.Gap {
				w.tell(Problem{Kind: Crossing, N: a.n, Other: b.n, At: at, Size: d, Need: w.Limits.Gap})
			}
		}
	}
}

// tangent reports whether two elements meet without a corner.
func (w *work) tangent(m geom.Meeting) bool {
	return math.Abs(float64(m.Kink)) <= float64(w.Limits.Kink) && m.Gap <= w.Limits.Gap
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
			if a.n == 0 || b.n == 0 {
				continue
			}
			m := geom.Meet(a.Element, b.Element)
			blend := Blend{Between: [2]int{a.n, b.n}, At: m.At, Kink: m.Kink, Gap: m.Gap}
			if hand := float64(a.hand); hand != 0 {
				blend.Kink *= geom.Bearing(hand)
				ahead := a.Heading(1).Unit().Add(b.Heading(0).Unit())
				if n := ahead.Norm(); n > 1e-9 { // else a cusp, which has no normal
					blend.Normal = geom.Point{X: ahead.Y, Y: -ahead.X}.Times(hand / n)
				}
			}
			kink := math.Abs(float64(m.Kink))
			blend.Tangent = w.tangent(m)
			w.part.Blends = append(w.part.Blends, blend)
			if m.Gap > w.Limits.Gap {
				w.tell(Problem{Kind: Gap, N: a.n, Other: b.n, At: m.At, Size: m.Gap, Need: w.Limits.Gap})
			}
			if kink > float64(w.Limits.Kink) && kink < float64(w.Limits.Corner) {
				w.tell(Problem{Kind: Kink, N: a.n, Other: b.n, At: m.At, Size: kink, Need: float64(w.Limits.Kink)})
			}
		}
	}
}
