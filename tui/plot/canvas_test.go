package plot

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"github.com/charmbracelet/x/ansi"
)

// The eight dots by their Unicode names, U+2801 BRAILLE PATTERN DOTS-1 to U+2880 DOTS-8.
func TestBrailleDots(t *testing.T) {
	for _, c := range []struct {
		x, y int
		want string
	}{
		{0, 0, "\u2801"}, {0, 1, "\u2802"}, {0, 2, "\u2804"}, {1, 0, "\u2808"},
		{1, 1, "\u2810"}, {1, 2, "\u2820"}, {0, 3, "\u2840"}, {1, 3, "\u2880"},
	} {
		canvas := newCanvas(1, 1, false)
		canvas.set(c.x, c.y, thin)
		if got := canvas.Lines()[0]; got != c.want {
			t.Errorf("dot %d,%d draws %U, want %U", c.x, c.y, []rune(got), []rune(c.want))
		}
	}
}

func TestPlainWeights(t *testing.T) {
	c := newCanvas(4, 1, true)
	for i, w := range []weight{thin, medium, heavy, weight(200)} {
		c.set(i, 0, w)
	}
	if got := c.Lines()[0]; got != ".o**" {
		t.Errorf("weights draw %q, want %q", got, ".o**")
	}
	c.set(2, 0, thin)
	if got := c.Lines()[0]; got != ".o**" {
		t.Errorf("a thin dot over a heavy one gives %q, want %q", got, ".o**")
	}
}

func TestSizesAreHeldToWhatIsSane(t *testing.T) {
	for _, c := range []struct{ w, h, wantW, wantH int }{
		{0, 0, 0, 0}, {-3, 5, 0, 5}, {7, -1, 7, 0}, {5000, 2, 1000, 2},
	} {
		lines := newCanvas(c.w, c.h, false).Lines()
		if len(lines) != c.wantH {
			t.Errorf("New(%d, %d): %d lines, want %d", c.w, c.h, len(lines), c.wantH)
		}
		for _, l := range lines {
			if w := ansi.StringWidth(l); w != c.wantW {
				t.Errorf("New(%d, %d): width %d, want %d", c.w, c.h, w, c.wantW)
			}
		}
	}
}

// Fit must keep squares square and put Y up: the corners of a square window land at equal
// distances in dots (in plain mode a row counts as two columns), top corner at the top.
func TestFitKeepsShape(t *testing.T) {
	for _, plain := range []bool{false, true} {
		for _, size := range []struct{ w, h int }{{40, 10}, {20, 20}, {11, 7}} {
			c := newCanvas(size.w, size.h, plain)
			c.Fit(geom.Point{X: 100, Y: -20}, geom.Point{X: 110, Y: -10})
			left, bottom, _ := c.dot(geom.Point{X: 100, Y: -20})
			right, top, _ := c.dot(geom.Point{X: 110, Y: -10})
			high := (bottom - top) / c.squash
			if top >= bottom || math.Abs(right-left-high) > 1e-9 {
				t.Errorf("plain %v %v: %.3f wide, %.3f high (top %.1f, bottom %.1f), want a square, Y up", plain, size, right-left, high,
					top, bottom)
			}
			if got := c.scale * 10; math.Abs(got-(right-left)) > 1e-9 {
				t.Errorf("plain %v %v: ten millimetres are %.3f dots by the scale, want %.3f", plain, size, got, right-left)
			}
			if left < -1e-9 || top < -1e-9 || right > float64(c.dotsX-1)+1e-9 || bottom > float64(c.dotsY-1)+1e-9 {
				t.Errorf("plain %v %v: window lands at %.2f…%.2f, %.2f…%.2f, want inside the canvas", plain, size, left, right, top, bottom)
			}
			if free := min(float64(c.dotsX-1)-(right-left), float64(c.dotsY-1)-(bottom-top)); math.Abs(free) > 1e-9 {
				t.Errorf("plain %v %v: %.3f dots to spare both ways, want one way filled", plain, size, free)
			}
		}
	}
}

func TestFitRefusesWhatIsNoWindow(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	c := newCanvas(10, 10, false)
	c.Fit(geom.Point{X: 0, Y: 0}, geom.Point{X: 10, Y: 10})
	before := *c
	for _, w := range [][4]float64{{nan, 0, 1, 1}, {0, 0, inf, 1}, {0, -inf, 1, 1}, {-math.MaxFloat64, 0, math.MaxFloat64, 1}} {
		c.Fit(geom.Point{X: w[0], Y: w[1]}, geom.Point{X: w[2], Y: w[3]})
		if c.scale != before.scale || c.centre != before.centre {
			t.Errorf("window %v: scale %v, centre %v, want them unchanged", w, c.scale, c.centre)
		}
	}
	c.Fit(geom.Point{X: 3, Y: 4}, geom.Point{X: 3, Y: 4})
	if c.scale != before.scale || c.centre != (geom.Point{X: 3, Y: 4}) {
		t.Errorf("window without extent: scale %v, centre %v, want the scale kept and the centre moved", c.scale, c.centre)
	}
	c.Fit(geom.Point{X: 0, Y: 10}, geom.Point{X: 10, Y: 0}) // corners the other way round
	if c.scale != before.scale {
		t.Errorf("turned window: scale %v, want %v", c.scale, before.scale)
	}
}

func TestStyledIsLinesWithStyles(t *testing.T) {
	c := newCanvas(30, 9, false)
	c.Circle(geom.Point{}, 15, pen{Weight: thin})
	c.Line(geom.Point{X: -20}, geom.Point{X: 20}, pen{Weight: heavy})
	c.Label(geom.Point{}, "測 ±0.02", medium)
	lines, styled := c.Lines(), c.Styled(colourful(false))
	coloured := false
	for i := range lines {
		if got := ansi.Strip(styled[i]); got != lines[i] {
			t.Errorf("row %d stripped is %q, want %q", i, got, lines[i])
		}
		coloured = coloured || strings.Contains(styled[i], "\x1b[")
	}
	if !coloured {
		t.Error("no row is styled")
	}
	if got := c.Styled(colourless(false)); fmt.Sprint(got) != fmt.Sprint(lines) {
		t.Errorf("without colours:\n%q, want\n%q", got, lines)
	}
}
