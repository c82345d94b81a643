package pane

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/trammel/tui/theme"
)

// listColumn is how wide a column of the list is at least, in cells.
const listColumn = 38

// List is the page of lines to be chosen by their numbers, below what they answer, or else of all that can be done now; typed is
// the number so far, which stands in the last row: in a small window nowhere else does.
func List(t theme.Theme, asks string, words []string, typed string, w, h int) Leaves {
	foot := func(leaf, of int) string {
		last := leadsOn(&t, words, leaf, of)
		if typed != "" {
			last = pad(last, w-6, false) + t.Strong.Render(typed+"_")
		}
		return last
	}
	if asks != "" {
		return answers(&t, asks, words, w, h-1).bound(t, foot, w, h)
	}
	n, room := max(1, min(3, w/listColumn)), h-1
	c := dealt{abreast: n, wide: w / n}
	if room > 1 {
		c.head = styled(&t.Strong, []string{"what can be done now"})
		room--
	}
	blocks, least := numbered(&t, words, w/n-1), 1
	for _, b := range blocks {
		least = max(least, len(b.rows))
	}
	c.all = deal(blocks, room)
	for h := room - 1; h >= least && len(deal(blocks, h)) <= n; h-- { // columns of about the same height
		c.all = deal(blocks, h)
	}
	return c.bound(t, foot, w, h)
}

// answers are numbered answers in one column of h rows a leaf, below what they answer.
func answers(t *theme.Theme, asks string, words []string, w, h int) dealt {
	return dealt{all: deal(questioned(t, asks, words, w), h), abreast: 1}
}

// questioned are numbered answers below what they answer.
func questioned(t *theme.Theme, asks string, words []string, w int) []block {
	return append([]block{{rows: styled(&t.Strong, wrap(asks, w, 0))}}, numbered(t, words, w)...)
}

// leadsOn is the line below some numbered ones that turns their leaf; empty where there is one leaf.
func leadsOn(t *theme.Theme, words []string, leaf, of int) string {
	if of == 1 {
		return ""
	}
	number := fmt.Sprintf("%*d", digits(words), 0)
	return t.Key.Render(number) + "  more, " + whichLeaf(leaf, of)
}

// digits is how many the greatest number has.
func digits(words []string) int { return len(strconv.Itoa(len(words))) }

// numbered are lines with their numbers from 1, each broken into rows of w cells.
func numbered(t *theme.Theme, words []string, w int) (out []block) {
	wide := digits(words)
	for i, s := range words {
		rows := styled(nil, wrap(s, w-wide-2, 0))
		for k := range rows {
			rows[k].text = strings.Repeat(" ", wide+2) + rows[k].text
		}
		number := fmt.Sprintf("%*d", wide, i+1)
		rows[0] = line{number + rows[0].text[wide:], 0, wide, &t.Key}
		out = append(out, block{rows: rows})
	}
	return out
}
