package plot

import (
	"math"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/tui/theme"
)

// Course is a value that goes on from part to part, within a band either way of zero, millimetres.
type Course struct {
	Title  string
	Points []Passed // in their order
	// Band is the tolerance either way; 0 for none.
	Band float64
	// Upper, Zero and Lower are what stands by the band's edges and by zero.
	Upper, Zero, Lower string
}

// Passed is the value at one part: NaN of one that was not measured. U is its uncertainty, drawn as a bar where it is finite.
type Passed struct {
	N    int
	V, U float64
	Word string // stands by it; empty for none
}

// The least room of a course, and how many cells a part takes. What is farther out than courseMost bands stands at the edge as ^ or v,
// lest it squeeze all others.
const (
	courseMinWidth, courseMinHeight = 20, 7
	courseNarrow, courseWide        = 3, 8
	courseMost                      = 4
	courseRoomy                     = 10 // rows, from which on the words have one of their own
)

// Drift draws a course: each part's value with its doubt as a bar, and the edges of the band, in w × h cells or fewer. Where not all
// parts have room the newest are drawn. The result is empty where no part has.
func Drift(c Course, w, h int, t theme.Theme) string {
	if w < courseMinWidth || h < courseMinHeight {
		return ""
	}
	d := newDrift(c, w, h, t)
	if len(d.Points) == 0 {
		return ""
	}
	d.drawBand()
	for i := range d.Points {
		d.drawPoint(i)
	}
	d.drawNames()
	d.drawWords()
	return strings.Join(d.Styled(t), "\n")
}

// drift is a course being drawn: the title above, the words below it or beside it, the numbers of the parts in the last row.
type drift struct {
	Course
	*canvas
	glyphs      theme.Glyphs
	left, wide  int // cells of the labels, and of a part
	top, bottom int // rows of the largest and the smallest value
	most        float64
}

func newDrift(c Course, w, h int, t theme.Theme) *drift {
	d := &drift{Course: c, canvas: newCanvas(w, h, t.Plain), glyphs: t.Glyphs, top: 2, bottom: h - 2}
	if h < courseRoomy {
		d.top = 1
	}
	if (d.bottom-d.top)%2 != 0 {
		d.top++ // zero has a row of its own
	}
	for _, label := range []string{c.Upper, c.Zero, c.Lower} {
		d.left = max(d.left, ansi.StringWidth(clean(label))+1)
	}
	room := max(0, d.w-d.left)
	d.wide = min(courseWide, max(courseNarrow, room/max(1, len(c.Points))))
	d.Points = c.Points[max(0, len(c.Points)-room/d.wide):]
	d.most = 1.25 * c.Band
	for _, p := range d.Points {
		for _, far := range []float64{math.Abs(p.V), math.Abs(p.V) + p.U} {
			if finite(far) {
				d.most = max(d.most, far)
			}
		}
	}
	if c.Band > 0 {
		d.most = min(d.most, courseMost*c.Band)
	}
	if !(d.most > 0) {
		d.most = 1
	}
	return d
}

// row is the row of a value; out says on which side it lies beyond the rows, 0 for neither.
func (d *drift) row(v float64) (row, out int) {
	middle := float64(d.top+d.bottom) / 2
	at := math.Round(middle - v/d.most*float64(d.bottom-d.top)/2)
	switch {
	case v > d.most:
		out = 1
	case v < -d.most:
		out = -1
	}
	return int(min(max(at, float64(d.top)), float64(d.bottom))), out
}

// col is the column of a part.
func (d *drift) col(i int) int { return d.left + i*d.wide + d.wide/2 }

func (d *drift) drawBand() {
	d.Text(0, 0, d.Title, heavy)
	across := d.w - d.left
	zero, _ := d.row(0)
	d.Text(d.left, zero, strings.Repeat(d.glyphs.Dot, across), thin)
	d.Text(0, zero, d.Zero, thin)
	if !(d.Band > 0) || !finite(d.Band) {
		return
	}
	for v, label := range map[float64]string{d.Band: d.Upper, -d.Band: d.Lower} {
		row, _ := d.row(v)
		d.Text(d.left, row, strings.Repeat(d.glyphs.Rule, across), medium)
		d.Text(0, row, label, medium)
	}
}

func (d *drift) drawPoint(i int) {
	p, col := d.Points[i], d.col(i)
	if !finite(p.V) {
		row, _ := d.row(0)
		d.Text(col, row, d.glyphs.Query, medium)
		return
	}
	if finite(p.U) {
		from, _ := d.row(p.V + p.U)
		to, _ := d.row(p.V - p.U)
		for row := from; row <= to; row++ {
			d.Text(col, row, d.glyphs.Vertical, medium)
		}
	}
	row, out := d.row(p.V)
	d.Text(col, row, [...]string{"v", "o", "^"}[out+1], heavy)
}

// drawNames writes the parts' numbers, as many as stand apart.
func (d *drift) drawNames() {
	for i := len(d.Points) - 1; i >= 0; i-- {
		name := strconv.Itoa(d.Points[i].N)
		if at := d.col(i) - (len(name)-1)/2; d.free(at, d.h-1, len(name), 1) {
			d.Text(at, d.h-1, name, medium)
		}
	}
}

// drawWords writes the words below the title, or beside it where rows are few, the newest first, each over its part as far as the width
// allows.
func (d *drift) drawWords() {
	row, from := min(1, d.top-1), 0
	if row == 0 {
		from = ansi.StringWidth(clean(d.Title)) + 1
	}
	for i := len(d.Points) - 1; i >= 0; i-- {
		wide := ansi.StringWidth(clean(d.Points[i].Word))
		if at := min(max(from, d.col(i)), d.w-wide); wide > 0 && d.free(at, row, wide, 1) {
			d.Text(at, row, d.Points[i].Word, heavy)
		}
	}
}
