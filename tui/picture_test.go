package tui_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/x/vt"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// The README's pictures of the screen are the screen: a wind under the needle, and what has settled.
func TestPictures(t *testing.T) {
	o := real(t, nil)
	o.colour = termenv.TrueColor
	w := stand{41.7, -0.11, 0.15}
	d := w.work(loaded(t, o), 6, nothing).Size(pictureColumns, pictureRows)
	picture(t, d, "wind", "a wind under the needle: which slide, where the head is parked, which way, and where the needle stops")
	w.work(d, 40, session.ForAccept)
	picture(t, d, "settled", "a settled page: swing radius and centre inside the tolerance, the doubt included")
}

// The window of the pictures.
const pictureColumns, pictureRows = 100, 34

// picture holds a screen to its picture.
func picture(t *testing.T, d *driver, name, title string) {
	t.Helper()
	d.Fits(pictureColumns, pictureRows)
	emu := vt.NewEmulator(pictureColumns, pictureRows)
	if _, err := emu.WriteString(strings.ReplaceAll(d.model.View(), "\n", "\r\n")); err != nil {
		t.Fatal(err)
	}
	testdata.WantGolden(t, filepath.Join("..", "testdata", "pictures", name+".svg"), cellsSVG(emu, title))
}

// A cell of a picture, where letters stand in it, and what is free round all of them, in the picture's units.
const (
	cellWide, cellHigh = 8, 16
	cellBase           = 12
	pictureMargin      = 12
)

// pictureHead is what comes before the cells: width, height, title, title, width and height of the paper. Text without a
// colour of its own takes the ink of the light or the dark; the theme's colours are meant to be read on both.
const pictureHead = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-label="%s">
<title>%s</title>
<style>
:root{--ink:#1b1b1a;--paper:#fcfcfa;--line:#d4d2cb}
@media (prefers-color-scheme:dark){:root{--ink:#e9e7e0;--paper:#141516;--line:#3c3e40}}
text{font:13px ui-monospace,"DejaVu Sans Mono","Liberation Mono",Menlo,Consolas,monospace;white-space:pre}
text,path{fill:var(--ink)}.bold{font-weight:700}.edge{shape-rendering:crispEdges}
</style>
<rect x=".5" y=".5" width="%d" height="%d" rx="6" style="fill:var(--paper);stroke:var(--line)"/>
`

// cellsSVG draws what a terminal shows. A letter is text; blocks, dots and rules are shapes, as terminals draw them
// themselves, since few fonts let them join from cell to cell.
func cellsSVG(emu *vt.Emulator, title string) string {
	var b strings.Builder
	w, h := emu.Width()*cellWide+2*pictureMargin, emu.Height()*cellHigh+2*pictureMargin
	fmt.Fprintf(&b, pictureHead, w, h, title, title, w-1, h-1)
	shapes := map[string]string{} // by the attributes of their path
	for y := range emu.Height() {
		var run cellRun
		for x := range emu.Width() {
			c := emu.CellAt(x, y)
			if c == nil || c.Content == "" || c.Content == " " {
				continue
			}
			ink := ""
			if c.Style.Fg != nil {
				r, g, b, _ := c.Style.Fg.RGBA()
				ink = fmt.Sprintf(` style="fill:#%02x%02x%02x"`, r>>8, g>>8, b>>8)
			}
			sign, _ := utf8.DecodeRuneInString(c.Content)
			if path, edge := cellShape(sign, pictureMargin+x*cellWide, pictureMargin+y*cellHigh); path != "" {
				shapes[edge+ink] += path
				continue
			}
			if c.Style.Attrs&1 != 0 { // the first attribute is bold
				ink += ` class="bold"`
			}
			if next := (cellRun{x, y, ink, c.Content}); !run.joins(next) {
				b.WriteString(run.svg())
				run = next
			}
		}
		b.WriteString(run.svg())
	}
	inks := make([]string, 0, len(shapes))
	for ink := range shapes {
		inks = append(inks, ink)
	}
	slices.Sort(inks)
	for _, ink := range inks {
		fmt.Fprintf(&b, "<path%s d=\"%s\"/>\n", ink, shapes[ink])
	}
	return b.String() + "</svg>\n"
}

// cellRun is text that one element can hold: it begins in a cell.
type cellRun struct {
	x, y      int
	ink, text string
}

// plain tells whether every font of the stack has the signs in the width of its cells: others stand alone, so that they
// cannot push what follows out of its cells.
func (r *cellRun) plain() bool {
	return r.text != "" && !strings.ContainsFunc(r.text, func(s rune) bool { return s >= 0x250 && s != '−' })
}

// joins takes the sign in, with one blank before it at most, where it goes on with the run.
func (r *cellRun) joins(next cellRun) bool {
	gap := next.x - r.x - utf8.RuneCountInString(r.text)
	if !r.plain() || !next.plain() || r.ink != next.ink || gap > 1 {
		return false
	}
	r.text += strings.Repeat(" ", gap) + next.text
	return true
}

var xmlEscaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

func (r *cellRun) svg() string {
	if r.text == "" {
		return ""
	}
	x, y, cells := pictureMargin+r.x*cellWide, pictureMargin+r.y*cellHigh+cellBase, utf8.RuneCountInString(r.text)
	if !r.plain() {
		return fmt.Sprintf(
			"<text x=\"%d\" y=\"%d\" text-anchor=\"middle\"%s>%s</text>\n",
			x+cellWide/2,
			y,
			r.ink,
			xmlEscaped.Replace(r.text),
		)
	}
	return fmt.Sprintf(
		"<text x=\"%d\" y=\"%d\" textLength=\"%d\" lengthAdjust=\"spacingAndGlyphs\"%s>%s</text>\n",
		x,
		y,
		cells*cellWide,
		r.ink,
		xmlEscaped.Replace(r.text),
	)
}

// quadrants are the quarters of a cell that a block fills: 1 the upper left one, 2 the upper right, 4 and 8 below them.
var quadrants = map[rune]int{'▘': 1, '▝': 2, '▀': 3, '▖': 4, '▌': 5, '▞': 6, '▛': 7, '▗': 8, '▚': 9, '▐': 10, '▜': 11, '▄': 12, '▙': 13,
	'▟': 14, '█': 15}

// cellShape is the outline of a sign that is drawn, in the cell whose corner is given, and the class of its path; empty
// where it is written.
func cellShape(sign rune, x, y int) (path, class string) {
	const edge = ` class="edge"`
	if q, ok := quadrants[sign]; ok {
		for i := range 4 {
			if q>>i&1 != 0 {
				path += fmt.Sprintf("M%d %dh%dv%dh-%dz", x+i%2*cellWide/2, y+i/2*cellHigh/2, cellWide/2, cellHigh/2, cellWide/2)
			}
		}
		return path, edge
	}
	if sign == '─' {
		return fmt.Sprintf("M%d %dh%dv1h-%dz", x, y+cellHigh/2, cellWide, cellWide), edge
	}
	if sign <= 0x2800 || sign > 0x28ff {
		return "", ""
	}
	// The Unicode Standard, "Braille Patterns": dots 1 to 3 and 7 down the left, 4 to 6 and 8 down the right, bit by bit.
	for bit, at := range [8][2]int{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}} {
		if (sign-0x2800)>>bit&1 != 0 {
			path += fmt.Sprintf("M%d %da1.2 1.2 0 0 1 2.4 0a1.2 1.2 0 0 1-2.4 0z", x+1+at[0]*cellWide/2, y+2+at[1]*cellHigh/4)
		}
	}
	return path, ""
}
