package pane

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/tui/theme"
)

// Leaves is a page that is read leaf by leaf in its zone. Nothing of it is cut: it has as many leaves as it needs. The zero
// Leaves stands for a page that is not turned.
type Leaves struct {
	N    int
	draw func(leaf int) string
}

// Draw draws a leaf, from 0; the last where there are fewer.
func (l Leaves) Draw(leaf int) string {
	if l.N == 0 {
		return ""
	}
	return l.draw(max(0, min(leaf, l.N-1)))
}

// Next is the leaf behind one; behind the last it is the first again, and more is false.
func (l Leaves) Next(leaf int) (next int, more bool) {
	if leaf+1 < l.N {
		return leaf + 1, true
	}
	return 0, false
}

// line is one row of a page. What stands between from and to is drawn in a style; it is drawn only where it is shown, for a
// page has many more.
type line struct {
	text     string
	from, to int
	style    *lipgloss.Style
}

func (l line) drawn() string {
	if l.style == nil {
		return l.text
	}
	return l.text[:l.from] + l.style.Render(l.text[l.from:l.to]) + l.text[l.to:]
}

// styled are lines in a style as a whole; nil for none.
func styled(style *lipgloss.Style, all []string) []line {
	out := make([]line, len(all))
	for i, s := range all {
		out[i] = line{s, 0, len(s), style}
	}
	return out
}

// block is what stays together on a leaf, if one holds it.
type block struct {
	rows  []line
	gap   bool // a blank row stands before it, where that takes no column more
	apart bool // it begins a column
}

// deal deals blocks out to columns of h rows.
func deal(blocks []block, h int) [][]line {
	tight, airy := fill(blocks, h, false), fill(blocks, h, true)
	if len(airy) > len(tight) {
		return tight
	}
	return airy
}

// fill fills columns of h rows, with the blocks' gaps or without. A block that fits into one column is not torn.
func fill(blocks []block, h int, gaps bool) (columns [][]line) {
	h = max(1, h)
	var col []line
	end := func() {
		if len(col) > 0 {
			columns, col = append(columns, col), nil
		}
	}
	for _, b := range blocks {
		gap := 0
		if gaps && b.gap {
			gap = 1
		}
		if b.apart || len(col)+gap+len(b.rows) > h && len(b.rows) <= h {
			end()
		}
		if gap > 0 && len(col) > 0 && len(col) < h-1 {
			col = append(col, line{})
		}
		for _, row := range b.rows {
			if len(col) >= h {
				end()
			}
			col = append(col, row)
		}
	}
	end()
	return columns
}

// dealt are columns of blocks, so many of them abreast on a leaf, each so wide, below what stands on all leaves.
type dealt struct {
	all           [][]line
	abreast, wide int
	head          []line
}

// leaves is how many leaves they take.
func (c *dealt) leaves() int { return max(1, (len(c.all)+c.abreast-1)/c.abreast) }

// rows draws what stands on a leaf.
func (c *dealt) rows(leaf int) (out []string) {
	shown := c.all[min(leaf*c.abreast, len(c.all)):]
	for i, col := range shown[:min(c.abreast, len(shown))] {
		for r, l := range col {
			if r == len(out) {
				out = append(out, "")
			}
			out[r] = pad(out[r], i*c.wide, false) + l.drawn()
		}
	}
	for i, l := range c.head {
		out = slices.Insert(out, i, l.drawn())
	}
	return out
}

// bound binds them to leaves of w × h cells; the last row of each is its foot, unless what stands there needs it; nil for none.
func (c dealt) bound(t theme.Theme, foot func(leaf, of int) string, w, h int) Leaves {
	n := c.leaves()
	return Leaves{n, func(leaf int) string {
		rows := c.rows(leaf)
		if foot != nil && len(rows) < h {
			if last := foot(leaf, n); last != "" {
				rows = slices.Concat(rows, make([]string, max(0, h-1-len(rows))), []string{last})
			}
		}
		return Box(t, strings.Join(rows, "\n"), w, h)
	}}
}

// whichLeaf says which leaf of how many it is.
func whichLeaf(leaf, of int) string { return fmt.Sprintf("page %d of %d", leaf+1, of) }

// turns are the keys of a page: what turns its leaves, to what, and what closes it before its last, on which Enter does; away is
// empty where what Enter does then is said elsewhere.
type turns struct{ keys, to, away string }

// foot says which leaf it is, and what turns it.
func (k turns) foot(t theme.Theme, w int) func(leaf, of int) string {
	dot := " " + t.Glyphs.Dot + " "
	return func(leaf, of int) string {
		var which, long, short []string
		if of > 1 {
			which = []string{whichLeaf(leaf, of)}
		}
		switch first, _, _ := strings.Cut(k.keys, " "); {
		case leaf+1 < of:
			long, short = []string{k.keys + " turns to the " + k.to}, []string{first + ": " + k.to}
			if k.away != "" {
				long, short = append(long, k.away+" closes"), append(short, k.away+" closes")
			}
		case k.away != "":
			long, short = []string{"Enter closes this page"}, []string{"Enter closes"}
		}
		said := func(what []string) string { return strings.Join(slices.Concat(which, what), dot) }
		return t.Dim.Render(Clip(t, first(w, []string{said(long), said(short)}), w))
	}
}
