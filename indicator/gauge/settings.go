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
	// Unit is what its figures are in; nil where that is the job's.
	Unit *geom.Unit
}

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
