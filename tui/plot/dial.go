package plot

import (
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
)

// The least size, in cells, at which a face can be read, and the one from which the scale under
// the needle is drawn as well.
const (
	dialMinWidth, dialMinHeight     = 16, 7
	windowMinWidth, windowMinHeight = 24, 14
)

// Dial draws the face of an indicator that shows a reading: all three lengths in millimetres,
// the unit only for the legend. Zero is at the top; a larger reading turns the needle clockwise,
// once round for every revolution. The figures count divisions from zero both ways, + on the
// right and − on the left, and the small hand goes a tenth of a turn for each turn of the needle:
// the reading is the turns that the small hand is nearest to, and what the needle shows more (+)
// or less (−).
//
// A terminal's face is too coarse to read to a fifth of a division, as a person reads a real one.
// Where there is room, the scale under the needle's tip is therefore drawn again, straightened
// and five cells to a division.
//
// Below 16 × 7 cells, or without a graduation and a revolution above it, the result is empty. A
// reading that is not finite leaves the needle out.
func Dial(reading, graduation, revolution float64, unit geom.Unit, w, h int, t theme.Theme) string {
	divisions := revolution / graduation
	if w < dialMinWidth || h < dialMinHeight || !finite(graduation, revolution) ||
		!(graduation > 0) || !(divisions > 1 && divisions <= 1e5) {
		return ""
	}
	d := dial{turns: reading / revolution, divisions: divisions, theme: t}
	d.window = w >= windowMinWidth && h >= windowMinHeight && d.closes()
	rows := h - 1
	if d.window {
		rows -= 3
	}
	d.canvas = newCanvas(w, rows, t.Plain)
	lines := d.face()
	if d.window {
		lines = append(lines, d.underNeedle(w)...)
	}
	return strings.Join(append(lines, d.legend(graduation, revolution, unit, w)), "\n")
}

// dial is a face being drawn, on a canvas in dot widths about the middle.
type dial struct {
	turns     float64 // reading in turns of the needle
	divisions float64 // of one turn
	theme     theme.Theme
	canvas    *canvas
	radius    float64
	window    bool
}

// clock returns the bearing of a fraction of a turn, clockwise from the top.
func clock(turn float64) geom.Bearing {
	return geom.Bearing(math.Pi/2 - 2*math.Pi*(turn-math.Floor(turn)))
}

func (d *dial) face() []string {
	c := d.canvas
	d.radius = (min(float64(c.dotsX), float64(c.dotsY)/c.squash) - 1) / 2
	c.Circle(geom.Point{}, d.radius, pen{Weight: thin})
	d.ticks()
	if finite(d.turns) {
		d.smallHand()
	}
	d.figures()
	if finite(d.turns) {
		d.needle()
	}
	return c.Styled(d.theme)
}

// closes reports whether a turn is a whole number of divisions; a face on which it is not has
// no figures but its zero.
func (d *dial) closes() bool { return math.Abs(math.Round(d.divisions)-d.divisions) <= 1e-6 }

// every returns the least number of divisions, of the series 1, 2, 5 × 10ⁿ and 25 × 10ⁿ, that
// divides the turn evenly into at most so many parts; 0 when there is none.
func (d *dial) every(most float64) float64 {
	n := math.Round(d.divisions)
	if !d.closes() {
		return 0
	}
	for decade := 1.0; decade <= n; decade *= 10 {
		for _, m := range [4]float64{1, 2, 2.5, 5} {
			step := m * decade
			if step == math.Floor(step) && math.Mod(n, step) == 0 && n/step <= most {
				return step
			}
		}
	}
	return 0
}

func (d *dial) ticks() {
	tick := func(turn, length float64, w weight) {
		b := clock(turn)
		d.canvas.Line(at(b, d.radius-length), at(b, d.radius), pen{Weight: w})
	}
	tick(0, 0.2*d.radius, heavy)
	for _, row := range []struct{ space, length float64 }{{3, 0.08}, {8, 0.15}} {
		if step := d.every(2 * math.Pi * d.radius / row.space); step > 0 {
			for n := 0.0; n < d.divisions-step/2; n += step {
				tick(n/d.divisions, row.length*d.radius, thin)
			}
		}
	}
}

// figures writes the divisions counted from zero both ways, the zero itself, and the signs.
func (d *dial) figures() {
	c := d.canvas
	away := 0.72 * d.radius // of the figures from the middle
	cell := c.across()
	widest := float64(len(strconv.Itoa(int(d.divisions/2))) + 1)
	if step := d.every(2 * math.Pi * away / max(widest*cell, 4)); step > 0 && d.radius >= 6*cell {
		for n := step; n < d.divisions-step/2; n += step {
			text := strconv.Itoa(int(math.Round(min(n, d.divisions-n))))
			if col, row, ok := c.place(at(clock(n/d.divisions), away), len(text)); ok && c.free(col, row, len(text), 1) {
				c.Text(col, row, text, medium)
			}
		}
	}
	c.Label(at(clock(0), away), "0", heavy)
	c.Label(at(clock(0.08), 0.45*d.radius), "+", heavy)
	c.Label(at(clock(-0.08), 0.45*d.radius), d.theme.Glyphs.Minus, heavy)
}

// smallHand draws the counter of turns below the middle; where it would be a blot, the nearest
// number of turns is written instead.
func (d *dial) smallHand() {
	c := d.canvas
	middle := geom.Point{Y: -0.42 * d.radius}
	r := 0.22 * d.radius
	if r < 5 || d.theme.Plain {
		// Beyond this many turns the figure says nothing, and its width breaks the face.
		if n := math.Round(d.turns); math.Abs(n) < 1000 {
			c.Label(middle, "turns "+d.signed(n), medium)
		}
		return
	}
	c.Circle(middle, r, pen{Weight: thin})
	for n := range 10 {
		b := clock(float64(n) / 10)
		length := 1.0
		if n == 0 {
			length = 2
		}
		c.Line(middle.Add(at(b, r)), middle.Add(at(b, r+length)), pen{Weight: thin})
	}
	c.Line(middle, middle.Add(at(clock(d.turns/10), r-1)), pen{Weight: heavy})
}

// needle draws a thick line with a short tail.
func (d *dial) needle() {
	b := clock(d.turns)
	tip, tail := at(b, 0.93*d.radius), at(b, -0.12*d.radius)
	d.canvas.Line(tail, tip, pen{Weight: heavy})
	if d.theme.Plain {
		return
	}
	side := at(b+math.Pi/2, 0.5)
	root := at(b, 0.6*d.radius) // the last part stays thin: it points
	d.canvas.Line(tail.Add(side), root.Add(side), pen{Weight: heavy})
	d.canvas.Line(tail.Sub(side), root.Sub(side), pen{Weight: heavy})
}

// signed writes a whole number with its sign; zero has none.
func (d *dial) signed(n float64) string {
	text := strconv.FormatFloat(math.Abs(n), 'f', 0, 64)
	switch {
	case n > 0:
		return "+" + text
	case n < 0:
		return d.theme.Glyphs.Minus + text
	}
	return "0"
}

// fifths is the number of cells to a division of the straightened scale; a person reads a dial
// to a fifth of a division.
const fifths = 5

// underNeedle draws the straightened scale: the figures, the divisions, and the needle's tip,
// which stands still in the middle.
func (d *dial) underNeedle(w int) []string {
	c := newCanvas(w, 3, d.theme.Plain)
	if !finite(d.turns) {
		return c.Lines() // the face stays where it is
	}
	middle := w / 2
	// The needle's place in fifths of a division; a reading that no double can hold to a fifth
	// has no place on the scale, and the floor below keeps it within one turn.
	place := math.Round((d.turns - math.Floor(d.turns)) * d.divisions * fifths)
	for col := range w {
		n := place + float64(col-middle)
		if math.Mod(n, fifths) != 0 {
			c.Text(col, 1, d.theme.Glyphs.Dot, thin)
			continue
		}
		c.Text(col, 1, d.theme.Glyphs.Vertical, medium)
		text := d.signed(d.fromZero(n / fifths))
		// A sign hangs to the left, so that the figure's digits stand on their mark.
		width := ansi.StringWidth(text)
		if left := col - width/2; left >= 0 && left+width <= w {
			c.Text(left, 0, text, medium)
		}
	}
	c.Text(middle, 2, "^", heavy)
	c.Text(middle+2, 2, "needle", thin)
	return c.Styled(d.theme)
}

// fromZero counts a division from zero by the shorter way, + clockwise.
func (d *dial) fromZero(n float64) float64 {
	n = math.Mod(n, d.divisions)
	switch {
	case n > d.divisions/2:
		n -= d.divisions
	case n < -d.divisions/2:
		n += d.divisions
	}
	return math.Round(n)
}

// legend says in words what a division is, and a turn where there is room.
func (d *dial) legend(graduation, revolution float64, unit geom.Unit, w int) string {
	length := func(mm float64) string {
		// Nine significant digits hide what the conversion to inches leaves behind.
		v, _ := strconv.ParseFloat(strconv.FormatFloat(unit.From(mm), 'g', 9, 64), 64)
		return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit.String()
	}
	division := "one division " + length(graduation)
	for _, text := range []string{
		division + ", one turn " + length(revolution), division, "div " + length(graduation),
	} {
		if pad := w - ansi.StringWidth(text); pad >= 0 {
			return strings.Repeat(" ", pad/2) + d.theme.Text.Render(text) + strings.Repeat(" ", pad-pad/2)
		}
	}
	return strings.Repeat(" ", w)
}
