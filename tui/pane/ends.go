package pane

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// End is what the page of an accepted setting, or of a finished session, is told by who opened the screen.
type End struct {
	// Leaf is which leaf of it is shown, from 0.
	Leaf int
	// Journal is the journal's name as it is typed into a shell; empty where nothing is kept.
	Journal string
	// Plan says that the screen was opened from a plan, and goes back to it.
	Plan bool
}

// endsText is how wide the text is at least that a picture stands beside.
const endsText = 64

// Ends is the page of what was reached and what can be done next: nothing on it is cut; what one page cannot hold stands on
// the next leaf.
func Ends(v *View, w, h int) string {
	if left := max(endsText, w/2); v.State.Sweep.N > 0 && w-left >= endsText/2 {
		if text, ok := endsWhole(v, left-1, h); ok {
			return beside(Box(v.Theme, strings.Join(text, "\n"), left, h), Picture(v, w-left, h))
		}
	}
	if text, ok := endsWhole(v, w, h); ok {
		return Box(v.Theme, strings.Join(text, "\n"), w, h)
	}
	leaves := endsLeaves(endsBlocks(v, w, endsCommands(v)), h)
	n := min(v.End.Leaf, len(leaves)-1)
	text := leaves[n]
	if h > 1 {
		for len(text) < h-1 {
			text = append(text, "")
		}
		text = append(text, v.Theme.Dim.Render(first(w, []string{fmt.Sprintf("page %d of %d", n+1, len(leaves)),
			fmt.Sprintf("%d of %d", n+1, len(leaves))})))
	}
	return Box(v.Theme, strings.Join(text, "\n"), w, h)
}

// EndsLeaves is how many leaves the page takes.
func EndsLeaves(v *View, w, h int) int {
	if _, ok := endsWhole(v, w, h); ok {
		return 1
	}
	return len(endsLeaves(endsBlocks(v, w, endsCommands(v)), h))
}

// endsWhole is the page where one leaf holds it: each command with the journal's name, or else the name once.
func endsWhole(v *View, w, h int) (text []string, ok bool) {
	for _, commands := range [][]string{endsCommands(v), endsCommandsShort(v)} {
		if text = spaced(endsBlocks(v, w, commands), h); len(text) <= h {
			return append(text, endsMore(v, w, h-len(text))...), true
		}
	}
	return nil, false
}

// endsLeaves deals blocks out to leaves of h rows, the last of which counts them. A block stands on one leaf where it can.
func endsLeaves(blocks [][]string, h int) (leaves [][]string) {
	rows := max(1, h-1)
	var leaf []string
	for _, b := range blocks {
		if len(leaf) > 0 && len(leaf)+len(b) > rows && len(b) <= rows {
			leaves, leaf = append(leaves, leaf), nil
		}
		for _, l := range b {
			if len(leaf) == rows {
				leaves, leaf = append(leaves, leaf), nil
			}
			leaf = append(leaf, l)
		}
	}
	return append(leaves, leaf)
}

// endsBlocks are the parts of the page that must be read, each broken into rows of at most w cells; an empty one stands where
// a gap may be.
func endsBlocks(v *View, w int, commands []string) (out [][]string) {
	t := v.Theme
	say := func(style lipgloss.Style, words string) {
		if words != "" {
			out = append(out, rows(style, v.text(words), w))
		}
	}
	say(t.Strong, endsTitle(v))
	out = append(out, endsReached(v, w)...)
	if v.Fitted {
		for _, said := range v.leans().Sentences(v.State.Verdicts(&v.Found), v.unit()) {
			say(t.Doubt, v.Num(said))
		}
	}
	say(t.Text, v.Num(lines.CutWords(&v.State, v.unit())))
	out = append(out, nil)
	if v.State.Phase == session.Ended && len(v.State.Worked) == 0 {
		say(t.Text, "before the cut: spindle off and isolated; indicator out, cutter in, spindle free again; work and "+
			v.State.SetUp().Swung+" clamped; one "+lines.DryWords(&v.State)+" through the whole arc. The machine's manual, local rules "+
			"and trained supervision go first")
		out = append(out, nil)
	}
	say(t.Text, endsKeys(v))
	out = append(out, nil)
	for _, c := range commands {
		say(t.Text, c)
	}
	return out
}

// endsTitle says that it is over, and where.
func endsTitle(v *View) string {
	t := fmt.Sprintf("accepted in trial %d", v.State.Trial)
	if v.State.Phase == session.Ended && len(v.State.Worked) > 0 {
		t = "the job is done; " + t
	}
	if v.Practice {
		t = fmt.Sprintf("practice machine %d: %s", v.Seed, t)
	}
	return t
}

// endsReached are the figures that were reached, with their verdicts.
func endsReached(v *View, w int) (out [][]string) {
	t := v.Theme
	if !v.Fitted {
		return nil
	}
	f := &v.Found
	if v.pair() {
		return endsTouched(v, w)
	}
	verdicts := v.State.Verdicts(f)
	radius, centre := v.leans().VerdictWords(verdicts, v.unit())
	if r, ok := v.State.Swing(f); ok {
		out = append(out, strung(w, "swing radius", t.Strong.Render(v.measured(r)), v.conditional(verdicts.Radius, radius)))
	}
	e := f.Offset()
	way := ""
	if !(e.V <= e.U) { // what may be nothing points nowhere
		way = t.Glyphs.Arrow + v.towards(f.Circle.Centre.Bearing())
	}
	return append(out, strung(w, "centre off", t.Strong.Render(v.measured(e)), v.conditional(verdicts.Centre, centre), way))
}

// endsTouched are the figures of a circle that was touched by readouts.
func endsTouched(v *View, w int) (out [][]string) {
	t, err := v.State.Located()
	if err != nil {
		return nil
	}
	g, strong := v.Theme.Glyphs, v.Theme.Strong
	out = append(out, strung(w, "centre at", strong.Render("X "+v.coordinate(t.Centre.X)+" "+g.PlusMinus+v.doubt(t.CentreX().U)),
		strong.Render("Y "+v.coordinate(t.Centre.Y)+" "+g.PlusMinus+v.doubt(t.CentreY().U)+" "+v.unit().String())),
		strung(w, "radius", v.measured(t.Radius())))
	if f, ok := v.State.Standing(&t.Found); ok {
		out = append(out, strung(w, "spindle off", strong.Render(v.measured(f.Offset())), v.verdict(v.State.Verdicts(&f).Centre)))
	}
	return out
}

// endsKeys say what the keys do now.
func endsKeys(v *View) (t string) {
	switch steps, _ := v.State.Chores(); {
	case v.State.Phase == session.Cutting:
		t = fmt.Sprintf("Enter goes on to the steps up to the checked arc, %d of them", len(steps))
	case v.End.Plan:
		t = "Enter leads back to the plan, for the next arc"
	default:
		t = "Enter leaves"
	}
	if back := lines.UndoWords(&v.State, v.unit()); back != "" {
		t += "; / takes back " + v.Num(back)
	}
	return t
}

// endsCommands say where the journal is, and what is made of it, each with the journal's own name.
func endsCommands(v *View) (out []string) {
	j := v.End.Journal
	switch {
	case v.Practice:
		return []string{"this was practice: no journal is kept, and no metal was cut"}
	case j == "":
		return nil
	}
	out = append(out, "journal "+j)
	if v.State.Phase == session.Cutting {
		out = append(out, "q leaves; the steps go on with trammel dial --resume --journal "+j)
	}
	out = append(out, "report: trammel report "+j, "replay: trammel replay "+j)
	if next := endsNext(v); next != "" {
		out = append(out, "next setting, in the same journal: "+next+" "+j)
	}
	return out
}

// endsCommandsShort say the same with the journal's name once.
func endsCommandsShort(v *View) []string {
	if v.End.Journal == "" {
		return endsCommands(v)
	}
	out := "with that name behind them: trammel report; trammel replay"
	if v.State.Phase == session.Cutting {
		out += "; trammel dial --resume --journal goes on with the steps once q has left them"
	}
	if next := endsNext(v); next != "" {
		out += "; the next setting by " + next
	}
	return []string{"journal " + v.End.Journal, out}
}

// endsNext is the command for the next setting, without the journal's name; empty where it is not due, or a plan leads to it.
func endsNext(v *View) string {
	switch {
	case v.State.Phase != session.Ended || v.End.Plan:
		return ""
	case v.State.Set.Arc != nil:
		return "trammel dial --job FILE --machine FILE --drawing FILE --journal"
	}
	return "trammel dial --job FILE --machine FILE --journal"
}

// endsMore is what else there is to see where there is room for it whole: where the centre lies, and the trials.
func endsMore(v *View, w, room int) (out []string) {
	if v.Fitted && !v.pair() {
		x := strung(w, "centre", "X "+v.bare(v.Found.CentreX()), "Y "+v.bare(v.Found.CentreY())+" "+v.unit().String())
		if len(x)+1 <= room {
			out = append(append(out, ""), x...)
		}
	}
	trials := trialLines(v, w)
	if len(out)+1+len(trials) <= room {
		out = append(append(out, ""), trials...)
	}
	return out
}

// spaced are all rows of some blocks, with gaps where h has room for those too.
func spaced(blocks [][]string, h int) (out []string) {
	gaps, rows := 0, 0
	for _, b := range blocks {
		if rows += len(b); b == nil {
			gaps++
		}
	}
	for _, b := range blocks {
		if out = append(out, b...); b == nil && rows+gaps <= h {
			out = append(out, "")
		}
	}
	return out
}

// strung puts pieces side by side, and breaks between them only: a figure stays with its unit. Empty pieces are left out.
func strung(w int, pieces ...string) (out []string) {
	line := ""
	for _, p := range pieces {
		switch {
		case p == "":
		case line == "":
			line = p
		case ansi.StringWidth(line)+1+ansi.StringWidth(p) <= w:
			line += " " + p
		default:
			out, line = append(out, line), "  "+p
		}
	}
	return append(out, line)
}

// figured is a figure with its unit, which stand in one row; held is the space between the two, while rows are broken.
var figured = regexp.MustCompile(`(\d) (mm|in)\b`)

const held = "\u00a0"

// rows breaks a text between words like [wrap], and a word that is longer than a row within it: a path behind a folder.
func rows(style lipgloss.Style, s string, w int) (out []string) {
	for _, l := range wrap(figured.ReplaceAllString(s, "$1"+held+"$2"), w, 2) {
		l = strings.ReplaceAll(l, held, " ")
		for ansi.StringWidth(l) > w && w > 0 {
			head := ansi.Truncate(l, w, "")
			if head == "" {
				break
			}
			if folder := strings.LastIndex(head, "/") + 1; folder > len(head)/3 {
				head = head[:folder]
			}
			out, l = append(out, style.Render(head)), strings.TrimPrefix(l, head)
		}
		out = append(out, style.Render(l))
	}
	return out
}

// beside puts two panes of the same height beside one another.
func beside(left, right string) string {
	a, b := strings.Split(left, "\n"), strings.Split(right, "\n")
	for i := range a {
		a[i] += b[i]
	}
	return strings.Join(a, "\n")
}
