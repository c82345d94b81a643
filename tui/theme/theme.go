// Package theme holds the styles and the signs of the screen.
//
// Nothing here asks the terminal anything: no colour depends on the background, and no meaning
// rests on colour alone, so that the screen is right on an unknown background, with NO_COLOR set,
// and for an eye that does not tell red from green. Wherever a colour speaks, a word or a sign
// of [Glyphs] says the same.
//
// The package has a second duty, which is why it imports lipgloss and nothing else: see init.
package theme

import "github.com/charmbracelet/lipgloss"

// init settles the question of the background before anybody asks the terminal. The init
// function of bubbletea calls lipgloss.HasDarkBackground, which writes a query to the terminal
// and waits up to five seconds for an answer, even for a verb that draws nothing; an explicit
// value skips it. Go initialises packages that are ready in the order of their import paths
// (language specification, "Program initialization"), and this path sorts before
// github.com/charmbracelet/bubbletea. It must therefore never import anything that lipgloss
// does not: it would have to wait for it. The value itself is used by nothing, since no
// adaptive colour exists here.
func init() { lipgloss.SetHasDarkBackground(true) }

// Theme is the set of styles and signs that every pane draws with. It is built once, by [New],
// and passed by value; building styles while drawing is what makes drawing slow.
type Theme struct {
	Text   lipgloss.Style // what is read: the terminal's own colour
	Dim    lipgloss.Style // what is there but need not be read
	Strong lipgloss.Style // a figure that matters
	Good   lipgloss.Style // inside the tolerance; beside it stands Glyphs.Tick or the word
	Bad    lipgloss.Style // outside, refused, not recorded; beside it stands Glyphs.Cross or the word
	Doubt  lipgloss.Style // undecided, suspected; beside it stands Glyphs.Query or the word
	Now    lipgloss.Style // the present row; before it stands Glyphs.RightMark
	Rule   lipgloss.Style // the lines between the zones
	Key    lipgloss.Style // the name of a key
	Big    lipgloss.Style // the large figure of the action line

	Glyphs Glyphs
	Plain  bool // --plain: pictures and signs in ASCII
}

// Colours in the three depths a terminal may have. The first two are of middle luminance, so
// that they read on black and on white alike; the third is the terminal's own palette.
var (
	grey  = lipgloss.CompleteColor{TrueColor: "#767676", ANSI256: "243", ANSI: ""}
	green = lipgloss.CompleteColor{TrueColor: "#1c855f", ANSI256: "29", ANSI: "2"}
	red   = lipgloss.CompleteColor{TrueColor: "#d23f53", ANSI256: "161", ANSI: "1"}
	amber = lipgloss.CompleteColor{TrueColor: "#a5680d", ANSI256: "130", ANSI: "3"}
	blue  = lipgloss.CompleteColor{TrueColor: "#1d7ea2", ANSI256: "31", ANSI: "6"}
)

// New builds the styles for one output. The renderer carries that output's colour depth; with
// the Ascii profile every style leaves its text as it is. A nil renderer stands for lipgloss's
// default one. plain chooses the ASCII signs; it does not take colours away, since a console
// without the letters may well have the colours.
func New(r *lipgloss.Renderer, plain bool) Theme {
	if r == nil {
		r = lipgloss.DefaultRenderer()
	}
	s := r.NewStyle()
	t := Theme{
		Text:   s,
		Dim:    s.Foreground(grey),
		Strong: s.Bold(true),
		Good:   s.Foreground(green),
		Bad:    s.Foreground(red).Bold(true),
		Doubt:  s.Foreground(amber),
		Now:    s.Foreground(blue).Bold(true),
		Rule:   s.Foreground(grey),
		Key:    s.Bold(true),
		Big:    s.Bold(true),
		Glyphs: drawn,
		Plain:  plain,
	}
	if plain {
		t.Glyphs = ascii
	}
	return t
}
