package plot

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"github.com/charmbracelet/x/ansi"
)

// Label writes text over the drawing, its middle at p, mm. What lies outside the canvas is cut
// off; of a wide character that is cut, blanks remain.
func (c *canvas) Label(p geom.Point, text string, w weight) {
	if col, row, ok := c.place(p, ansi.StringWidth(clean(text))); ok {
		c.Text(col, row, text, w)
	}
}

// place returns the cell in which text of the given width begins when its middle is at p; false
// when p is far off the canvas.
func (c *canvas) place(p geom.Point, width int) (col, row int, ok bool) {
	x, y, ok := c.dot(p)
	if !ok || math.Abs(x) > 1e6 || math.Abs(y) > 1e6 {
		return 0, 0, false
	}
	across, down := c.across(), 4.0
	if c.plain {
		down = 1
	}
	// Half a cell less than the middle of the text, nudged so that a middle exactly between
	// two cells does not depend on the last bit.
	left := (x+0.5)/across - float64(width)/2
	return int(math.Floor(left + 0.5 + 1e-9)), int(math.Floor((y+0.5)/down + 1e-9)), true
}

// across is the number of dots side by side in a cell.
func (c *canvas) across() float64 {
	if c.plain {
		return 1
	}
	return 2
}

// Text writes text over the drawing from the cell col, row on, counted from the top left, and
// covers the dots there. Escape sequences and characters without width are dropped; in plain
// mode anything outside ASCII becomes '?'.
func (c *canvas) Text(col, row int, text string, w weight) {
	if row < 0 || row >= c.h {
		return
	}
	text = clean(text)
	for len(text) > 0 && col < c.w {
		cluster, width := ansi.FirstGraphemeCluster(text, ansi.GraphemeWidth)
		if cluster == "" {
			return
		}
		text = text[len(cluster):]
		if width > 0 {
			c.putText(col, row, cluster, width, min(w, heavy))
			col += width
		}
	}
}

// putText covers width cells with one character.
func (c *canvas) putText(col, row int, cluster string, width int, w weight) {
	c.foreign = c.foreign || len(cluster) > 1
	whole := col >= 0 && col+width <= c.w && (len(cluster) == 1 || !c.plain)
	for i := col; i < col+width; i++ {
		if i < 0 || i >= c.w {
			continue
		}
		k := &c.cells[row*c.w+i]
		c.uncover(i, row)
		*k = cell{weight: w, text: " "}
		switch {
		case whole && i == col:
			k.text = cluster
		case whole:
			*k = cell{weight: w, covers: true}
		case c.plain:
			k.text = "?"
		}
	}
}

// uncover blanks the rest of a wide character of which the cell at col is a part.
func (c *canvas) uncover(col, row int) {
	cells := c.cells[row*c.w : (row+1)*c.w]
	first := col
	for first > 0 && cells[first].covers {
		first--
	}
	for i := first; i < len(cells) && (i == first || cells[i].covers); i++ {
		if i != first || i+1 < len(cells) && cells[i+1].covers {
			cells[i] = cell{weight: cells[i].weight, text: " "}
		}
	}
}

// free reports whether text of the given width from col, row on stays on the canvas and leaves
// a gap of so many cells to any other text.
func (c *canvas) free(col, row, width, gap int) bool {
	if row < 0 || row >= c.h || col < 0 || col+width > c.w {
		return false
	}
	for i := max(col-gap, 0); i < min(col+width+gap, c.w); i++ {
		if k := c.cells[row*c.w+i]; k.text != "" || k.covers {
			return false
		}
	}
	return true
}

// clean takes out what would move the cursor instead of filling a cell.
func clean(text string) string {
	return geom.Printable(ansi.Strip(strings.ToValidUTF8(text, "?")), -1)
}
