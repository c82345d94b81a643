// Package indicator says what a dial indicator's reading means in length: the dial, the round
// reference it is swept over, the reach of its tip, and the setup that joins them.
package indicator

import "fmt"

// Touch says from which side the tip meets the reference.
type Touch uint8

const (
	// Bore: the tip stands inside a ring or bore; a larger reading means the surface is nearer.
	Bore Touch = iota
	// Boss: the tip stands outside a plug or boss; a larger reading means it is farther away.
	Boss
)

// sign is what a larger reading does to the surface's distance from the axis.
func (t Touch) sign() float64 {
	if t == Boss {
		return 1
	}
	return -1
}

// String is the word that files use.
func (t Touch) String() string {
	if t == Boss {
		return "boss"
	}
	return "bore"
}

// MarshalText writes the word.
func (t Touch) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads "bore" or "boss".
func (t *Touch) UnmarshalText(b []byte) error {
	switch string(b) {
	case "bore":
		*t = Bore
	case "boss":
		*t = Boss
	default:
		return fmt.Errorf("touch %q, need bore or boss", b)
	}
	return nil
}

// Kind is the way a sweep is made.
type Kind uint8

const (
	// Carried: the indicator rides round a fixed reference.
	Carried Kind = iota
	// Turned: the indicator stands still and the table turns.
	Turned
	// Points: coordinates are read from a readout.
	Points
)

// Turns reports whether the reference stands on a table that is turned under the indicator.
func (k Kind) Turns() bool { return k == Turned }

// Pair reports whether the reference is touched, and a station has the two coordinates of that and no reading.
func (k Kind) Pair() bool { return k == Points }

var kindWords = [...]string{"carried", "turned", "points"}

// String is the word that files use.
func (k Kind) String() string { return kindWords[k] }

// MarshalText writes the word.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads one of the words.
func (k *Kind) UnmarshalText(b []byte) error {
	for i, w := range kindWords {
		if w == string(b) {
			*k = Kind(i)
			return nil
		}
	}
	return fmt.Errorf("kind %q, need carried, turned or points", b)
}
