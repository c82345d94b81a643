package pane

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// End is what the page of an accepted setting, or of a finished session, is told by who opened the screen.
type End struct {
	// Journal is the journal's name as it is typed into a shell; empty where nothing is kept.
	Journal string
	// Plan says that the screen was opened from a plan, and goes back to it.
	Plan bool
}

// endsText is how wide the text is at least that a picture stands beside.
const endsText = 64

// Ends is the page of what was reached and what can be done next; of a later part with how the parts have gone on so far, on a leaf of
// their own where they have no room beside the text or below it.
func Ends(v *View, w, h int) Leaves {
	if left := max(endsText, w/2); w-left >= endsText/2 {
		if beside := endsBeside(v, w-left, h); beside != "" {
			if c, ok := endsWhole(v, left-1, h, false); ok {
				return Leaves{1, func(int) string { return Beside(c.bound(v.Theme, nil, left, h).Draw(0), beside) }}
			}
		}
	}
	if c, ok := endsWhole(v, w, h, v.State.Part > 1); ok {
		return c.bound(v.Theme, nil, w, h)
	}
	blocks := endsBlocks(v, w, endsCommands(v))
	said := fixtureLines(v, w)
	charts := partCharts(v, w, h-1-len(said))
	if len(charts) == 0 {
		charts = partCharts(v, w, h-1) // and the words on a leaf of their own
	}
	blocks = append(blocks, block{rows: styled(nil, charts), apart: len(charts) > 0}, block{rows: styled(nil, said)})
	c := dealt{all: deal(blocks, h-1), abreast: 1}
	return c.bound(v.Theme, turns{"Enter", "next", ""}.foot(v.Theme, w), w, h)
}

// endsBeside is what is drawn beside the text: the parts where there are several, else the sweep. Empty for nothing.
func endsBeside(v *View, w, h int) string {
	parts := Parts(v, w, h)
	switch {
	case len(parts) > 0:
		return Box(v.Theme, strings.Join(parts, "\n"), w, h)
	case v.State.Part > 1 || v.State.Sweep.N == 0:
		return ""
	}
	return Box(v.Theme, Picture(v, w, h), w, h)
}

// endsWhole is the page where one leaf holds it, with how the parts have gone on or without: each command with the journal's name, or
// else the name once.
func endsWhole(v *View, w, h int, parts bool) (c dealt, ok bool) {
	for _, commands := range [][]string{endsCommands(v), endsCommandsShort(v)} {
		all := deal(endsBlocks(v, w, commands), h)
		if len(all) != 1 {
			continue
		}
		rows := all[0]
		if parts {
			drawn := Parts(v, w, h-len(rows)-1)
			if len(drawn) == 0 {
				continue
			}
			rows = append(append(rows, line{}), styled(nil, drawn)...)
		}
		all[0] = append(rows, styled(nil, endsMore(v, w, h-len(rows)))...)
		return dealt{all: all, abreast: 1}, true
	}
	return c, false
}

// endsBlocks are the parts of the page that must be read, each broken into rows of at most w cells.
func endsBlocks(v *View, w int, commands []string) (out []block) {
	t := v.Theme
	say := func(style *lipgloss.Style, words string) {
		if words != "" {
			out = append(out, block{rows: styled(style, wrapFigures(v.text(words), w))})
		}
	}
	part := func(words string) { // with a gap before it
		say(&t.Text, words)
		out[len(out)-1].gap = true
	}
	say(&t.Strong, endsTitle(v))
	for _, rows := range endsReached(v, w) {
		out = append(out, block{rows: styled(nil, rows)})
	}
	if v.Fitted {
		for _, said := range v.leans().Sentences(v.State.Verdicts(&v.Found), v.unit()) {
			say(&t.Doubt, v.Num(said))
		}
	}
	say(&t.Text, v.Num(lines.CutWords(&v.State, v.unit())))
	if v.State.Phase == session.Ended && len(v.State.Worked) == 0 {
		part("before the cut: spindle off and isolated; indicator out, cutter in, spindle free again; work and " +
			v.State.SetUp().Swung + " clamped; one " + lines.DryWords(&v.State) + " through the whole arc. The machine's manual, " +
			"local rules and trained supervision go first")
	}
	part(endsKeys(v))
	for i, c := range commands {
		say(&t.Text, c)
		out[len(out)-1].gap = i == 0
	}
	return out
}

// endsTitle says that it is over, and where.
func endsTitle(v *View) string {
	t := record.AcceptedWords(&v.State)
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
	stands, _ := v.State.Standing(f)
	e := stands.Offset()
	way := ""
	if !(e.V <= e.U) { // what may be nothing points nowhere
		way = t.Glyphs.Arrow + v.towards(stands.Circle.Centre.Bearing())
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
	if inBatch(v) {
		out = append(out, "next part, once this is left: trammel dial --resume --part --journal "+j)
	}
	if next := endsNext(v); next != "" {
		out = append(out, "next setting, in the same journal: "+next+" "+j)
	}
	return out
}

// inBatch reports whether a further part is to be expected on the setting once it is left: one was set already, or the job tells of them.
func inBatch(v *View) bool {
	return v.State.Phase == session.Ended && (v.State.Part > 1 || v.job().Part != nil)
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
	if inBatch(v) {
		out += "; trammel dial --resume --part --journal for the next part"
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

// figured is a figure with its unit; held is the space between the two while rows are broken.
var figured = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(\d) (mm|in)\b`)
})

const held = "\u00a0"

// wrapFigures breaks a text between words like [wrap], and not between a figure and its unit.
func wrapFigures(s string, w int) []string {
	out := wrap(figured().ReplaceAllString(s, "$1"+held+"$2"), w, 2)
	for i := range out {
		out[i] = strings.ReplaceAll(out[i], held, " ")
	}
	return out
}
