package pane

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/plot"
	"example.org/trammel/tui/theme"
)

// OpenView is everything that the page may show that asks what is to become of sessions that are open.
type OpenView struct {
	Theme theme.Theme
	// Title says what is open, Answers are the answers, by their numbers from 1.
	Title   string
	Answers []string
	// Entry is what has been typed, Status the last thing said, Alarm that it is a complaint.
	Entry  string
	Status string
	Alarm  bool
	Leaf   int // of the answers, where they have not room on one
}

// Open is the page of the answers. All of it wraps, and what has no room comes on further leaves.
func Open(v *OpenView, all []keys.Binding, w, h int) string {
	t := v.Theme
	last := Box(t, Keys(&View{Theme: t}, all, w), w, 1)
	if h <= 1 {
		return last
	}
	head, foot, room := v.parts(w, h)
	leaves := v.leaves(w, room)
	rows := append(head, leaves[min(v.Leaf, len(leaves)-1)]...)
	if spare := h - 1 - len(foot) - len(rows); spare > 6 {
		rows, foot = v.enlarge(rows, foot, w, h, spare)
	}
	return Box(t, strings.Join(append(rows, foot...), "\n"), w, h-1) + "\n" + last
}

// enlarge puts the action in large letters below the answers, with a line between them, where some fit into the rows to spare.
func (v *OpenView) enlarge(rows, foot []string, w, h, spare int) (above, below []string) {
	t := v.Theme
	big, tall := plot.Big([][]string{v.large()}, w, min(spare-2, max(8, h*45/100)), t.Plain)
	if tall == 0 {
		return rows, foot
	}
	letters := strings.Split(big, "\n")
	for range spare - 1 - len(letters) {
		rows = append(rows, "")
	}
	rows = append(rows, Rule(t, w))
	for _, l := range letters {
		rows = append(rows, t.Big.Render(l))
	}
	if v.Status == "" && v.Entry != "" { // the letters say it
		foot = make([]string, len(foot))
	}
	return rows, foot
}

// OpenLeaves is how many leaves the answers take.
func OpenLeaves(v *OpenView, w, h int) int {
	_, _, room := v.parts(w, h)
	return len(v.leaves(w, room))
}

// parts are the title, what is said last, and how many rows there are between them.
func (v *OpenView) parts(w, h int) (head, foot []string, room int) {
	t := v.Theme
	for _, l := range broken(v.say(v.Title), w, 0) {
		head = append(head, t.Strong.Render(l))
	}
	switch {
	case v.Status != "" && v.Alarm:
		for _, l := range broken(t.Glyphs.Cross+" "+v.say(v.Status), w, 2) {
			foot = append(foot, t.Bad.Render(l))
		}
	case v.Status != "":
		for _, l := range broken(v.say(v.Status), w, 2) {
			foot = append(foot, t.Dim.Render(l))
		}
	case v.Entry != "":
		foot = broken("answer "+v.say(v.Entry)+"_", w, 2)
	}
	for len(head)+len(foot)+3 > h && len(head) > 1 { // what is to be answered goes before what is open
		head = head[:len(head)-1]
	}
	if over := len(head) + len(foot) + 3 - h; over > 0 {
		foot = foot[:max(0, len(foot)-over)]
	}
	return head, foot, max(1, h-1-len(head)-len(foot))
}

// large is the action in large letters, in ever shorter forms.
func (v *OpenView) large() []string {
	if v.Entry != "" {
		return []string{"answer " + v.say(v.Entry), v.say(v.Entry)}
	}
	return []string{"Enter: go on", "go on?"}
}

// say makes words of others fit for the screen.
func (v *OpenView) say(s string) string {
	screen := View{Theme: v.Theme}
	return screen.text(s)
}

// leaves shares the answers out, so that as few as can be are broken: one that has not room on a leaf of its own.
func (v *OpenView) leaves(w, room int) [][]string {
	var items [][]string
	rows := 0
	for i, a := range v.Answers {
		n := fmt.Sprint(i + 1)
		item := broken(n+"  "+v.say(a), w, len(n)+2)
		if strings.HasPrefix(item[0], n) {
			item[0] = v.Theme.Key.Render(n) + item[0][len(n):]
		}
		items = append(items, item)
		rows += len(item)
	}
	if rows <= room {
		return [][]string{flat(items)}
	}
	room = max(1, room-1) // for the line that leads on
	leaves := [][]string{nil}
	for _, item := range items {
		if now := &leaves[len(leaves)-1]; len(*now) > 0 && len(*now)+len(item) > room {
			leaves = append(leaves, nil)
		}
		for _, row := range item {
			if len(leaves[len(leaves)-1]) == room {
				leaves = append(leaves, nil)
			}
			now := &leaves[len(leaves)-1]
			*now = append(*now, row)
		}
	}
	for i := range leaves {
		leaves[i] = append(leaves[i], v.Theme.Key.Render("0")+fmt.Sprintf("  more, page %d of %d", i+1, len(leaves)))
	}
	return leaves
}

func flat(items [][]string) (out []string) {
	for _, item := range items {
		out = append(out, item...)
	}
	return out
}

// broken is [wrap] that breaks words too, where they are longer than a line: no part of a file's name is lost.
func broken(s string, w, in int) []string {
	w = max(w, in+2)
	var words []string
	for i, word := range strings.Split(s, " ") {
		most := w - in
		if i == 0 {
			most = w
		}
		for ansi.StringWidth(word) > most {
			head := ansi.Truncate(word, most, "")
			words, word = append(words, head), strings.TrimPrefix(word, head)
		}
		words = append(words, word)
	}
	return wrap(strings.Join(words, " "), w, in)
}
