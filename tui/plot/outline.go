package plot

import (
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
)

// Piece is one element of an outline, with its number.
type Piece struct {
	geom.Element
	N int
	// Chosen is drawn heavy, Done thin.
	Chosen, Done bool
}

// Plan is an outline to be drawn, and how the chosen arc is cut.
type Plan struct {
	Pieces []Piece
	// Axis is the centre of the chosen arc, nil where none is; Path the way of the cutter's axis round it.
	Axis *geom.Point
	Path *geom.Element
}

// The smallest picture of an outline that can be read, in cells.
const (
	leastPlanWidth  = 16
	leastPlanHeight = 6
)

// Outline draws a plan into w × h cells: all pieces to one scale, as large as fits, seen from above, their
// numbers on them as far as there is room. The axis and the cutter's path lie where they lie; what of
// them is off the picture is cut off.
func Outline(p Plan, w, h int, t theme.Theme) string {
	if w < leastPlanWidth || h < leastPlanHeight || len(p.Pieces) == 0 {
		return ""
	}
	c := newCanvas(w, h, t.Plain)
	lo, hi := bounds(p.Pieces)
	// A cell all round keeps the outermost dots and numbers off the edge.
	margin := max(hi.X-lo.X, hi.Y-lo.Y) / float64(2*min(w, 2*h))
	c.Fit(geom.Point{X: lo.X - margin, Y: lo.Y - margin}, geom.Point{X: hi.X + margin, Y: hi.Y + margin})
	if p.Path != nil {
		c.piece(*p.Path, pen{Weight: thin, Dash: 3})
	}
	for _, e := range p.Pieces {
		pen := pen{Weight: medium}
		switch {
		case e.Chosen:
			pen.Weight = heavy
		case e.Done:
			pen.Weight = thin
		}
		c.piece(e.Element, pen)
	}
	if p.Axis != nil {
		c.Cross(*p.Axis, 2, heavy)
	}
	for _, first := range []bool{true, false} { // the chosen one's number finds room first
		for _, e := range p.Pieces {
			if e.Chosen == first {
				c.number(e)
			}
		}
	}
	return strings.Join(c.Styled(t), "\n")
}

// piece draws one element.
func (c *canvas) piece(e geom.Element, pen pen) {
	if !e.Curved() {
		c.Line(e.Start, e.End, pen)
		return
	}
	from, to := e.Span()
	c.Arc(e.Centre, e.Radius, from, to, pen)
}

// number writes an element's number on it, where there is room; a chosen one's in any case.
func (c *canvas) number(e Piece) {
	text, weight := strconv.Itoa(e.N), medium
	if e.Chosen {
		weight = heavy
	}
	for _, part := range []float64{0.5, 0.3, 0.7, 0.15, 0.85} {
		at := e.At(part)
		if col, row, ok := c.place(at, len(text)); ok && c.free(col, row, len(text), 1) {
			c.Text(col, row, text, weight)
			return
		}
	}
	if e.Chosen {
		c.Label(e.At(0.5), text, weight)
	}
}

// bounds are the corners of the window that holds all pieces.
func bounds(pieces []Piece) (lo, hi geom.Point) {
	lo, hi = geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, e := range pieces {
		if a, b := e.Bounds(); finite(a.X, a.Y, b.X, b.Y) {
			lo, hi = geom.Point{X: min(lo.X, a.X), Y: min(lo.Y, a.Y)}, geom.Point{X: max(hi.X, b.X), Y: max(hi.Y, b.Y)}
		}
	}
	return lo, hi
}
