package pane

import (
	"fmt"
	"strings"
)

// listColumn is how wide a column of the list is at least, in cells.
const listColumn = 38

// listGrid is how many columns and rows of lines the list has on one leaf: with a row for the title and one for what leads on.
func listGrid(w, h int) (columns, rows int) {
	return max(1, min(3, w/listColumn)), max(1, h-2)
}

// ListLeaves is how many leaves a list of n lines takes.
func ListLeaves(n, w, h int) int {
	columns, rows := listGrid(w, h)
	return max(1, (n+columns*rows-1)/(columns*rows))
}

// List is the page of all that can be done now, by numbers; leaf counts from 0.
func List(v *View, words []string, leaf, w, h int) string {
	columns, rows := listGrid(w, h)
	leaves := ListLeaves(len(words), w, h)
	begin := min(leaf, leaves-1) * columns * rows
	words = words[begin:min(len(words), begin+columns*rows)]
	used := (len(words) + columns - 1) / columns
	out := []string{v.Theme.Strong.Render("what can be done now")}
	for r := range used {
		line := ""
		for c := 0; c < columns && c*used+r < len(words); c++ {
			n := begin + c*used + r + 1
			cell := Clip(v.Theme, fmt.Sprintf("%3s  %s", v.Theme.Key.Render(fmt.Sprint(n)), words[c*used+r]), w/columns-1)
			line += pad(cell, w/columns, false)
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	if leaves > 1 {
		out = append(out, fmt.Sprintf("  0  more, page %d of %d", min(leaf, leaves-1)+1, leaves))
	}
	return Box(v.Theme, strings.Join(out, "\n"), w, h)
}
