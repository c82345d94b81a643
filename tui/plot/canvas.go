// Package plot draws the pictures of the screen out of characters: the sweep, the dial, the
// handwheel and the large letters of the action line.
//
// Everything here is a function from values and a size in cells to a string that never exceeds
// that size. A picture that cannot be read at the size it is given is not drawn at all: the
// result is empty, and the words beside it carry the meaning alone. World lengths are
// millimetres with Y up; data that are not finite are left out, never an error.
package plot

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
)

// weight says how much a dot or a letter matters. It chooses the style, and in plain mode the
// character too, so that thin and heavy differ without colour.
type weight uint8

// The three weights, lightest first. Where lines of different weight meet in one cell, the
// cell takes the heaviest.
const (
	thin   weight = iota // construction: nominal circle, ticks; Theme.Dim, '.'
	medium               // what was found: fitted curve, ellipse; Theme.Text, 'o'
	heavy                // what to look at: readings, needle; Theme.Strong, '*'
)

// pen is how a line is drawn.
type pen struct {
	Weight weight
	Dash   int // dots drawn, then dots left out; 0 is an unbroken line
}

// maxCells bounds a canvas in each direction: more than any terminal, and small enough that a
// wrong size cannot exhaust the memory.
const maxCells = 1000

// canvas is a grid of dots with text over it. With braille a cell holds 2 × 4 dots, which come
// out about square since a cell is about twice as high as wide; in plain mode a cell is one dot,
// twice as high as wide, and the picture is squeezed to make up for it. Use newCanvas.
type canvas struct {
	w, h   int // cells
	plain  bool
	cells  []cell
	dotsX  int     // dots across
	dotsY  int     // dots down
	squash float64 // dots down for as far as one dot across
	scale  float64 // dots across per millimetre
	centre geom.Point

	foreign bool // text outside ASCII has been written
}

// cell holds what is drawn in one character position.
type cell struct {
	dots   uint8 // braille bits, or 1 in plain mode
	weight weight
	text   string // covers the dots when not empty
	covers bool   // the second half of the wide character to its left
}

// newCanvas returns an empty canvas of w × h cells, on which one millimetre is one dot and the origin
// is in the middle. Sizes below 0 count as 0, sizes above 1000 as 1000.
func newCanvas(w, h int, plain bool) *canvas {
	c := &canvas{
		w: min(max(w, 0), maxCells), h: min(max(h, 0), maxCells),
		plain: plain, squash: 1, scale: 1,
	}
	c.dotsX, c.dotsY = 2*c.w, 4*c.h
	if plain {
		c.dotsX, c.dotsY, c.squash = c.w, c.h, 0.5
	}
	c.cells = make([]cell, c.w*c.h)
	return c
}

// Fit chooses the scale and the place of the drawing: the window between the two corners, mm,
// fills the canvas as far as its shape allows, in the middle and undistorted. A window without
// extent in either direction only moves the middle. Corners that are not finite change nothing.
func (c *canvas) Fit(p, q geom.Point) {
	dx, dy := math.Abs(q.X-p.X), math.Abs(q.Y-p.Y)
	if !finite(dx, dy) {
		return
	}
	c.centre = geom.Point{X: p.X + (q.X-p.X)/2, Y: p.Y + (q.Y-p.Y)/2}
	s := math.Inf(1)
	if dx > 0 {
		s = float64(max(c.dotsX-1, 1)) / dx
	}
	if dy > 0 {
		s = min(s, float64(max(c.dotsY-1, 1))/(dy*c.squash))
	}
	if s > 0 && finite(s) {
		c.scale = s
	}
}

// far bounds dot coordinates, so that differences and products of them stay finite.
const far = 1e150

// dot maps a point, mm, to fractional dot coordinates, x to the right and y down; false when the
// point is not finite.
func (c *canvas) dot(p geom.Point) (x, y float64, ok bool) {
	if !finite(p.X, p.Y) {
		return 0, 0, false
	}
	x = (p.X-c.centre.X)*c.scale + float64(c.dotsX-1)/2
	y = float64(c.dotsY-1)/2 - (p.Y-c.centre.Y)*c.scale*c.squash
	return min(max(x, -far), far), min(max(y, -far), far), true
}

// brailleBit gives the bit of a dot by row and column within the cell (The Unicode Standard,
// section 21.1, "Braille": dots 1–8 are bits 0–7; dots 1 2 3 7 stand on the left, 4 5 6 8 on
// the right).
var brailleBit = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// brailleBase is the empty braille pattern.
const brailleBase = 0x2800

// set draws one dot; outside the canvas nothing happens.
func (c *canvas) set(x, y int, w weight) {
	if x < 0 || y < 0 || x >= c.dotsX || y >= c.dotsY {
		return
	}
	k, bit := c.cellOf(x, y)
	if k.text != "" || k.covers {
		return // a label keeps its own weight
	}
	k.weight = max(k.weight, min(w, heavy))
	k.dots |= bit
}

// unset takes out one dot, which must be on the canvas.
func (c *canvas) unset(x, y int) {
	k, bit := c.cellOf(x, y)
	k.dots &^= bit
	if k.dots == 0 && k.text == "" {
		k.weight = thin
	}
}

// cellOf returns the cell that holds a dot, and the dot's bit in it.
func (c *canvas) cellOf(x, y int) (*cell, uint8) {
	if c.plain {
		return &c.cells[y*c.w+x], 1
	}
	return &c.cells[y/4*c.w+x/2], brailleBit[y%4][x%2]
}

// Lines returns the drawing without styles, one string a row, each exactly as many cells wide
// as the canvas.
func (c *canvas) Lines() []string {
	return c.render([3]string{}, [3]string{})
}

// Styled returns the drawing with the weights styled by the theme; as wide and as high as Lines.
// The sequences of a style are found once and put round whole runs, since rendering every cell
// on its own would cost more than the drawing.
func (c *canvas) Styled(t theme.Theme) []string {
	var before, after [3]string
	for w, text := range []string{t.Dim.Render("x"), t.Text.Render("x"), t.Strong.Render("x")} {
		before[w], after[w], _ = strings.Cut(text, "x")
	}
	return c.render(before, after)
}

// render writes the rows, each run of cells of one weight between before and after.
func (c *canvas) render(before, after [3]string) []string {
	out := make([]string, c.h)
	var b strings.Builder
	for row := range out {
		cells := c.cells[row*c.w : (row+1)*c.w]
		out[row] = c.line(&b, cells, before, after)
		if c.foreign && ansi.StringWidth(out[row]) != c.w {
			// Characters of two labels have joined into one.
			for i := range cells {
				if k := &cells[i]; k.covers || len(k.text) > 1 {
					*k = cell{weight: k.weight, text: "?"}
				}
			}
			out[row] = c.line(&b, cells, before, after)
		}
	}
	return out
}

func (c *canvas) line(b *strings.Builder, cells []cell, before, after [3]string) string {
	b.Reset()
	b.Grow(4 * len(cells))
	run := -1 // weight of the run being written, −1 for none
	for i := range cells {
		w := cells[i].run()
		if w != run {
			if run >= 0 {
				b.WriteString(after[run])
			}
			if w >= 0 {
				b.WriteString(before[w])
			}
			run = w
		}
		c.write(b, &cells[i])
	}
	if run >= 0 {
		b.WriteString(after[run])
	}
	return b.String()
}

// run is the weight that styles the cell, or −1 for an empty one, which needs no style.
func (k *cell) run() int {
	if k.dots == 0 && k.text == "" && !k.covers {
		return -1
	}
	return int(k.weight)
}

func (c *canvas) write(b *strings.Builder, k *cell) {
	switch {
	case k.covers: // its left neighbour has written it
	case k.text != "":
		b.WriteString(k.text)
	case k.dots == 0:
		b.WriteByte(' ')
	case c.plain:
		b.WriteByte(".o*"[k.weight])
	default:
		b.WriteRune(brailleBase + rune(k.dots))
	}
}

// finite reports whether every value is a number and not infinite.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
