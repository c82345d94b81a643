package plot

import (
	"slices"
	"strings"
	"sync"
)

// size is how large a pixel of a letter is drawn: so many half cells across and down. A cell is about twice as high as it is
// wide, so that letters with across = 2·down are as broad as they were drawn, and with across = down half as broad.
type size struct{ across, down int }

// largest is the height of a pixel in the largest letters, in half cells: a line of them fills 48 rows.
const largest = 12

// sizes are all there are, the highest first and of equally high the broadest. Plain letters are drawn with '#', so that
// their pixels are whole cells.
var sizes, plainSizes = func() (all, plain []size) {
	for down := largest; down > 0; down-- {
		for across := 2 * down; across >= down; across-- {
			s := size{across, down}
			if all = append(all, s); across%2 == 0 && down%2 == 0 {
				plain = append(plain, s)
			}
		}
	}
	return all, plain
}()

// Big writes an action in the largest letters of our own that fit into w × h cells. The action has lines, and a line can be
// said at different lengths, the form that says most first; all are written, in letters of one size: the largest in which
// some form of each fits, and in that the first form that does. tall is how many rows a capital takes; 0, and an empty string,
// where none fit or there is nothing to write: the caller then writes the action in bold, or in pieces. All rows have the same
// width. A letter is mostly five pixels wide and seven high, with a gap of one; in the smallest size it takes three by four cells.
// A character that the font lacks is a hollow box.
func Big(lines [][]string, w, h int, plain bool) (text string, tall int) {
	all, ink := sizes, quadrants
	if plain {
		all, ink = plainSizes, hashes
	}
	maps := make([][]bitmap, len(lines))
	for i, forms := range lines {
		for _, text := range forms {
			maps[i] = append(maps[i], newBitmap(text))
		}
	}
	for _, s := range all {
		if chosen, ok := s.fitting(maps, w); ok && s.rows(chosen) <= h {
			return s.draw(chosen, ink), (bodyRows*s.down + 1) / 2
		}
	}
	return "", 0
}

// fitting is the first form of each line that fits into w cells; ok is false where a line has none.
func (s size) fitting(lines [][]bitmap, w int) (chosen []bitmap, ok bool) {
	for _, forms := range lines {
		i := slices.IndexFunc(forms, func(m bitmap) bool { return len(m) > 0 && s.width(m) <= w })
		if i < 0 {
			return nil, false
		}
		chosen = append(chosen, forms[i])
	}
	return chosen, len(chosen) > 0
}

// width is how many cells a line takes across.
func (s size) width(m bitmap) int { return (len(m)*s.across + 1) / 2 }

// rows is how many rows of cells the lines take. What hangs below the last line is left out where nothing does.
func (s size) rows(lines []bitmap) int {
	return ((len(lines) - 1) * s.pitch()) + (lines[len(lines)-1].height()*s.down+1)/2
}

// pitch is the rows from one line to the next: whole cells.
func (s size) pitch() int { return (letterRows*s.down + 1) / 2 }

// draw writes the lines below one another.
func (s size) draw(lines []bitmap, ink [16]rune) string {
	width, height := 0, s.rows(lines)
	for _, m := range lines {
		width = max(width, s.width(m))
	}
	out := make([]string, height)
	var b strings.Builder
	for row := range out {
		b.Reset()
		i := min(row/s.pitch(), len(lines)-1)
		for col := range width {
			b.WriteRune(ink[s.cell(lines[i], col, row-i*s.pitch())])
		}
		out[row] = b.String()
	}
	return strings.Join(out, "\n")
}

// quadrants are the block elements by which quarters are inked: 1 upper left, 2 upper right,
// 4 lower left, 8 lower right (The Unicode Standard, chart U+2580–259F).
var quadrants = [16]rune{
	' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█',
}

// hashes are their like in plain letters, whose cells are inked whole.
var hashes = [16]rune{' ', 15: '#'}

// cell says which quarters of a cell of a line are inked, as [quadrants] counts them.
func (s size) cell(m bitmap, col, row int) int {
	k := 0
	for quarter := range 4 {
		if m.at((2*col+quarter%2)/s.across, (2*row+quarter/2)/s.down) {
			k |= 1 << quarter
		}
	}
	return k
}

// bitmap is a line of text in pixels: its columns from left to right, a bit for each row, the lowest for the uppermost.
type bitmap []uint8

func newBitmap(text string) (m bitmap) {
	for _, r := range clean(text) {
		glyph, ok := columns()[r]
		if !ok {
			glyph = columns()[0]
		}
		if len(m) > 0 {
			m = append(m, 0)
		}
		m = append(m, glyph...)
	}
	return m
}

// columns are the letters of the font as bitmaps, with the unknown one at 0.
var columns = sync.OnceValue(func() map[rune]bitmap {
	out := map[rune]bitmap{0: bits(unknown)}
	for r, l := range font() {
		out[r] = bits(l)
	}
	return out
})

// bits are a letter's columns.
func bits(l letter) bitmap {
	m := make(bitmap, len(l[0]))
	for y, row := range l {
		for x, ink := range row {
			if ink == '#' {
				m[x] |= 1 << y
			}
		}
	}
	return m
}

// at reports whether there is ink; outside the bitmap there is none.
func (m bitmap) at(x, y int) bool { return y < letterRows && x < len(m) && m[x]>>y&1 != 0 }

// height is how many rows of pixels the text takes: fewer where nothing hangs below the line.
func (m bitmap) height() int {
	if slices.ContainsFunc(m, func(col uint8) bool { return col>>(letterRows-1)&1 != 0 }) {
		return letterRows
	}
	return bodyRows
}
