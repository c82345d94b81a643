package plot

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
)

// The least size, in cells, of a handwheel.
const wheelMinWidth, wheelMinHeight = 14, 7

// Handwheel draws a handwheel, seen facing the handle, in w × h cells: an arrow over it the way
// it is to be turned, the mark at its top, in its middle the figure at which it stops, and below
// it the way in words; last says that another movement comes before. The figure is written whole, on
// two lines if it must be; where it does not fit into the wheel at all, or below 14 × 7 cells, the
// result is empty, since a wheel without its figure would only mislead.
func Handwheel(clockwise, last bool, figure string, w, h int, t theme.Theme) string {
	if w < wheelMinWidth || h < wheelMinHeight {
		return ""
	}
	c := newCanvas(w, h-1, t.Plain)
	half := (min(float64(c.dotsX), float64(c.dotsY)/c.squash) - 1) / 2
	gap := 5.0 // between the rim and the arrow over it, dot widths
	if t.Plain {
		gap = 3
	}
	// The wheel stands low by half the room that the arrow takes above it.
	k := wheel{canvas: c, radius: half - gap/2 - 0.5, middle: geom.Point{Y: -gap/2 - 0.5}}
	lines, ok := k.wrap(figure)
	if !ok {
		return ""
	}
	k.rim()
	k.arrow(gap, clockwise)
	for i, line := range lines {
		_, row, _ := c.place(k.middle, 0)
		c.Text((w-ansi.StringWidth(line)+1)/2, row+i-(len(lines)-1)/2, line, heavy)
	}
	sign, word := t.Glyphs.Clockwise, "clockwise"
	if !clockwise {
		sign, word = t.Glyphs.Anticlockwise, "anticlockwise"
	}
	caption := word
	if with := sign + " " + word; !t.Plain && ansi.StringWidth(with) <= w {
		caption = with
	}
	if last && ansi.StringWidth(caption)+5 <= w {
		caption = "last " + caption
	}
	pad := w - ansi.StringWidth(caption)
	caption = strings.Repeat(" ", pad/2) + t.Strong.Render(caption) + strings.Repeat(" ", pad-pad/2)
	return strings.Join(append(c.Styled(t), caption), "\n")
}

// wheel is a handwheel being drawn, on a canvas in dot widths about the middle.
type wheel struct {
	canvas *canvas
	radius float64
	middle geom.Point
}

// thickness is that of the rim, in dot widths.
func (k wheel) thickness() float64 {
	if k.canvas.plain {
		return 0
	}
	return 2
}

func (k wheel) rim() {
	c := k.canvas
	c.Circle(k.middle, k.radius, pen{Weight: medium})
	if th := k.thickness(); th > 0 {
		c.Circle(k.middle, k.radius-th, pen{Weight: medium})
	}
	// The mark at the top, at which the figure is read.
	top := k.middle.Add(at(math.Pi/2, k.radius))
	c.Line(top, top.Sub(geom.Point{Y: max(0.3*k.radius, 2)}), pen{Weight: heavy})
	// The handle, out of the arrow's way.
	handle := k.middle.Add(at(geom.FromDegrees(235), k.radius-k.thickness()/2))
	if c.plain {
		c.Label(handle, "@", heavy)
		return
	}
	c.wipe(handle, 4)
	c.Circle(handle, 4, pen{Weight: heavy})
	c.Circle(handle, 2, pen{Weight: heavy})
}

// arrow draws an arc over the top of the wheel with a head at the end towards which it turns.
func (k wheel) arrow(gap float64, clockwise bool) {
	c := k.canvas
	r := k.radius + gap - 0.5
	pen := pen{Weight: heavy}
	from, to := geom.FromDegrees(45), geom.FromDegrees(135)
	c.Arc(k.middle, r, from, to, pen)
	end, forward := to, geom.Bearing(math.Pi/2) // anticlockwise: bearings grow
	if clockwise {
		end, forward = from, -geom.Bearing(math.Pi/2)
	}
	tip := k.middle.Add(at(end, r))
	if c.plain {
		c.Label(tip.Add(at(end+forward, 1.5)), map[bool]string{true: ">", false: "<"}[clockwise], heavy)
		return
	}
	c.Arc(k.middle, r-1, from, to, pen)
	// The head is filled: strokes run back from its point, closer together than the dots.
	length := min(max(0.3*k.radius, 4), 8)
	tip = tip.Add(at(end+forward, length/2))
	for aside := -30.0; aside <= 30; aside += 5 {
		back := end + forward + math.Pi + geom.FromDegrees(aside)
		c.Line(tip, tip.Add(at(back, length/math.Cos(aside*math.Pi/180))), pen)
	}
}

// wrap splits a figure into one or two lines that fit into the wheel; false when it cannot.
func (k wheel) wrap(figure string) ([]string, bool) {
	figure = strings.TrimSpace(clean(figure))
	// Half the chord at the height of a line's far edge, one cell kept free at the rim.
	room := func(lines int) int {
		high := 2.0 * float64(lines) // a cell is two widths high in plain mode, four with braille
		high *= k.canvas.across() / 2
		in := k.radius - k.thickness()
		return int(2*math.Sqrt(max(in*in-high*high, 0))/k.canvas.across()) - 2
	}
	if ansi.StringWidth(figure) <= room(1) {
		return []string{figure}, true
	}
	words := strings.Fields(figure)
	for i := len(words) - 1; i > 0; i-- {
		above, below := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
		if max(ansi.StringWidth(above), ansi.StringWidth(below)) <= room(3) {
			return []string{above, below}, true
		}
	}
	return nil, false
}
