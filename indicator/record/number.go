// Package record is what the verbs say of fits, plans, blends, finished arcs, reaches, sessions and machines: one
// object each, as JSON for a program and as text for a person. Units are applied here, and every number's form is
// decided here: rounded in JSON, printed to the places that its uncertainty allows.
package record

import (
	"math"
	"strconv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// Number is a length in the unit of the object it stands in, or an angle in degrees. NaN is
// written as null: a number that cannot be known.
type Number float64

// Unknown reports whether the number cannot be known.
func (n Number) Unknown() bool { return math.IsNaN(float64(n)) }

// smallest is the step that numbers are written in.
const smallest = 1e-12

// MarshalJSON rounds to 1e-12, so that unit conversion leaves no tail of digits.
func (n Number) MarshalJSON() ([]byte, error) { return n.appendJSON(nil), nil }

// Many numbers are written as each of them is, in one piece: there may be a million.
type Many []Number

// MarshalJSON writes an array, and none as null.
func (all Many) MarshalJSON() ([]byte, error) {
	if all == nil {
		return []byte("null"), nil
	}
	b := append(make([]byte, 0, len("[-0.001234567891,]")*(len(all)+1)), '[')
	for i, n := range all {
		if i > 0 {
			b = append(b, ',')
		}
		b = n.appendJSON(b)
	}
	return append(b, ']'), nil
}

// appendJSON writes a number as encoding/json does a float64, and NaN as null.
func (n Number) appendJSON(b []byte) []byte {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, "null"...)
	}
	if math.Abs(v) < 1<<13 { // beyond, a float64 is coarser than 1e-12
		v = math.Round(v*1e12) / 1e12
	}
	if v == 0 {
		v = 0 // never a negative zero
	}
	if abs := math.Abs(v); v == 0 || abs >= 1e-6 && abs < 1e21 {
		return strconv.AppendFloat(b, v, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, v, 'e', -1, 64)
	if n := len(b); b[n-4] == 'e' && b[n-2] == '0' { // e-09 is e-9 there
		b = append(b[:n-2], b[n-1])
	}
	return b
}

// Value is a number with its expanded uncertainty (95 %).
type Value struct {
	Value Number `json:"value"`
	U95   Number `json:"u95"`
}

// ValueOf returns a measured value in unit u, or nil where it cannot be known.
func ValueOf(u geom.Unit, v indicator.Value) *Value {
	if !v.Known() {
		return nil
	}
	return &Value{Number(u.From(v.V)), Number(u.From(v.U))}
}

// Text prints the value, which is in unit u, to the places that its uncertainty allows: "42.013 ±0.005 mm".
func (v Value) Text(u geom.Unit) string {
	return Measured(u, indicator.Value{V: u.MM(float64(v.Value)), U: u.MM(float64(v.U95))})
}

// Format prints a length (millimetres) with as many places as its uncertainty allows, without
// unit: "42.013" and "0.005"; the second is empty where no uncertainty is known.
func Format(u geom.Unit, v indicator.Value) (value, uncertainty string) {
	places := geom.Places(u.From(v.U), u)
	value = geom.FormatFixed(u.From(v.V), places)
	if v.Sure() {
		uncertainty = geom.FormatFixed(u.From(v.U), places)
	}
	return value, uncertainty
}

// Measured is Format in one piece: "42.013 ±0.005 mm", or "42.013 ±? mm".
func Measured(u geom.Unit, v indicator.Value) string {
	if !v.Known() {
		return "not known"
	}
	val, unc := Format(u, v)
	if unc == "" {
		unc = "?"
	}
	return val + " ±" + unc + " " + u.String()
}

// Reading prints a dial reading (millimetres) to the place it is read to, without unit.
func Reading(d indicator.Dial, u geom.Unit, reading float64) string {
	return geom.FormatFixed(u.From(reading), ReadingPlaces(d, u))
}

// CoordinatePlaces is how many decimals a coordinate has by the readout that shows it: the one that is touched by, or
// the one of the slide that is sent to it.
func CoordinatePlaces(s *session.State, u geom.Unit) int {
	if told := s.Told; told != nil && !s.SetUp().Under().Pair {
		sl, _ := s.Set.Machine.Slide(told.Wind.Slide)
		return ReadingPlaces(indicator.Dial{Graduation: sl.ReadoutStep(), ReadsTo: 1}, u)
	}
	return ReadingPlaces(s.Set.Job.Dial, u)
}

// ReadingPlaces is how many decimals a reading has: enough for the finest step that is read.
func ReadingPlaces(d indicator.Dial, u geom.Unit) int {
	return d.Places(u)
}

// Degrees prints an angle without needless digits: "120°", "37.5°".
func Degrees(deg float64) string {
	return strconv.FormatFloat(math.Round(deg*100)/100, 'f', -1, 64) + "°"
}

// Divisions prints a collar figure to the tenth that a hand can set.
func Divisions(d float64) string { return geom.FormatFixed(d, 1) }

// DryRun is the pass by hand with the power off, where one text serves head and table.
const DryRun = "dry swing (on a table: dry turn)"

// FacingHandle is the eye that every turn of a handwheel is told with; what turns about an upright axis is told from above.
const FacingHandle = "facing the handle"

// WindWords is what the hand does in movement i (from 0) of n that end in the way the slide is brought up: one alone is wound,
// of two the first goes against that way.
func WindWords(i, n int) string {
	switch {
	case n == 1:
		return "wind"
	case i == n-1:
		return "come up"
	}
	return "back off"
}

// HandTurn spells one movement: "clockwise 1 turn 16.6 div".
func HandTurn(m slide.Move) string { return m.Turn.String() + " " + Amount(m) }

// Amount spells how far one movement goes: "1 turn 16.6 div".
func Amount(m slide.Move) string {
	turns, div := m.Turns, geom.FormatFixed(m.Divisions, 1)
	switch turns {
	case 0:
		return div + " div"
	case 1:
		return "1 turn " + div + " div"
	}
	return strconv.Itoa(turns) + " turns " + div + " div"
}

// Degrees360 is a bearing in degrees, from 0 to below 360.
func Degrees360(b geom.Bearing) Number { return Number(b.Degrees360()) }

// RoundTo rounds to places decimals.
func RoundTo(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}

var nan = math.NaN()
