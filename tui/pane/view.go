// Package pane draws the zones of the screen: pure functions from what is to be seen and a size
// in cells to text that never exceeds it.
//
// # The bottom zone
//
// What is to be done now is an action of one or more deeds, in the order of the hand: where to park, each way to turn with the
// figure at its end (action.go, winding.go, reading.go). [Next] lays it out for a window and tells how many rows that takes; the
// work zone gets the rest. All deeds stand below one another in letters of one size where that is as large as the window
// deserves; else they come in as few pieces as do, and the root shows the next at Enter, so that only the last one's Enter
// confirms. A movement is never left out: where no large letters fit, all are written small. What was said last wraps, and
// takes its rows from the work zone.
package pane

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui/theme"
)

// View is everything a pane may show.
type View struct {
	Theme  theme.Theme
	State  session.State
	Prompt session.Prompt
	// Found is the fit of the present sweep; Fitted says that there is one, and FitErr why not.
	Found  indicator.Estimate
	Fitted bool
	FitErr error
	// Form is what is known of the reference's form, FormErr why nothing is.
	Form    session.Form
	FormErr error
	// Entry is what has been typed, Status the last thing said, Alarm that it is a complaint.
	Entry  string
	Status string
	Alarm  bool
	// Note is the field that a text is being typed into, else empty; Asked what it asks, Typed what stands in it.
	Note, Asked, Typed string
	// Lost says that an entry could not be put on record, so that nothing more is taken.
	Lost bool
	// Page says that a page lies over the work zones.
	Page bool
	// OnEnter is what Enter does on that page; empty where it goes on.
	OnEnter string
	// Listing says that the page is the list of what can be done, Listed the number that was typed on it.
	Listing bool
	Listed  string
	// Piece is which piece of an action that is told in several is wanted, from 0.
	Piece int
	// End is the page of what was reached.
	End End
	// Bearings says by which figures places are told.
	Bearings session.Bearings
	// Cabled says that there is a cable indicator, and Moment what it shows.
	Cabled bool
	Moment gauge.Moment
	// Beside says that its needle is drawn beside the work, and not told below it.
	Beside bool
	// Watch is how far the wind in hand has come by that; nil where none goes by it.
	Watch *gauge.Approach
	// Practice: which simulated machine, and what its needle shows.
	Practice bool
	Seed     uint64
	Needle   float64
	NeedleOn bool
}

func (v *View) job() *setup.Job { return &v.State.Set.Job }

func (v *View) unit() geom.Unit { return v.State.Set.Job.Unit }

// Num replaces the hyphen of a negative number by the typographic minus.
func (v *View) Num(s string) string { return strings.ReplaceAll(s, "-", v.Theme.Glyphs.Minus) }

// text makes what others have written fit for the screen: the theme's signs, and nothing that
// could drive a terminal.
func (v *View) text(s string) string {
	g := v.Theme.Glyphs
	if v.Theme.Plain {
		s = strings.NewReplacer("°", g.Degree, "±", g.PlusMinus, "−", g.Minus, "…", g.Ellipsis).Replace(s)
	}
	return printable(s)
}

// Plain makes a text of the program fit for the screen.
func (v *View) Plain(s string) string { return v.text(s) }

// printable takes everything out of a text that could drive a terminal; the stand-in is one cell wide everywhere.
func printable(s string) string { return geom.Printable(s, '?') }

// length prints a plain length of the job in its unit, to the micrometre or a ten-thousandth.
func (v *View) length(mm float64) string {
	return v.Num(geom.FormatFixed(v.unit().From(mm), geom.Places(0, v.unit())))
}

// SlideName is how the screen calls a slide: X and Y as on the machine.
func SlideName(name string) string {
	return printable(lines.SlideName(name)) // a journal may hold any
}

// measured prints a measured length with its uncertainty and unit.
func (v *View) measured(x indicator.Value) string {
	if !x.Known() {
		return "not known"
	}
	return v.bare(x) + " " + v.unit().String()
}

// bare is measured without the unit.
func (v *View) bare(x indicator.Value) string {
	val, unc := record.Format(v.unit(), x)
	if unc == "" {
		unc = "?"
	}
	return v.Num(val) + " " + v.Theme.Glyphs.PlusMinus + unc
}

// degrees prints an angle.
func (v *View) degrees(deg float64) string {
	s := geom.FormatFixed(deg, 2)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	return v.Num(s) + v.Theme.Glyphs.Degree
}

// verdict prints a verdict as sign and word.
func (v *View) verdict(x indicator.Verdict) string {
	t := v.Theme
	switch x {
	case indicator.Inside:
		return t.Good.Render(t.Glyphs.Tick + " inside")
	case indicator.Outside:
		return t.Bad.Render(t.Glyphs.Cross + " outside")
	case indicator.Undecided:
		return t.Doubt.Render(t.Glyphs.Query + " undecided")
	case indicator.NoVerdict:
	}
	return ""
}

// Clip cuts a line to w cells, saying so with an ellipsis.
func Clip(t theme.Theme, s string, w int) string {
	if w <= 0 {
		return ""
	}
	if ansi.StringWidth(s) <= w {
		return s
	}
	return ansi.Truncate(s, w, t.Glyphs.Ellipsis)
}

// wrap breaks a text between words into lines of at most w cells; lines after the first are set
// in by as many spaces. A word longer than a line is broken where the line ends.
func wrap(s string, w, in int) []string {
	var out []string
	line, wide := "", 0
	for i, word := range strings.Split(s, " ") {
		n := ansi.StringWidth(word)
		switch {
		case i == 0:
			line, wide = word, n
		case wide+1+n <= w:
			line, wide = line+" "+word, wide+1+n
		default:
			out = append(out, line)
			line, wide = strings.Repeat(" ", in)+word, in+n
		}
		for w > in && wide > w {
			head := ansi.Truncate(line, w, "")
			if len(head) <= in { // not even one sign fits
				break
			}
			out, line = append(out, head), strings.Repeat(" ", in)+line[len(head):]
			wide = ansi.StringWidth(line)
		}
	}
	return append(out, line)
}

// first returns the first text that fits into w cells, or the last.
func first(w int, texts []string) string {
	for _, s := range texts {
		if ansi.StringWidth(s) <= w {
			return s
		}
	}
	return texts[len(texts)-1]
}

// Box fits a text into exactly w × h cells: lines are cut or padded.
func Box(t theme.Theme, s string, w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	lines := strings.Split(s, "\n")
	out := make([]string, h)
	for i := range out {
		l := ""
		if i < len(lines) {
			l = Clip(t, lines[i], w)
		}
		out[i] = l + strings.Repeat(" ", max(0, w-ansi.StringWidth(l)))
	}
	return strings.Join(out, "\n")
}

// Rule draws the line between two zones.
func Rule(t theme.Theme, w int) string {
	g := t.Glyphs.Rule
	return t.Rule.Render(strings.Repeat(g, max(0, w)/ansi.StringWidth(g)))
}

// Framed is how many rows of a window are neither the work zone nor the bottom zone: the aim, two rules, the keys.
const Framed = 4

// Frame puts the zones of a window of w cells below one another: the aim, the work or a page over it, the bottom zone, the keys.
func Frame(t theme.Theme, w int, aim, body, bottom, keys string) string {
	return strings.Join([]string{Box(t, aim, w, 1), Rule(t, w), body, Rule(t, w), bottom, keys}, "\n")
}

// Beside puts panes of the same height beside one another.
func Beside(panes ...string) string {
	rows := strings.Split(panes[0], "\n")
	for _, p := range panes[1:] {
		for i, l := range strings.Split(p, "\n") {
			rows[i] += l
		}
	}
	return strings.Join(rows, "\n")
}

// pad fills a cell of a table, to the left or to the right.
func pad(s string, w int, right bool) string {
	gap := strings.Repeat(" ", max(0, w-lipgloss.Width(s)))
	if right {
		return gap + s
	}
	return s + gap
}
