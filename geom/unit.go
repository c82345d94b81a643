// Package geom holds the plain geometry that everything else stands on: units of length,
// bearings and points.
//
// Inside the program a length is a float64 in millimetres and an angle a float64 in radians;
// units and degrees exist only where a person or a file is met. Seen from above, X points to
// the right, Y away from the operator, and bearings run counter-clockwise from +X.
package geom

import "fmt"

// MillimetresPerInch is exact by definition (international yard and pound agreement of 1959;
// ISO 80000-3 and NIST SP 811, appendix B).
const MillimetresPerInch = 25.4

// Unit is a unit of length that a person or a file may use.
type Unit uint8

// The zero Unit is the millimetre.
const (
	Millimetre Unit = iota
	Inch
)

// ParseUnit reads "mm" or "in".
func ParseUnit(s string) (Unit, error) {
	switch s {
	case "mm":
		return Millimetre, nil
	case "in":
		return Inch, nil
	}
	return Millimetre, fmt.Errorf("unit %q, need mm or in", s)
}

// String is the unit's symbol, as files and the screen write it.
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// MM returns, in millimetres, a length given in unit u.
func (u Unit) MM(length float64) float64 {
	if u == Inch {
		return length * MillimetresPerInch
	}
	return length
}

// From returns, in unit u, a length given in millimetres.
func (u Unit) From(lengthMM float64) float64 {
	if u == Inch {
		return lengthMM / MillimetresPerInch
	}
	return lengthMM
}

// MarshalText writes the symbol, so that journals and JSON name the unit in words.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText is the inverse of MarshalText.
func (u *Unit) UnmarshalText(b []byte) error {
	v, err := ParseUnit(string(b))
	*u = v
	return err
}
