package plot

import (
	"strings"
)

// size is one way of turning pixels into cells.
type size uint8

const (
	wide   size = iota // half blocks: a pixel is one cell across and half a cell down
	narrow             // quadrants: half a cell each way
	hashes             // plain: a pixel is a whole cell, drawn as '#'
)

// sizes returns the sizes of a mode, largest first.
func sizes(plain bool) []size {
	if plain {
		return []size{hashes}
	}
	return []size{wide, narrow}
}

// BigBest writes an action that can be said at different lengths, the one that says most first, in the largest
// letters of our own that fit into w × h cells: the first that fits in the larger letters, else the first that
// fits in the smaller; false, and an empty string, when none do or when there is nothing to write: the caller then
// writes it in bold. All lines have the same width. A letter is mostly five pixels wide and seven high, with a gap
// of one: six by four cells in half blocks, three by four in quadrants. In plain mode it is drawn with '#', six by
// seven cells, eight where a letter hangs below the line. A character that the font lacks is a hollow box.
func BigBest(candidates []string, w, h int, plain bool) (string, bool) {
	maps := make([]bitmap, len(candidates))
	for i, text := range candidates {
		maps[i] = newBitmap(text)
	}
	for _, s := range sizes(plain) {
		for _, m := range maps {
			if width, height := m.cells(s); width > 0 && width <= w && height <= h {
				return m.draw(s), true
			}
		}
	}
	return "", false
}

// bitmap is a line of text in pixels: letterRows rows of equal length.
type bitmap [][]bool

func newBitmap(text string) bitmap {
	m := make(bitmap, letterRows)
	for _, r := range clean(text) {
		glyph, ok := font()[r]
		if !ok {
			glyph = unknown
		}
		for y := range m {
			if len(m[y]) > 0 {
				m[y] = append(m[y], false)
			}
			for _, ink := range glyph[y] {
				m[y] = append(m[y], ink == '#')
			}
		}
	}
	return m
}

// cells returns how many cells the text takes.
func (m bitmap) cells(s size) (width, height int) {
	pixels := len(m[0])
	switch s {
	case wide:
		return pixels, letterRows / 2
	case narrow:
		return (pixels + 1) / 2, letterRows / 2
	case hashes:
	}
	for _, ink := range m[letterRows-1] {
		if ink {
			return pixels, letterRows
		}
	}
	return pixels, bodyRows
}

// at reports whether there is ink; outside the bitmap there is none.
func (m bitmap) at(x, y int) bool { return x < len(m[y]) && m[y][x] }

func (m bitmap) draw(s size) string {
	width, height := m.cells(s)
	lines := make([]string, height)
	var b strings.Builder
	for row := range lines {
		b.Reset()
		for col := range width {
			b.WriteRune(m.cell(s, col, row))
		}
		lines[row] = b.String()
	}
	return strings.Join(lines, "\n")
}

// quadrants are the block elements by which quarters are inked: 1 upper left, 2 upper right,
// 4 lower left, 8 lower right (The Unicode Standard, chart U+2580–259F).
var quadrants = [16]rune{
	' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█',
}

// cell returns the character of one cell.
func (m bitmap) cell(s size, col, row int) rune {
	var inked [4]bool // upper left, upper right, lower left, lower right
	switch s {
	case wide:
		upper, lower := m.at(col, 2*row), m.at(col, 2*row+1)
		inked = [4]bool{upper, upper, lower, lower}
	case narrow:
		inked = [4]bool{
			m.at(2*col, 2*row), m.at(2*col+1, 2*row), m.at(2*col, 2*row+1), m.at(2*col+1, 2*row+1),
		}
	case hashes:
		if m.at(col, row) {
			return '#'
		}
		return ' '
	}
	k := 0
	for i, ink := range inked {
		if ink {
			k |= 1 << i
		}
	}
	return quadrants[k]
}
