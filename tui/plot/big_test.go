package plot

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// required are the characters that action lines are made of.
const required = " ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,:+-−±°%/()?!=×_↻↺→<>'⌀µ"

// big is a text that can be said in one way.
func big(text string, w, h int, plain bool) (string, bool) {
	drawn, tall := Big([][]string{{text}}, w, h, plain)
	return drawn, tall > 0
}

func TestFontIsWellFormed(t *testing.T) {
	for r, l := range font() {
		if len(l) != letterRows {
			t.Errorf("%q has %d rows, want %d", r, len(l), letterRows)
			continue
		}
		ink := false
		for _, row := range l {
			if len(row) != len(l[0]) || len(row) < 1 || len(row) > 7 || strings.Trim(row, ".#") != "" {
				t.Errorf("%q: row %q, want %d of '.' and '#'", r, row, len(l[0]))
			}
			ink = ink || strings.Contains(row, "#")
		}
		if ink == (r == ' ') {
			t.Errorf("%q: ink is %v", r, ink)
		}
	}
	for _, r := range required {
		if _, ok := font()[r]; !ok {
			t.Errorf("%q is missing", r)
		}
	}
	for r := '0'; r <= '9'; r++ {
		if w := len(font()[r][0]); w != 5 {
			t.Errorf("%q is %d pixels wide, want 5 as every digit", r, w)
		}
	}
}

// No two letters look the same, and those that are mistaken for one another at a distance differ
// in at least three pixels.
func TestLettersDiffer(t *testing.T) {
	seen := map[string]rune{}
	for r, l := range font() {
		key := strings.Join(l, "\n")
		if other, ok := seen[key]; ok {
			t.Errorf("%q and %q look the same", r, other)
		}
		seen[key] = r
	}
	for _, pair := range []string{"0O", "08", "69", "35", "38", "17", "5S", "8B", "+±", "2Z", "06", "56", "68", "89", "↻↺"} {
		p := []rune(pair)
		a, b := strings.Join(font()[p[0]], ""), strings.Join(font()[p[1]], "")
		n := 0
		for i := range min(len(a), len(b)) {
			if a[i] != b[i] {
				n++
			}
		}
		if n < 3 {
			t.Errorf("%q and %q differ in %d pixels, want at least 3", p[0], p[1], n)
		}
	}
}

// blocks gives the inked quarters of the block elements by their Unicode names (chart
// U+2580–259F): upper left, upper right, lower left, lower right.
var blocks = map[rune]string{
	' ': "....", '▘': "#...", '▝': ".#..", '▀': "##..", '▖': "..#.", '▌': "#.#.", '▞': ".##.", '▛': "###.",
	'▗': "...#", '▚': "#..#", '▐': ".#.#", '▜': "##.#", '▄': "..##", '▙': "#.##", '▟': ".###", '█': "####",
}

// pixels reads large letters back: rows of '.' and '#', two to a row of cells, two columns to a
// cell.
func pixels(t *testing.T, big string) []string {
	t.Helper()
	var rows []string
	for line := range strings.SplitSeq(big, "\n") {
		var upper, lower strings.Builder
		for _, r := range line {
			q, ok := blocks[r]
			if !ok {
				t.Fatalf("%q is no block element", r)
			}
			upper.WriteString(q[:2])
			lower.WriteString(q[2:])
		}
		rows = append(rows, upper.String(), lower.String())
	}
	return rows
}

// The pixels of the drawing are those of the font, in both sizes.
func TestBigDrawsTheFont(t *testing.T) {
	const text = "jÅ8±"
	want := make([]string, letterRows)
	for i, r := range text {
		l, ok := font()[r]
		if !ok {
			l = unknown
		}
		for y := range want {
			if i > 0 {
				want[y] += "."
			}
			want[y] += l[y]
		}
	}
	wideText, ok := big(text, 80, 4, false)
	if !ok {
		t.Fatal("does not fit 80×4")
	}
	for y, row := range pixels(t, wideText) {
		doubled := ""
		for _, r := range want[y] {
			doubled += strings.Repeat(string(r), 2)
		}
		if row != doubled {
			t.Errorf("half blocks, row %d: %s, want %s", y, row, doubled)
		}
	}
	narrowText, ok := big(text, len(want[0])-1, 4, false)
	if !ok {
		t.Fatalf("does not fit %d×4", len(want[0])-1)
	}
	for y, row := range pixels(t, narrowText) {
		if strings.TrimRight(row, ".") != strings.TrimRight(want[y], ".") {
			t.Errorf("quadrants, row %d: %s, want %s", y, row, want[y])
		}
	}
	plainText, ok := big(text, len(want[0]), 8, true)
	if !ok {
		t.Fatal("does not fit 8 rows of plain letters")
	}
	for y, row := range strings.Split(plainText, "\n") {
		if row != strings.ReplaceAll(want[y], ".", " ") {
			t.Errorf("plain, row %d: %q, want %q", y, row, want[y])
		}
	}
}

func TestBigTakesTheLargestThatFits(t *testing.T) {
	// "station" is 4+4+5+4+1+5+5 pixels and six gaps: 34 cells wide, or 17 narrow.
	for _, c := range []struct {
		w, h  int
		plain bool
		width int // 0: does not fit
	}{
		{34, 4, false, 34}, {33, 4, false, 17}, {17, 4, false, 17}, {16, 4, false, 0}, {80, 3, false, 0},
		{34, 7, true, 34}, {33, 7, true, 0}, {34, 6, true, 0}, {0, 0, false, 0}, {-1, -1, true, 0},
		{200, 11, false, 102}, {101, 11, false, 85}, {50, 11, false, 34}, {200, 42, false, 187}, {80, 14, true, 68},
	} {
		got, ok := big("station", c.w, c.h, c.plain)
		width := utf8.RuneCountInString(strings.SplitN(got, "\n", 2)[0])
		if ok != (c.width > 0) || width != c.width {
			t.Errorf("%d×%d plain %v: %d cells wide, fits %v, want %d", c.w, c.h, c.plain, width, ok, c.width)
		}
	}
	if _, ok := big("jog", 80, 7, true); ok {
		t.Error("plain letters that hang below the line fit 7 rows, want 8")
	}
	with, _ := big("a\n\x1b[1mb", 80, 4, false)
	if want, _ := big("ab", 80, 4, false); with != want {
		t.Errorf("a line feed and an escape sequence show:\n%s", with)
	}
	if got, ok := big("", 80, 24, false); ok || got != "" {
		t.Errorf("nothing to write gives %q, %v, want empty and false", got, ok)
	}
}

// Longest first: the larger letters win over the longer words, and among words that fit in the
// same letters the first one wins.
func TestBigOrder(t *testing.T) {
	// 129, 77 and 54 pixels wide.
	said := []string{"X  clockwise 1 turn 16.6 div", "X cw 1 turn 16.6", "1 turn 16.6"}
	for _, c := range []struct{ w, size, which int }{
		{129, 2, 0}, {128, 2, 1}, {77, 2, 1}, {76, 2, 2}, {54, 2, 2}, {53, 1, 1}, {39, 1, 1}, {38, 1, 2}, {27, 1, 2},
	} {
		got, tall := Big([][]string{said}, c.w, 4, false)
		want := size{c.size, 1}.draw([]bitmap{newBitmap(said[c.which])}, quadrants)
		if tall != 4 || got != want {
			t.Errorf("%d cells: capitals of %d rows\n%s\nwant %q\n%s", c.w, tall, got, said[c.which], want)
		}
	}
	if got, tall := Big([][]string{said}, 10, 4, false); tall != 0 {
		t.Errorf("10 cells: %q, want none", got)
	}
	if _, tall := Big([][]string{nil}, 80, 4, false); tall != 0 {
		t.Error("no candidates fit, want none")
	}
}

// Lines are written in letters of one size, below one another, each in the longest of its forms that fits.
func TestBigLines(t *testing.T) {
	lines := [][]string{{"park 0°"}, {"anticlockwise past −0.399", "anti past −0.399"}, {"clockwise to −0.299", "clock to −0.299"}}
	for _, c := range []struct {
		w, h, rows int
		plain      bool
	}{
		{80, 12, 12, false}, {80, 24, 23, false}, {200, 34, 23, false}, {200, 35, 35, false}, {200, 50, 46, false}, {120, 34, 23, false},
		{200, 24, 23, true}, {120, 24, 23, true}, {80, 24, 23, true}, {69, 24, 0, true}, {80, 11, 0, false},
	} {
		got, tall := Big(lines, c.w, c.h, c.plain)
		ok := tall > 0
		rows := strings.Split(got, "\n")
		if c.rows == 0 {
			if ok {
				t.Errorf("%d×%d: fits", c.w, c.h)
			}
			continue
		}
		if !ok || len(rows) != c.rows {
			t.Errorf("%d×%d: fits %v, %d rows, want %d", c.w, c.h, ok, len(rows), c.rows)
		}
		for _, r := range rows {
			if n := utf8.RuneCountInString(r); n > c.w || n != utf8.RuneCountInString(rows[0]) {
				t.Errorf("%d×%d: a row of %d cells", c.w, c.h, n)
			}
		}
	}
}
