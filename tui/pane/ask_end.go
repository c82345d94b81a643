package pane

import "strings"

// columnsFrom is how wide a window is whose last page has two columns.
const columnsFrom = 80

// ended is the heading of the last page, with the arc that is cut.
func (v *AskView) ended(w int) block {
	head := "all is answered"
	if v.Cuts != "" {
		head += "; " + v.say(v.Cuts)
	}
	return block{rows: styled(&v.Theme.Strong, wrap(head, w, 2))}
}

// all are the answers, without those that only led to a figure.
func (v *AskView) all(w int) []block {
	var c Chapter
	for i, r := range v.answered() {
		if !v.Given[i].Aside {
			c.Rows = append(c.Rows, r)
		}
	}
	return c.blocks(&v.Theme, w)
}

// ends is what Enter does once all is answered: what is left to read comes first.
func (v *AskView) ends(more bool) action {
	if more {
		return big([]string{"Enter shows more of the answers; / goes back to the last question", "Enter shows more; / goes back"},
			"Enter: more", "more?")
	}
	return big([]string{"Enter goes on with these answers; / goes back to the last question", "Enter goes on; / goes back"},
		"Enter: go on", "go on?")
}

// end lays out the page of a window that has room for large letters once all is answered: in two columns where it is wide enough.
// What does not fit on one leaf comes on more, of which each says what Enter does there.
func (v *AskView) end(z *zone, last string) (Leaves, bool) {
	t, w, h := v.Theme, z.w, z.h
	c := dealt{abreast: 1, wide: w}
	if w >= columnsFrom {
		c.abreast, c.wide = 2, w/2
	}
	z.must = nil
	cut := false
	lay := func(more bool) Bottom {
		b := *z
		b.action = v.action()
		if v.Once == "" {
			b.action = v.ends(more)
		}
		return b.lay(func(most int) []string {
			cut = cut || len(v.said(w, 1<<20)) > most
			return v.said(w, most)
		})
	}
	bottoms := map[bool]Bottom{true: lay(true), false: lay(false)}
	if cut {
		return Leaves{}, false
	}
	tall := max(bottoms[true].Height(), bottoms[false].Height())
	room := h - Framed - tall
	for _, b := range v.news(w) {
		c.head = append(c.head, b.rows...)
	}
	c.head = append(c.head, v.ended(w).rows...)
	c.all = deal(v.all(c.wide-1), room-len(c.head))
	if c.leaves() > 1 {
		c.all = deal(v.all(c.wide-1), room-len(c.head)-1)
	}
	if len(c.head) > room-2 {
		return Leaves{}, false
	}
	n := c.leaves()
	return Leaves{n, func(leaf int) string {
		rows := c.rows(leaf)
		if n > 1 {
			rows = append(rows, t.Dim.Render(whichLeaf(leaf, n)))
		}
		body := Box(t, strings.Join(rows, "\n"), w, room)
		return Frame(t, w, v.aim(w), body, bottoms[leaf+1 < n].Draw(t, w, tall), last)
	}}, true
}
