package pane

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/plot"
	"example.org/trammel/tui/theme"
)

// Below these the zones no longer stand apart: only the action is shown, and a page that lies over it.
const (
	leastWidth  = 40
	leastHeight = 14
)

// Small reports whether a window has no room for zones.
func Small(w, h int) bool { return w < leastWidth || h < leastHeight }

// Bottom is the bottom zone of a window: the one action now, in letters as large as fit, with what has been typed and the last
// thing said.
type Bottom struct {
	// Pieces is in how many pieces the action is told: Enter shows the next, and only the last one's confirms.
	Pieces int
	rows   []string
}

// Height is how many rows it takes.
func (b Bottom) Height() int { return len(b.rows) }

// Draw fits it into w × h cells; where it has fewer rows, it stands at the bottom.
func (b Bottom) Draw(t theme.Theme, w, h int) string {
	rows := b.rows
	if len(rows) < h {
		rows = append(make([]string, h-len(rows)), rows...)
	}
	return Box(t, strings.Join(rows, "\n"), w, h)
}

// Next lays out the bottom zone for a window of w × h cells. Nothing of what the hand does is left out however small it is, from
// 40×10 on: what does not fit in large letters in one piece comes in several, and where no large letters fit at all it is
// written small.
func Next(v *View, w, h int) Bottom {
	if w <= 0 || h <= 0 { // no size is known yet
		return Bottom{Pieces: 1}
	}
	if v.Watching() {
		return watchNext(v, w, h)
	}
	z := &zone{theme: v.Theme, action: now(v), page: v.Page, piece: v.Piece, w: w, h: h}
	if len(z.asks) > 0 && !Small(w, h) {
		z.parts, z.moves = z.asks, ""
	}
	if !v.Page && !v.Lost && v.Note == "" {
		z.must = mustTell(v, w)
		if v.Entry == "" { // what is typed is seen first
			z.tell = slices.Clone(z.must)
		}
	}
	switch v.Prompt.Waits {
	case session.ForChore:
		all, _ := v.State.Chores()
		z.body = len(all) + 7 // what the step asks, a heading, what was found
	case session.ForAccept:
		for i := len(z.parts) - 1; i >= 0 && len(z.tell) > 0; i-- {
			z.tell = append(wrapped(v.Theme.Big, z.parts[i].alone[0], w), z.tell...)
		}
	default:
	}
	z.keeps = v.Alarm || v.Note != "" || v.Prompt.Reading.Again
	return z.lay(func(most int) []string {
		if !v.Needled() || v.Beside || most < 2 {
			return statusLines(v, w, most)
		}
		return append([]string{v.needleLine(w)}, statusLines(v, w, most-1)...)
	})
}

// lay lays the zone out below what was said last, which is told how many rows it may take.
func (z *zone) lay(said func(most int) []string) Bottom {
	z.small = Small(z.w, z.h)
	switch {
	case z.small && z.page && z.h >= 6:
		z.most = 2
	case z.small:
		z.most = max(1, z.h-1)
	default:
		z.most = z.h - Framed - max(leastBody, len(z.must))
	}
	z.said = said(max(1, z.most-2))
	if z.small && len(z.said) == 1 && z.said[0] == "" {
		z.said = nil
	}
	switch {
	case z.small && len(z.tell) > 0:
		return z.dealt()
	case len(z.tell) > 0 && z.most < 2+len(z.said): // the work zone cannot hold it
		z.most = z.h - Framed - leastBody
		return z.dealt()
	}
	if b, ok := z.large(); ok {
		return b
	}
	return z.written()
}

// leastBody is what the work zone keeps under all circumstances.
const leastBody = 2

// zone is a bottom zone being laid out.
type zone struct {
	action
	theme theme.Theme
	page  bool // one lies over the work
	piece int  // that is wanted
	w, h  int  // the window
	small bool
	most  int      // rows that the zone may take
	body  int      // rows that the list would fill
	must  []string // what the work zone may not lose
	tell  []string // what is told here where it has not the room
	said  []string // the last thing said
	tall  int      // rows of a capital of the piece that is shown, 0 where it is written
	keeps bool     // it is not to be missed: it stands below every piece, else below the first alone
}

// below is what stands below the i-th of k pieces: in a small window, what was said last stands below the first alone.
func (z *zone) below(i int) []string {
	if z.small && i > 0 && !z.keeps {
		return nil
	}
	return z.said
}

// large tells the action in large letters, in as few pieces as they allow; false where they do not fit.
func (z *zone) large() (Bottom, bool) {
	if z.most < 5 || z.page && z.h < 24 { // a page needs the room
		return Bottom{}, false
	}
	for k := 1; k <= len(z.parts); k++ {
		drawn, tall := make([]string, k), make([]int, k)
		for i, group := range split(z.parts, k) {
			if drawn[i], tall[i] = z.letters(group, i, k); tall[i] == 0 {
				break
			}
		}
		if slices.Contains(tall, 0) {
			continue
		}
		i := min(z.piece, k-1)
		z.tall = tall[i]
		rows := z.spoken(i, k)
		for _, l := range strings.Split(drawn[i], "\n") {
			rows = append(rows, z.theme.Big.Render(l))
		}
		return Bottom{Pieces: k, rows: append(rows, z.below(i)...)}, true
	}
	return Bottom{}, false
}

// mostLines is how many lines of large letters stand below one another.
const mostLines = 3

// letters writes some parts of the action, the i-th of k pieces, in large letters: of the ways to lay them out the one that gives
// the largest. tall is 0 where they do not fit, or would be smaller than the window deserves.
func (z *zone) letters(group []deed, i, k int) (text string, tall int) {
	rows := len(z.spoken(i, k)) + len(z.below(i))
	best := z.least() - 1
	ways := layouts(group)
	if len(group) == 1 && group[0].unnamed != nil && z.moves != "" { // the words above name it
		ways = append(ways, group[0].unnamed)
	}
	for _, lines := range ways {
		if len(lines) > mostLines {
			continue
		}
		if drawn, high := plot.Big(lines, z.w, z.room(len(lines), rows), z.theme.Plain); high > best {
			text, tall, best = drawn, high, high
		}
	}
	return text, tall
}

// least is the least height of a capital: four rows on a window of 80×24 and less, ten on one of 200×50 and more.
func (z *zone) least() int {
	if z.w >= 200 && z.h >= 50 && !z.page {
		return 10
	}
	return 4
}

// room is how many rows some lines of letters may take beside so many others: as many as the work zone can spare, and in any
// case those of the least letters.
func (z *zone) room(lines, others int) int {
	free := z.most - others
	if z.small {
		return free
	}
	pitch := 4 // of the least letters: rows from one line to the next
	if z.least() > 4 {
		pitch = 12
	}
	if z.theme.Plain { // their pixels are whole cells
		pitch = (pitch + 4) / 8 * 8
	}
	least := min(free, lines*pitch)
	if z.page {
		return least
	}
	wants := [mostLines]int{13, 10, 6}[min(lines, mostLines)-1]
	spare := min(free+leastBody-max(wants, z.body), z.h*(38+8*lines)/100)
	return max(least, spare)
}

// spoken is the action in words, before the i-th of k pieces.
func (z *zone) spoken(i, k int) []string {
	forms := z.words
	if k > 1 {
		forms = nil
		for _, words := range z.words {
			forms = append(forms, fmt.Sprintf("part %d of %d: %s", i+1, k, words))
		}
		if z.answer != "" {
			forms = append(forms, z.lastPart(k)...)
		}
		if i < k-1 {
			name := ""
			if z.moves != "" {
				name = z.moves + ": "
			}
			for _, said := range []string{z.where, z.aside} {
				if i == 0 && said != "" {
					name += said + "; "
				}
			}
			forms = []string{fmt.Sprintf("%sfirst this (part %d of %d); Enter shows what comes then", name, i+1, k)}
			for _, words := range partWords(i, k) {
				forms = append(forms, name+words)
			}
		}
	}
	words := first(z.w, forms)
	rows := wrap(words, z.w, 2)
	if z.small {
		return rows[:min(len(rows), max(1, z.most-len(z.said)-4))]
	}
	return rows[:min(len(rows), 3)]
}

// partWords say which piece of k this is, before the last, in ever shorter forms.
func partWords(i, k int) []string {
	part := fmt.Sprintf("part %d of %d; Enter", i+1, k)
	return []string{part + " shows what comes then", part + ": the next", part}
}

// lastPart is what answers the action, behind the last of k pieces.
func (z *zone) lastPart(k int) []string {
	count := fmt.Sprintf("%d of %d: %s", k, k, z.answer)
	return []string{"part " + count, count}
}

// written tells the action in letters of the usual size: all parts where there are rows for them, else one after the other.
func (z *zone) written() Bottom {
	var all [][]string
	rows := 0
	for i, p := range z.parts {
		text := p.alone[0]
		if len(z.parts) > 1 {
			text = fmt.Sprintf("%d  %s", i+1, text)
		} else {
			text = first(z.w, p.alone)
		}
		all = append(all, wrapped(z.theme.Big, text, z.w))
		rows += len(all[i])
	}
	free := max(1, z.most-len(z.said))
	pieces, shown := 1, slices.Concat(all...)
	if rows > free && len(all) > 1 {
		pieces, shown = len(all), all[min(z.piece, len(all)-1)]
	}
	shown = shown[:min(len(shown), free)]
	if left := free - len(shown); z.small && z.aside != "" && left > 1 {
		shown = append(shown, Clip(z.theme, z.aside, z.w))
	}
	if left := free - len(shown); left > 0 {
		shown = append(told(z.theme, z.theme.Text, first(z.w, z.words), z.w, left), shown...)
	}
	return Bottom{Pieces: pieces, rows: append(shown, z.said...)}
}

// dealt tells in letters of the usual size what the work zone has no room for, in as many pieces as it takes.
func (z *zone) dealt() Bottom {
	free := max(1, z.most-len(z.said)-1)
	k := (len(z.tell) + free - 1) / free
	i := min(z.piece, k-1)
	head := first(z.w, []string{z.title + ": " + z.answer, z.answer})
	if k > 1 {
		forms := z.lastPart(k)
		if i < k-1 {
			forms = partWords(i, k)
		}
		head = first(z.w, append([]string{z.title + ", " + forms[0]}, forms...))
	}
	rows := append([]string{Clip(z.theme, head, z.w)}, z.tell[i*free:min((i+1)*free, len(z.tell))]...)
	return Bottom{Pieces: k, rows: append(rows, z.said...)}
}

// statusLines are the last thing said, broken between words: nothing of it is cut where there are rows for it, at most as many
// as are given.
func statusLines(v *View, w, most int) []string {
	t := v.Theme
	if v.Note != "" {
		return []string{Clip(t, v.Note, w)}
	}
	said, style := v.text(v.Status), t.Dim
	switch {
	case v.Status == "" && v.Prompt.Reading.Again && !v.Page && !v.Lost:
		return wrap(first(w, doubtKeys(v)), w, 2)[:1]
	case v.Status == "":
		return []string{""}
	case v.Alarm:
		said, style = t.Glyphs.Cross+" "+said, t.Bad
	}
	return told(t, style, said, w, most)
}

// told breaks a text between words into at most so many rows; the last says by an ellipsis that there is more.
func told(t theme.Theme, style lipgloss.Style, said string, w, most int) []string {
	out := wrap(said, w, 2)
	if len(out) > most {
		out = out[:most]
		last := out[most-1]
		for i := strings.LastIndex(last, " "); i > 1 && ansi.StringWidth(last+t.Glyphs.Ellipsis) > w; i = strings.LastIndex(last, " ") {
			last = last[:i] // half a figure would be worse than none
		}
		out[most-1] = last + t.Glyphs.Ellipsis
	}
	for i, l := range out {
		out[i] = style.Render(Clip(t, l, w))
	}
	return out
}
