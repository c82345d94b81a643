package theme

// Glyphs is the one place where signs outside ASCII are chosen. Every field is a string that
// can be printed as it stands.
//
// The drawn set takes one cell a sign in a western locale. Under an East Asian locale many
// terminals give ±, °, ×, the arrows and the lines two cells (Unicode Standard Annex 11, class
// Ambiguous), and the font of a Linux console lacks several of them; --plain takes the ASCII
// set, which is safe everywhere but whose signs may be longer than one cell. Measure, never
// count.
type Glyphs struct {
	PlusMinus string // uncertainty, tolerance
	Degree    string
	Minus     string // sign of a negative number
	Times     string // exaggeration of a picture
	Diameter  string
	Sigma     string
	Micro     string

	RightMark string // before the present row
	Tick      string // inside the tolerance
	Cross     string // outside it
	Query     string // undecided
	Dot       string // between the keys of the last line
	Ellipsis  string // something was cut off
	Arrow     string // leads to

	Rule        string // horizontal line between zones
	Vertical    string
	TopLeft     string // corners of a box
	TopRight    string
	BottomLeft  string
	BottomRight string
	Bar         string // one cell of a bar that fills

	Clockwise     string // seen facing the handle
	Anticlockwise string
	Axis          string // the axis of rotation in a picture
	Centre        string // the centre of the reference in a picture
}

// drawn is the normal set.
var drawn = Glyphs{
	PlusMinus: "±",
	Degree:    "°",
	Minus:     "−",
	Times:     "×",
	Diameter:  "⌀",
	Sigma:     "σ",
	Micro:     "µ",

	RightMark: "▸",
	Tick:      "✓",
	Cross:     "✗",
	Query:     "?",
	Dot:       "·",
	Ellipsis:  "…",
	Arrow:     "→",

	Rule:        "─",
	Vertical:    "│",
	TopLeft:     "╭",
	TopRight:    "╮",
	BottomLeft:  "╰",
	BottomRight: "╯",
	Bar:         "█",

	Clockwise:     "↻",
	Anticlockwise: "↺",
	Axis:          "+",
	Centre:        "⊕",
}

// ascii is the set of --plain.
var ascii = Glyphs{
	PlusMinus: "+-",
	Degree:    "deg",
	Minus:     "-",
	Times:     "x",
	Diameter:  "dia",
	Sigma:     "s",
	Micro:     "u",

	RightMark: ">",
	Tick:      "ok",
	Cross:     "x",
	Query:     "?",
	Dot:       ".",
	Ellipsis:  "...",
	Arrow:     "->",

	Rule:        "-",
	Vertical:    "|",
	TopLeft:     "+",
	TopRight:    "+",
	BottomLeft:  "+",
	BottomRight: "+",
	Bar:         "#",

	Clockwise:     "cw",
	Anticlockwise: "ccw",
	Axis:          "+",
	Centre:        "o",
}
