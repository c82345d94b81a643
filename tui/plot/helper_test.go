package plot

import (
	"io"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// colourless is the theme that leaves texts as they are.
func colourless(plain bool) theme.Theme { return themeOf(termenv.Ascii, plain) }

// colourful is the theme on a terminal of 256 colours.
func colourful(plain bool) theme.Theme { return themeOf(termenv.ANSI256, plain) }

func themeOf(p termenv.Profile, plain bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(p)
	return theme.New(r, plain)
}

// xy is a dot by column and row of the whole drawing.
type xy struct{ x, y int }

// dotsOf reads the braille dots back out of a drawing. It does so by the names in the Unicode
// character database (BRAILLE PATTERN DOTS-…), not by the table of the code under test.
func dotsOf(drawing string) map[xy]bool {
	// Dots 1 to 8 by place: 1 2 3 7 down the left, 4 5 6 8 down the right; dot n is bit n−1.
	place := [8]xy{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}}
	out := map[xy]bool{}
	for row, line := range strings.Split(drawing, "\n") {
		for col, r := range []rune(line) {
			if r < 0x2800 || r > 0x28ff {
				continue
			}
			for n, p := range place {
				if (r-0x2800)>>n&1 == 1 {
					out[xy{2*col + p.x, 4*row + p.y}] = true
				}
			}
		}
	}
	return out
}

// inkOf reads the cells that are not blank out of a plain drawing.
func inkOf(drawing string) map[xy]bool {
	out := map[xy]bool{}
	for row, line := range strings.Split(drawing, "\n") {
		for col, r := range []rune(line) {
			if r != ' ' {
				out[xy{col, row}] = true
			}
		}
	}
	return out
}

// without returns the dots of a that are not in b.
func without(a, b map[xy]bool) map[xy]bool {
	out := map[xy]bool{}
	for d := range a {
		if !b[d] {
			out[d] = true
		}
	}
	return out
}

// mean returns the middle of the dots, in dots.
func mean(dots map[xy]bool) (x, y float64) {
	for d := range dots {
		x += float64(d.x)
		y += float64(d.y)
	}
	n := float64(len(dots))
	return x / n, y / n
}

// pieces counts the parts that do not touch, neighbours being the eight dots round a dot.
func pieces(dots map[xy]bool) int {
	seen, n := map[xy]bool{}, 0
	for start := range dots {
		if seen[start] {
			continue
		}
		n++
		todo := []xy{start}
		seen[start] = true
		for len(todo) > 0 {
			d := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for dx := -1; dx <= 1; dx++ {
				for dy := -1; dy <= 1; dy++ {
					if q := (xy{d.x + dx, d.y + dy}); dots[q] && !seen[q] {
						seen[q] = true
						todo = append(todo, q)
					}
				}
			}
		}
	}
	return n
}

func joined(c *canvas) string { return strings.Join(c.Lines(), "\n") }

// widthOf measures a line without styles, rune by rune: faster than measuring it whole, and the
// same as long as no rune joins its neighbour. The drawings use none that does.
func widthOf(line string) int {
	n := 0
	for _, r := range line {
		if r >= ' ' && r <= '~' {
			n++
			continue
		}
		w := int(runeWidths[r&0xffff]) - 1
		if w < 0 || r > 0xffff {
			w = ansi.StringWidth(string(r))
			runeWidths[r&0xffff] = uint8(w + 1)
		}
		n += w
	}
	return n
}

// runeWidths remembers widths, plus one; 0 is not measured yet.
var runeWidths [1 << 16]uint8

// sweep is a sweep of n stations, the first of them read, on a ring of radius 30 whose centre
// lies at e and whose surface is mean farther out than nominal, with readings that scatter by
// three micrometres.
func sweep(n, read int, e geom.Point, mean, sigma float64) Picture {
	p := Picture{
		Radius: 30, Tolerance: 0.02, Centre: e, Fitted: read >= 4,
		EllipseCov: [2][2]float64{{sigma * sigma, 0.3 * sigma * sigma}, {0.3 * sigma * sigma, 0.5 * sigma * sigma}},
	}
	for i := range n {
		b := geom.FromDegrees(float64(i) * 360 / float64(n))
		out := mean + e.Dot(b.Unit()) + 0.003*math.Sin(7*float64(i))
		p.Stations = append(p.Stations, Mark{Bearing: b, Out: out, Present: i < read})
		if i == read {
			p.Next = &b
		}
	}
	return p
}

// TestHelpersSeeDots guards these helpers: a helper that finds nothing would let every test pass.
func TestHelpersSeeDots(t *testing.T) {
	// U+2881 is BRAILLE PATTERN DOTS-18.
	got := dotsOf("x⢁")
	if len(got) != 2 || !got[xy{2, 0}] || !got[xy{3, 3}] {
		t.Errorf("dots of U+2881 in the second cell: %v, want 2,0 and 3,3", got)
	}
	if n := pieces(map[xy]bool{{0, 0}: true, {1, 1}: true, {3, 0}: true}); n != 2 {
		t.Errorf("%d pieces, want 2", n)
	}
}
