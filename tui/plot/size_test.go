package plot

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
	"github.com/mattn/go-runewidth"
)

// pictures are all drawings of the package, as functions of a size.
var pictures = map[string]func(w, h int, t theme.Theme) string{
	"radial": func(w, h int, t theme.Theme) string {
		return Radial(sweep(8, 5, geom.Point{X: 0.25, Y: 0.13}, -0.07, 0.015), w, h, t)
	},
	"form": func(w, h int, t theme.Theme) string {
		p := sweep(8, 8, geom.Point{X: 0.25, Y: 0.13}, -0.07, 0)
		p.Joined, p.Named, p.Fitted = true, "form", false
		return Radial(p, w, h, t)
	},
	"outline": func(w, h int, t theme.Theme) string {
		axis, path := geom.Point{}, geom.ArcOf(geom.Point{}, 43, 0, math.Pi/2)
		return Outline(Plan{Pieces: quarter(), Axis: &axis, Path: &path}, w, h, t)
	},
	"dial": func(w, h int, t theme.Theme) string {
		return Dial(-0.326, 0.01, 1, geom.Millimetre, w, h, t)
	},
	"course":    func(w, h int, t theme.Theme) string { return Drift(walking(1+w%15), w, h, t) },
	"handwheel": func(w, h int, t theme.Theme) string { return Handwheel(w%2 == 0, false, "1 turn 16.6", w, h, t) },
	"big": func(w, h int, t theme.Theme) string {
		s, _ := Big([][]string{{"X  clockwise 1 turn", "stop −0.113", "°±?"}, {"0"}}, w, h, t.Plain)
		return s
	},
	"canvas": func(w, h int, t theme.Theme) string {
		c := newCanvas(w, h, t.Plain)
		c.Fit(geom.Point{X: -10, Y: -10}, geom.Point{X: 10, Y: 10})
		c.Ellipse(geom.Point{X: 3}, [2][2]float64{{90, 20}, {20, 60}}, pen{Weight: heavy})
		c.Label(geom.Point{X: -9, Y: 9}, "R 42.000 ±0.020", medium)
		return strings.Join(c.Styled(t), "\n")
	},
}

// No drawing is ever larger than it may be, whatever the size, and a plain one is printable
// ASCII to the last byte. Braille and plain take turns like the fields of a chessboard, so that
// every size is drawn, and every width and every height both ways, in half the time.
func TestEverySize(t *testing.T) {
	themes := map[bool]theme.Theme{false: colourless(false), true: colourless(true)}
	for name, draw := range pictures {
		filled := map[bool]int{}
		for w := 1; w <= 200; w++ {
			for h := 1; h <= 60; h++ {
				plain := (w+h)%2 == 1
				out := draw(w, h, themes[plain])
				if out == "" {
					continue
				}
				filled[plain]++
				lines := strings.Split(out, "\n")
				if len(lines) > h {
					t.Fatalf("%s plain %v, %d×%d: %d lines", name, plain, w, h, len(lines))
				}
				for _, l := range lines {
					if got := widthOf(l); got > w {
						t.Fatalf("%s plain %v, %d×%d: %d cells: %q", name, plain, w, h, got, l)
					}
					if plain && strings.IndexFunc(l, notPrintableASCII) >= 0 {
						t.Fatalf("%s plain, %d×%d: %q is not printable ASCII", name, w, h, l)
					}
				}
			}
		}
		if filled[false] < 2500 || filled[true] < 2500 {
			t.Errorf("%s: drawn at %d sizes, plain at %d, want at least 2500 of 6000 each", name, filled[false], filled[true])
		}
	}
}

func notPrintableASCII(r rune) bool { return r < ' ' || r > '~' }

// No size at all is a size too.
func TestNoSize(t *testing.T) {
	for name, draw := range pictures {
		for _, size := range []int{0, -1, math.MinInt} {
			if got := draw(size, size, colourless(false)); got != "" {
				t.Errorf("%s at %d: %q, want nothing", name, size, got)
			}
		}
	}
}

// With colours a drawing is as wide as without, measured whole; and where a locale gives
// ambiguous characters two cells, the plain drawings still fit.
func TestWidthsByTwoMeasures(t *testing.T) {
	eastAsian := runewidth.NewCondition()
	eastAsian.EastAsianWidth = true
	for name, draw := range pictures {
		for _, size := range []struct{ w, h int }{{16, 7}, {40, 16}, {60, 18}, {121, 37}} {
			for l := range strings.SplitSeq(draw(size.w, size.h, colourful(false)), "\n") {
				if got := ansi.StringWidth(l); got > size.w {
					t.Errorf("%s %v in colours: %d cells", name, size, got)
				}
			}
			for l := range strings.SplitSeq(draw(size.w, size.h, colourless(true)), "\n") {
				if got := eastAsian.StringWidth(l); got > size.w || got != len(l) {
					t.Errorf("%s %v plain, East Asian: %d cells", name, size, got)
				}
			}
		}
	}
}
