package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"unicode"

	"example.org/trammel/geom"
	"example.org/trammel/geom/toml"
)

// TextError says what is wrong with our own outline, where, and what is needed.
type TextError struct {
	Line int    // from 1; 0 where no line can be named
	Key  string // such as path 1, step 3, blend; "" for the whole file
	Why  string // value seen, then value needed
	hint string
}

func (e *TextError) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d: ", e.Line)
	}
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	b.WriteString(e.Why)
	return geom.Printable(b.String(), unicode.ReplacementChar)
}

// Hint says what to do; it may be empty.
func (e *TextError) Hint() string { return e.hint }

// TextErrors is all that is wrong with the text, in the order of its lines.
type TextErrors []*TextError

func (e TextErrors) Error() string {
	words := make([]string, len(e))
	for i := range e {
		words[i] = e[i].Error()
	}
	return strings.Join(words, "; ")
}

// Unwrap returns them one by one.
func (e TextErrors) Unwrap() []error {
	out := make([]error, len(e))
	for i := range e {
		out[i] = e[i]
	}
	return out
}

type rawOutline struct {
	Unit   *string
	Layer  string
	Step   *float64
	Spring bool
	Line   []rawLine
	Arc    []rawArc
	Circle []rawArc
	Slot   []rawArc
	Path   []rawPath
}

type rawLine struct {
	Layer    *string
	From, To []float64
	Depth    *float64
}

type rawArc struct {
	Layer    *string
	Centre   []float64
	Radius   *float64
	Metal    *string  // of a circle
	Width    *float64 // of a slot
	From, To *float64 // degrees, counter-clockwise
	Depth    *float64
}

type rawPath struct {
	Layer  *string
	Closed bool
	Metal  *string
	Depth  *float64
	Steps  []rawStep
}

// rawStep is a corner of a path and the way to it from the one before: straight, or an arc by its
// centre, its radius or its bulge.
type rawStep struct {
	At     []float64
	Blend  *float64
	Centre []float64
	Radius *float64
	Turn   *string
	Long   bool
	Bulge  *float64
}

// reading is one text in our own form, and the first thing found wrong with it.
type reading struct {
	lines toml.Lines
	unit  geom.Unit
	layer string
	drawn []piece
	tally
	err *TextError
}

// ReadTOML reads our own outline, for those who have a paper drawing:
//
//	unit = "mm"                       # mm or in
//	layer = "rim"                     # of all that name no other
//	step = 2.0                        # how much deeper each pass goes at the most, where depths are given
//	spring = true                     # and a pass more at the full depth
//
//	[[circle]]                        # centre, radius; metal = "inside" (a boss) or "outside" (a bore)
//	[[arc]]                           # centre, radius, from, to: degrees, counter-clockwise from +X
//	[[line]]                          # from = [x, y], to = [x, y]
//	[[slot]]                          # an arc slot: centre, radius of its centre line, width, from, to
//	[[path]]                          # a run of steps; metal as of a circle, where it is closed
//	closed = true                     # goes straight from the last step to the first, if they differ
//	steps = [
//	  { at = [16, -12], blend = 25 }, # the corner, rounded by a tangent arc of that radius
//	  { at = [48, -20] },             # straight to there
//	  { at = [-20, 48], centre = [0, 0], turn = "left" },   # about a centre: left is counter-clockwise
//	  { at = [16, -12], radius = 30, turn = "right" },      # the short way round, or long = true
//	  { at = [0, 0], bulge = 0.5 },   # the tangent of a quarter of the angle, + to the left
//	]
//
// Each of the tables may give the depth of its cut, depth = 6.0: from the top of the stock to the floor.
//
// A blend lies between straights and arcs alike. Elements whose ends meet are joined as those of a
// drawing are; chords are not taken for arcs.
//
// It returns a *[TextError] with the line of what is wrong, or [TextErrors], a *[UnitError] if neither the text nor opt
// names a unit, and otherwise what [ReadDXF] does.
func ReadTOML(text []byte, opt Options) (Outline, error) {
	if len(text) > MaxBytes {
		return Outline{}, &LimitError{What: "bytes", Most: MaxBytes}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	var raw rawOutline
	if err := decodeTOML(text, &raw); err != nil {
		return Outline{}, err
	}
	r := &reading{lines: toml.LinesOf(text, spelled), layer: raw.Layer}
	switch {
	case raw.Unit != nil:
		u, err := geom.ParseUnit(*raw.Unit)
		if err != nil {
			r.fail("unit", "", "%q, need mm or in", *raw.Unit)
		}
		r.unit = u
	case opt.Unit != nil:
		r.unit = *opt.Unit
		r.tell(Note{Kind: UnitTaken, Text: r.unit.String()})
	default:
		return Outline{}, &UnitError{}
	}
	r.items(&raw)
	out := Outline{Unit: r.unit, Spring: raw.Spring}
	if out.Step = r.depth("", "step", raw.Step); raw.Step != nil {
		out.StepLine = r.lines["step"]
	}
	if r.err != nil {
		return Outline{}, r.err
	}
	opt.Departure = -1
	if err := out.want(r.drawn, opt.Layers); err != nil {
		return Outline{}, err
	}
	if err := out.assemble(r.drawn, opt, &r.tally); err != nil {
		return Outline{}, err
	}
	out.Notes = r.notes
	return out, out.needSome()
}

// decodeTOML reads the text strictly. What is wrong with it is told as a whole: what it draws is not judged then.
func decodeTOML(text []byte, raw *rawOutline) error {
	all, _, _ := toml.Decode(text, raw)
	var wrong TextErrors
	for _, m := range all {
		e := &TextError{Line: m.Line, Key: strings.Join(m.Key, ".")}
		switch {
		case m.Name != "":
			e.Why = fmt.Sprintf("unknown key %q, need %s", m.Key[len(m.Key)-1], m.Name)
			e.hint = "capital and small letters are told apart; keep one of two"
		case m.Unknown:
			e.Why, e.hint = "unknown key", "the tables are line, arc, circle, slot and path"
		case m.Line > 0:
			e.Why = fmt.Sprintf("%.60q is no value that belongs here", m.Seen)
			e.hint = "a number has a decimal point and no unit, a place is [x, y], a text stands in quotes"
		default:
			e.Key, e.Why = "", m.Why
		}
		wrong = append(wrong, e)
	}
	switch len(wrong) {
	case 0:
		return nil
	case 1:
		return wrong[0]
	}
	return wrong
}

// spelled names the tables ("path 2"), the steps in them ("path 2, step 3") and the keys beside them; nothing else has a
// line of its own.
func spelled(path []toml.Part) string {
	switch {
	case len(path) == 1 && path[0].N > 0:
		return fmt.Sprintf("%s %d", path[0].Name, path[0].N)
	case len(path) == 1:
		return path[0].Name
	case len(path) == 3 && path[0].N > 0 && path[2].Entry():
		return fmt.Sprintf("%s %d, step %d", path[0].Name, path[0].N, path[2].N)
	}
	return ""
}

// fail keeps the first mistake. Where a key has no line of its own, that of what it stands in is named.
func (r *reading) fail(key, hint, format string, args ...any) {
	if r.err != nil {
		return
	}
	r.err = &TextError{Line: r.lines.Near(key, ", "), Key: key, Why: fmt.Sprintf(format, args...), hint: hint}
}

// place reads [x, y].
func (r *reading) place(key string, v []float64) geom.Point {
	if len(v) != 2 {
		r.fail(key, "a place is [x, y]", "%d numbers, need two", len(v))
		return geom.Point{}
	}
	for _, x := range v {
		if !(math.Abs(r.unit.MM(x)) <= Largest) {
			r.fail(key, "", "%v, need a number not beyond %.0e", x, Largest)
		}
	}
	return geom.Point{X: r.unit.MM(v[0]), Y: r.unit.MM(v[1])}
}

// above0 reads a length that has to be given.
func (r *reading) above0(key string, v *float64) float64 {
	switch {
	case v == nil:
		r.fail(key, "", "missing, need a length above 0")
		return 1
	case !(*v > 0 && r.unit.MM(*v) <= Largest):
		r.fail(key, "", "%v, need a length above 0", *v)
		return 1
	}
	return r.unit.MM(*v)
}

// depth reads a length below the top of the stock that may be left out: 0 then.
func (r *reading) depth(key, name string, v *float64) float64 {
	switch {
	case v == nil:
		return 0
	case key != "":
		if name = key + ", " + name; *v > 0 && !geom.DepthFits(r.unit.MM(*v)) {
			r.fail(name, "", "%v, need %v to %v %v", *v, r.unit.From(geom.LeastDepth), r.unit.From(geom.MostDepth), r.unit)
			return 0
		}
	}
	return r.above0(name, v)
}

// source is where an item stands, on its own layer or that of all.
func (r *reading) source(kind string, i int, layer *string) (Source, string) {
	key := fmt.Sprintf("%s %d", kind, i+1)
	s := Source{Line: r.lines[key], Entity: kind, Layer: r.layer}
	if layer != nil {
		s.Layer = *layer
	}
	if strings.ContainsFunc(s.Layer, func(c rune) bool { return !geom.Prints(c) }) {
		r.fail(key+", layer", "", "%q, need printable characters only", s.Layer)
	}
	return s, key
}
