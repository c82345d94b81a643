package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/tui/theme"
)

// A column of prose is read at most so wide, and is not made narrower than that for another one beside it; between two lies a gap.
const (
	proseWidth  = 76
	leastColumn = 54
	columnGap   = 3
)

// proseColumns is how many columns of which width stand side by side.
func proseColumns(w int) (n, wide int) {
	n = max(1, (w+columnGap)/(leastColumn+columnGap))
	return n, max(1, min(proseWidth, (w-(n-1)*columnGap)/n))
}

// Leaves is how many leaves chapters take in a zone of w × h cells.
func Leaves(t theme.Theme, all []Chapter, w, h int) int {
	n, _ := proseColumns(w)
	columns := flowed(t, all, w, h)
	return max(1, (len(columns)+n-1)/n)
}

// Leaf draws one leaf of chapters, from 0; the last where there are fewer. Its last row says which it is, and what turns it; away
// is the key that leaves the page.
func Leaf(t theme.Theme, all []Chapter, leaf int, away string, w, h int) string {
	n, wide := proseColumns(w)
	columns := flowed(t, all, w, h)
	leaves := max(1, (len(columns)+n-1)/n)
	leaf = max(0, min(leaf, leaves-1))
	columns = columns[min(leaf*n, len(columns)):min(leaf*n+n, len(columns))]
	rows := make([]string, max(1, h-1))
	for i, c := range columns {
		for r := range rows {
			cell := ""
			if r < len(c) {
				cell = c[r].drawn()
			}
			if i+1 < len(columns) {
				cell = pad(cell, wide+columnGap, false)
			}
			rows[r] += cell
		}
	}
	if h > 1 {
		rows = append(rows, t.Dim.Render(Clip(t, foot(t, leaf, leaves, away, w), w)))
	}
	return Box(t, strings.Join(rows, "\n"), w, h)
}

// foot says which leaf it is, and what turns it.
func foot(t theme.Theme, leaf, leaves int, away string, w int) string {
	dot := " " + t.Glyphs.Dot + " "
	where := ""
	if leaves > 1 {
		where = fmt.Sprintf("page %d of %d", leaf+1, leaves) + dot
	}
	if leaf+1 == leaves {
		return first(w, []string{where + "Enter closes this page", where + "Enter closes"})
	}
	closes := dot + away + " closes"
	return first(w, []string{where + "Enter or ? turns to the next" + closes, where + "Enter: next" + closes})
}

// flowed lets chapters flow into columns of the height that a leaf has for them, with blank lines where that takes no
// column more.
func flowed(t theme.Theme, all []Chapter, w, h int) [][]line {
	_, wide := proseColumns(w)
	blocks := make([][][]line, len(all))
	for i := range all {
		blocks[i] = all[i].blocks(&t, wide)
	}
	tight := flow(all, blocks, max(1, h-1), false)
	airy := flow(all, blocks, max(1, h-1), true)
	if len(airy) > len(tight) {
		return tight
	}
	return airy
}

// flow fills columns of a height with the chapters' blocks. A block that fits into one column is not torn.
func flow(all []Chapter, blocks [][][]line, h int, airy bool) (columns [][]line) {
	var col []line
	end := func() {
		if len(col) > 0 {
			columns, col = append(columns, col), nil
		}
	}
	for i := range all {
		c := &all[i]
		if c.Apart {
			end()
		}
		for j, block := range blocks[i] {
			gap := airy && len(col) > 0 && (j == 0 && c.Head != "" || j > 0 && c.Airy)
			if gap {
				col = append(col, line{})
			}
			if len(col)+len(block) > h && len(block) <= h {
				end()
			}
			for _, row := range block {
				if len(col) >= h {
					end()
				}
				col = append(col, row)
			}
		}
	}
	end()
	return columns
}
