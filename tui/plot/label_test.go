package plot

import (
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/trammel/geom"
	"github.com/charmbracelet/x/ansi"
)

func TestTextIsClipped(t *testing.T) {
	for _, c := range []struct {
		name, text string
		col        int
		plain      bool
		want       string
	}{
		{"inside", "abc", 1, false, " abc  "},
		{"left edge", "abcdef", -2, false, "cdef  "},
		{"right edge", "abcdef", 3, false, "   abc"},
		{"off", "abc", 9, false, "      "},
		{"wide", "測定", 1, false, " 測定 "},
		{"wide, cut on the left", "測定", -1, false, " 定   "},
		{"wide, cut on the right", "測定", 3, false, "   測 "},
		{"combining", "e\u0301x", 0, false, "e\u0301x    "},
		{"escape sequence", "a\x1b[31mb\x1b[0m", 0, false, "ab    "},
		{"line feed", "a\nb", 0, false, "ab    "},
		{"broken bytes", "a\xffb", 0, false, "a?b   "},
		{"plain", "±1", 0, true, "?1    "},
		{"plain, wide", "測1", 0, true, "??1   "},
	} {
		canvas := newCanvas(6, 1, c.plain)
		canvas.Text(c.col, 0, c.text, thin)
		if got := canvas.Lines()[0]; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	c := newCanvas(6, 1, false)
	c.Text(0, -1, "x", thin)
	c.Text(0, 1, "x", thin)
	if got := c.Lines()[0]; got != "      " {
		t.Errorf("rows outside: %q, want blanks", got)
	}
}

// Writing over one half of a wide character leaves a blank in place of the other.
func TestTextOverWideText(t *testing.T) {
	for _, c := range []struct {
		col  int
		text string
		want string
	}{{1, "x", " x 定 "}, {2, "x", "  x定 "}, {3, "x", " 測x  "}, {4, "x", " 測 x "}, {2, "測", "  測  "}, {0, "xx", "xx 定 "}} {
		canvas := newCanvas(6, 1, false)
		canvas.Text(0, 0, " 測定", thin)
		canvas.Text(c.col, 0, c.text, thin)
		if got := canvas.Lines()[0]; got != c.want {
			t.Errorf("%q at %d over wide text: %q, want %q", c.text, c.col, got, c.want)
		}
	}
}

func TestLabelStandsOnItsPoint(t *testing.T) {
	for _, plain := range []bool{false, true} {
		c := newCanvas(11, 5, plain)
		c.Label(geom.Point{}, "abc", thin)
		for i, l := range c.Lines() {
			want := "           "
			if i == 2 {
				want = "    abc    "
			}
			if l != want {
				t.Errorf("plain %v, row %d: %q, want %q", plain, i, l, want)
			}
		}
	}
}

func TestTextCoversDots(t *testing.T) {
	c := newCanvas(5, 1, false)
	line := func() { c.Line(geom.Point{X: -9}, geom.Point{X: 9}, pen{}) }
	line()
	c.Text(1, 0, "7", thin)
	line()
	got := c.Lines()[0]
	if r := []rune(got); len(r) != 5 || r[1] != '7' || r[0] < 0x2801 || r[2] < 0x2801 {
		t.Errorf("%q, want a 7 between dots", got)
	}
}

func TestFreeKeepsAGap(t *testing.T) {
	c := newCanvas(10, 1, false)
	c.Text(4, 0, "x", thin)
	for _, f := range []struct {
		col, width, gap int
		want            bool
	}{
		{0, 3, 1, true}, {0, 4, 1, false}, {0, 4, 0, true}, {0, 5, 0, false}, {6, 4, 1, true}, {5, 2, 1, false}, {6, 5, 1, false},
		{-1, 2, 0, false},
	} {
		if got := c.free(f.col, 0, f.width, f.gap); got != f.want {
			t.Errorf("free(%d, width %d, gap %d) = %v, want %v", f.col, f.width, f.gap, got, f.want)
		}
	}
}

// Two labels side by side may hold characters that a terminal joins, as two regional indicators
// to a flag. Any two texts must leave the row as wide as it is, in ASCII when plain.
func FuzzText(f *testing.F) {
	f.Add("\U0001F1E9", "\U0001F1EA", 1)
	f.Add("\U0001F1E9\n", "\U0001F1EA\x00\U0001F1EB", 2)
	f.Add("測", "\u0301\u200d", -1)
	f.Add("\U0001F468\u200d\U0001F469\u200d\U0001F467", "\U0001F3FD", 2)
	f.Add("\u1100\u1161", "\u11a8", 1)
	f.Add("\x9b31m", "\x1b]0;title\x07", 3)
	f.Fuzz(func(t *testing.T, a, b string, col int) {
		for _, plain := range []bool{false, true} {
			c := newCanvas(8, 1, plain)
			c.Text(0, 0, a, thin)
			c.Text(col, 0, b, heavy)
			line := c.Lines()[0]
			if w := ansi.StringWidth(line); w != 8 {
				t.Errorf("%q and %q at %d give %q, %d cells wide, want 8", a, b, col, line, w)
			}
			if !utf8.ValidString(line) || strings.ContainsAny(line, "\n\r\x1b") {
				t.Errorf("%q and %q at %d give %q", a, b, col, line)
			}
			for _, r := range line {
				if plain && (r < ' ' || r > '~') {
					t.Errorf("plain: %q holds %U", line, r)
				}
			}
		}
	})
}
