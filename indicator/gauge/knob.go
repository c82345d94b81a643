package gauge

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
)

// Knob is one thing that can be set about an indicator while one looks at what comes.
type Knob struct {
	Key   string // of a machine's file, where it is one of these
	Words string
	// values are those commonly found, by what they do to the settings.
	values func(*Trying) []Value
	// now says how it is set.
	now func(*Settings) string
	// other reads a value that is none of these; nil where there is no other.
	other func(t *Trying, text string) (Value, error)
	// figure says that a number is a figure, and none of the list.
	figure bool
	// ofSerial says that it is a serial line's alone.
	ofSerial bool
}

// Value is one that a knob may be set to.
type Value struct {
	Words string
	set   func(*Settings)
}

// Knobs are all of them, the likeliest first.
var Knobs = []Knob{
	{Key: "pattern", Words: "where the figure stands", values: patternValues, other: otherPattern,
		now: func(s *Settings) string { return PatternWords(s.Pattern) }},
	{Key: "pressed", Words: "pressed, its figures", values: pressedValues,
		now: func(s *Settings) string { return pressedAs[s.Pressed] }},
	{Key: "unit", Words: "unit of its figures", values: unitValues, now: unitWords},
	{Key: "mode", Words: "it sends", values: modeValues, now: func(s *Settings) string { return modeAs[s.Mode] }},
	{Key: "preset", Words: "its figure at zero", values: presetValues, other: otherPreset,
		figure: true, now: presetWords},
	{Key: "baud", Words: "baud rate", values: baudValues, other: otherBaud, ofSerial: true,
		now: func(s *Settings) string { return strconv.Itoa(s.Serial.Baud) }},
	{Key: "frame", Words: "bits, parity, stop", values: frameValues, ofSerial: true,
		now: func(s *Settings) string { return frameWords(s.Serial) }},
}

// Now says how a knob is set.
func (k *Knob) Now(t *Trying) string { return k.now(&t.set) }

// Values are those that are commonly found, as things stand now.
func (k *Knob) Values(t *Trying) []Value { return k.values(t) }

// Acts reports whether there is anything to set: a serial line's has none elsewhere.
func (k *Knob) Acts(t *Trying) bool {
	kind, _, _ := ParseSource(t.set.Source)
	return !k.ofSerial || kind == SerialLine
}

// KnobOf is the knob of a key, where there is anything to set; nil for none.
func KnobOf(t *Trying, key string) *Knob {
	for i := range Knobs {
		if k := &Knobs[i]; k.Key == key && k.Acts(t) {
			return k
		}
	}
	return nil
}

// Keys are those that there is anything to set of.
func Keys(t *Trying) (out []string) {
	for i := range Knobs {
		if Knobs[i].Acts(t) {
			out = append(out, Knobs[i].Key)
		}
	}
	return out
}

// KnobError: a knob cannot be set to that.
type KnobError struct{ Key, Seen, Need string }

func (e *KnobError) Error() string { return fmt.Sprintf("%s: %q, need %s", e.Key, e.Seen, e.Need) }

// Value is the one that a text means: its words, a number from 1 in the list of those commonly found, or what else the knob takes. The
// error is a *[KnobError], or a *[PatternError].
func (k *Knob) Value(t *Trying, text string) (Value, error) {
	all := k.values(t)
	i := slices.IndexFunc(all, func(v Value) bool { return strings.EqualFold(v.Words, text) })
	if n, err := strconv.Atoi(text); i < 0 && err == nil && !k.figure && n >= 1 && n <= len(all) {
		i = n - 1
	}
	switch {
	case i >= 0:
		return all[i], nil
	case k.other != nil && text != "":
		return k.other(t, text)
	}
	words := make([]string, len(all))
	for i, v := range all {
		words[i] = fmt.Sprintf("%d %s", i+1, v.Words)
	}
	return Value{}, &KnobError{k.Key, text, "one of " + strings.Join(words, ", ")}
}

// Set is the settings with a knob at a value.
func (t *Trying) Set(v Value) Settings {
	s := t.set
	v.set(&s)
	return s
}

func patternValues(*Trying) (out []Value) {
	for _, u := range UsualPatterns {
		out = append(out, Value{u.Words + ", like " + u.Example, func(s *Settings) { s.Pattern = u.Text }})
	}
	return out
}

func otherPattern(_ *Trying, text string) (Value, error) {
	if _, err := ParsePattern(text); err != nil {
		return Value{}, err
	}
	return Value{text, func(s *Settings) { s.Pattern = text }}, nil
}

var (
	pressedAs = [...]string{AsDial: "go as the job says of its dial", Grows: "grow", Falls: "fall"}
	modeAs    = [...]string{Stream: "all the time", Button: "as its button is pressed"}
)

func pressedValues(*Trying) (out []Value) {
	for p, words := range pressedAs {
		out = append(out, Value{words, func(s *Settings) { s.Pressed = Pressed(p) }})
	}
	return out
}

func modeValues(*Trying) (out []Value) {
	for m, words := range modeAs {
		out = append(out, Value{words, func(s *Settings) { s.Mode = Mode(m) }})
	}
	return out
}

const anyUnit = "as a line says, else the job's"

func unitValues(*Trying) (out []Value) {
	out = []Value{{anyUnit, func(s *Settings) { s.Unit = nil }}}
	for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
		out = append(out, Value{u.String(), func(s *Settings) { s.Unit = &u }})
	}
	return out
}

func unitWords(s *Settings) string {
	if s.Unit == nil {
		return anyUnit
	}
	return s.Unit.String()
}

const noPreset = "0, it adds nothing"

// presetValues are none, and what it shows now.
func presetValues(t *Trying) (out []Value) {
	out = []Value{{noPreset, func(s *Settings) { s.Preset = 0 }}}
	if sent, ok := t.sent(); ok {
		out = append(out, Value{"what it shows now: " + t.Length(sent), func(s *Settings) { s.Preset = sent }})
	}
	return out
}

func presetWords(s *Settings) string {
	if s.Preset == 0 {
		return noPreset
	}
	return lengthWords(s.Preset, s.shown())
}

func otherPreset(t *Trying, text string) (Value, error) {
	if all := presetValues(t); strings.EqualFold(text, "now") && len(all) > 1 {
		return all[1], nil
	}
	v, err := geom.ParseNumber(text)
	if err != nil {
		return Value{}, &KnobError{"preset", text, fmt.Sprintf("a number in %v, the figure that it shows at the dial's zero; "+
			"or now, once it shows one", t.Unit())}
	}
	mm := t.Unit().MM(v)
	return Value{t.Length(mm), func(s *Settings) { s.Preset = mm }}, nil
}

// bauds are the rates commonly found (common practice, no source).
var bauds = []int{9600, 4800, 2400, 1200, 19200, 38400, 57600, 115200}

// MostBaud is beyond any serial line (common practice, no source).
const MostBaud = 4e6

func baudValues(*Trying) (out []Value) {
	for _, b := range bauds {
		out = append(out, baudValue(b))
	}
	return out
}

func baudValue(b int) Value {
	return Value{strconv.Itoa(b), func(s *Settings) { s.Serial.Baud = b }}
}

func otherBaud(_ *Trying, text string) (Value, error) {
	b, err := strconv.Atoi(text)
	if err != nil || b < 1 || b > MostBaud {
		return Value{}, &KnobError{"baud", text, fmt.Sprintf("a whole number from 1 to %.0f", float64(MostBaud))}
	}
	return baudValue(b), nil
}

// frames are those commonly found (common practice, no source).
var frames = []Serial{{Bits: 8, Parity: None, Stop: 1}, {Bits: 7, Parity: Even, Stop: 1}, {Bits: 7, Parity: Even, Stop: 2},
	{Bits: 7, Parity: Odd, Stop: 1}, {Bits: 8, Parity: Even, Stop: 1}, {Bits: 8, Parity: None, Stop: 2}, {Bits: 7, Parity: None, Stop: 2}}

func frameWords(s Serial) string {
	return fmt.Sprintf("%d bits, parity %v, %v stop", s.Bits, s.Parity, s.Stop)
}

func frameValues(*Trying) (out []Value) {
	for _, f := range frames {
		out = append(
			out,
			Value{frameWords(f), func(s *Settings) { s.Serial.Bits, s.Serial.Parity, s.Serial.Stop = f.Bits, f.Parity, f.Stop }},
		)
	}
	return out
}
