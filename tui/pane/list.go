package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/tui/theme"
)

// listColumn is how wide a column of the list is at least, in cells, and listNumber how much of it the number takes.
const (
	listColumn = 38
	listNumber = 5
)

// ListLeaves is how many leaves a list takes.
func ListLeaves(v *View, words []string, w, h int) int {
	return len(listLeaves(v.Theme, v.Asks, words, w, h))
}

// List is the page of lines to be chosen by their numbers, below what they answer, or else of all that can be done now; leaf
// counts from 0.
func List(v *View, words []string, leaf, w, h int) string {
	return ListOf(v.Theme, v.Asks, words, leaf, v.Listed, w, h)
}

// ListOf is the page for any screen: lines to be chosen by their numbers, below what they answer, or else of all that can be
// done now; typed is the number so far, which stands in the last row: in a small window nowhere else does.
func ListOf(t theme.Theme, asks string, words []string, leaf int, typed string, w, h int) string {
	leaves := listLeaves(t, asks, words, w, h)
	leaf = min(leaf, len(leaves)-1)
	out, last := leaves[leaf], ""
	if len(leaves) > 1 {
		last = fmt.Sprintf("  0  more, page %d of %d", leaf+1, len(leaves))
	}
	if typed != "" {
		last = pad(last, w-6, false) + t.Strong.Render(typed+"_")
	}
	if last != "" {
		out = slices.Concat(out, make([]string, max(0, h-1-len(out))), []string{last})
	}
	return Box(t, strings.Join(out, "\n"), w, h)
}

// ListLeavesOf is how many leaves such a page has.
func ListLeavesOf(t theme.Theme, asks string, words []string, w, h int) int {
	return len(listLeaves(t, asks, words, w, h))
}

// listLeaves are the rows of the leaves of a list: nothing of it is cut, it takes as many leaves as it needs. One row of each is
// left to what leads on.
func listLeaves(t theme.Theme, asks string, words []string, w, h int) (leaves [][]string) {
	room := max(1, h-1)
	title := []string{"what can be done now"}
	if asks != "" {
		title = wrap(asks, w, 0)
	}
	for len(title) >= room && room > 1 { // what is asked takes leaves of its own
		leaves = append(leaves, strong(t, title[:room]))
		title = title[room:]
	}
	columns := max(1, min(3, w/listColumn))
	if asks != "" {
		columns = 1 // answers stand one below the other
	}
	cells := listCells(t, words, w/columns)
	for {
		if len(title) >= room {
			title = nil // of a window of one or two rows
		}
		rows := max(1, room-len(title))
		for least := 1; least < rows; least++ { // columns of about the same height
			if _, left := columned(cells, columns, least, w); len(left) == 0 {
				rows = least
				break
			}
		}
		grid, left := columned(cells, columns, rows, w)
		leaves = append(leaves, append(strong(t, title), grid...))
		if cells = left; len(cells) == 0 {
			return leaves
		}
		if asks != "" {
			title = nil
		}
	}
}

// listCells are the lines of a list with their numbers, each broken into rows of a column.
func listCells(t theme.Theme, words []string, column int) [][]string {
	cells := make([][]string, len(words))
	for i, s := range words {
		cells[i] = wrap(s, column-1-listNumber, 0)
		for k := range cells[i] {
			number := ""
			if k == 0 {
				number = strings.Repeat(" ", max(0, 3-len(fmt.Sprint(i+1)))) + t.Key.Render(fmt.Sprint(i+1))
			}
			cells[i][k] = pad(number, listNumber, false) + cells[i][k]
		}
	}
	return cells
}

// columned fills columns with cells from the top, one below the other, and returns what has found no room.
func columned(cells [][]string, columns, rows, w int) (grid []string, left [][]string) {
	grid = make([]string, 0, rows)
	for c := range columns {
		at := 0
		for len(cells) > 0 && (at+len(cells[0]) <= rows || at == 0) {
			for _, l := range cells[0][:min(len(cells[0]), rows)] {
				if at == len(grid) {
					grid = append(grid, "")
				}
				grid[at] = pad(grid[at], c*(w/columns), false) + l
				at++
			}
			cells = cells[1:]
		}
	}
	return grid, cells
}

func strong(t theme.Theme, rows []string) []string {
	out := make([]string, len(rows))
	for i, l := range rows {
		out[i] = t.Strong.Render(l)
	}
	return out
}
