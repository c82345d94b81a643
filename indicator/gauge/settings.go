package gauge

import (
	"errors"

	"example.org/trammel/geom"
)

// Settings are what is stated of an indicator with a cable.
type Settings struct {
	Source  string // where it is found; empty where only the command line says
	Serial  Serial
	Pattern string // empty for [FirstNumber]
	Mode    Mode
	// Stable is how many samples have to stand still, and Within the range that they may take, millimetres.
	Stable int
	Within float64
	// Unit is what its figures are in; nil where that is what a line says, else the job's.
	Unit *geom.Unit
	// Pressed is what its figures do as the plunger is pressed.
	Pressed Pressed
	// Preset is the figure that it shows where the dial's zero is, millimetres: an indicator may add one to all that it sends.
	Preset float64
	// DialFalls says that the figures of the job's dial fall as the tip is pressed. It is no key of a machine's.
	DialFalls bool
	// Most is how far from zero the job's dial can show at all, wherever its zero is set, millimetres: its whole range; 0 where nobody
	// knows. It is no key of a machine's.
	Most float64
	// Division is one of the job's dial, millimetres; 0 where nobody knows. It is no key of a machine's.
	Division float64
}

// OpenedBy is what a line is opened by: where that is another, it has to be opened anew.
type OpenedBy struct {
	Source string
	Serial Serial
}

// Line is what the indicator's line is opened by.
func (s *Settings) Line() OpenedBy { return OpenedBy{s.Source, s.Serial} }

// Serial is how a serial line is set.
type Serial struct {
	Baud, Bits int
	Parity     Parity
	Stop       float64 // 1, 1.5 or 2 bits
}

// Usual are the settings of an indicator of which nothing is stated (common practice, no source: 9600 baud, 8 bits, no parity, 1
// stop bit). Half of the range is the graduation that most lever indicators have, which is half a division either way.
func Usual() Settings {
	return Settings{Serial: Serial{Baud: 9600, Bits: 8, Stop: 1}, Stable: 10, Within: 0.01}
}

// Mode is how an indicator sends.
type Mode uint8

// It sends all the time, or what it shows as its button is pressed.
const (
	Stream Mode = iota
	Button
)

var modeWords = [...]string{Stream: "stream", Button: "button"}

func (m Mode) String() string { return modeWords[m] }

// UnmarshalText reads stream or button.
func (m *Mode) UnmarshalText(b []byte) error { return word(modeWords[:], b, m) }

// Pressed is what an indicator's figures do as its plunger is pressed.
type Pressed uint8

// They do what the job says of its dial, or what is stated here.
const (
	AsDial Pressed = iota
	Grows
	Falls
)

var pressedWords = [...]string{AsDial: "as the dial", Grows: "grows", Falls: "falls"}

func (p Pressed) String() string { return pressedWords[p] }

// UnmarshalText reads grows or falls.
func (p *Pressed) UnmarshalText(b []byte) error {
	if string(b) == AsDial.String() {
		return errors.New("no such word")
	}
	return word(pressedWords[:], b, p)
}

// reading is the reading, in the dial's sign, of a figure that was sent; millimetres.
func (s *Settings) reading(sent float64) float64 {
	v := sent - s.Preset
	if s.Pressed != AsDial && (s.Pressed == Falls) != s.DialFalls {
		v = 0 - v // never the negative zero
	}
	return v
}

// Parity is the check bit of a serial line.
type Parity uint8

// The kinds of check bit.
const (
	None Parity = iota
	Odd
	Even
	Mark
	Space
)

var parityWords = [...]string{None: "none", Odd: "odd", Even: "even", Mark: "mark", Space: "space"}

func (p Parity) String() string { return parityWords[p] }

// UnmarshalText reads none, odd, even, mark or space.
func (p *Parity) UnmarshalText(b []byte) error { return word(parityWords[:], b, p) }

func word[T ~uint8](words []string, b []byte, into *T) error {
	for i, w := range words {
		if w == string(b) {
			*into = T(i)
			return nil
		}
	}
	return errors.New("no such word")
}
