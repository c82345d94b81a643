package drawing

import (
	"fmt"
	"strings"
	"unicode"

	"example.org/trammel/geom"
)

// Kind is what a note is about.
type Kind uint8

// The kinds of note. Those up to NoBlock tell what was left out.
const (
	// NotUnderstood: entities of a type that the program does not read; Entity, Layer, Count.
	NotUnderstood Kind = iota
	// Tilted: entities drawn in a plane that is not seen square from above; Entity, Layer, Count.
	Tilted
	// Stretched: arcs that a block's unequal scales make into ellipses; Entity, Layer, Count.
	Stretched
	// Paper: entities of the printed sheet, not of the part; Entity, Layer, Count.
	Paper
	// NoLength: elements whose ends are one place; Entity, Layer, Count, and At the first.
	NoLength
	// Doubled: the same element drawn again, taken once; Entity and Layer of the later, Count, and At
	// the first.
	Doubled
	// NoBlock: a block that is put in place but is not in the file; Text its name, Count.
	NoBlock
	// UnitTaken: the drawing names no unit, and the one asked for was taken.
	UnitTaken
	// CodePage: names are in a code page that the program does not have, or break its rules; Text.
	CodePage
	// LayerOff and LayerFrozen: a layer that is not shown was read; Layer, Count.
	LayerOff
	LayerFrozen
	// Hidden: entities that are marked as not shown were read; Entity, Layer, Count.
	Hidden
	// Sloped: lines whose ends lie at different heights were taken as seen from above; Entity, Layer,
	// Count, Size the largest difference.
	Sloped
	// Wide: polylines drawn with a width, of which the middle was taken; Entity, Layer, Count, Size the
	// largest width.
	Wide
	// Joined: two ends that miss each other by Size were joined At a place.
	Joined
	// NearMiss: two ends that miss each other by Size, too far to be joined.
	NearMiss
	// Branch: Count ends meet At a place, and the program does not know which belong together.
	Branch
	// OneArc: Count arcs about one centre that run on into each other were taken as one; Size is how far
	// their centres or radii lay apart.
	OneArc
	// Recognised: Count chords were taken for one arc; Size is the largest departure of a corner.
	Recognised
	// Blended: a corner At a place was rounded with the radius Size.
	Blended
	// Grouped: touched points Line to Line + Count − 1, counted from 1, were taken as one element.
	Grouped
	// Misfit: a touched point lies off its element by Size, more than the repeatability explains; Line.
	Misfit
)

// Note tells one thing about what was read. Which fields mean something is said at its Kind.
type Note struct {
	Kind   Kind
	Entity string
	Layer  string
	Text   string
	Line   int // of the file, from 1; 0 where there is none
	Count  int
	At     geom.Point // millimetres
	Size   float64    // millimetres
}

// words are the notes as sentences. {n} is the count, {e} the entity, {l} the layer, {s} the size, {at}
// the place, {t} the text, {line} the line.
var words = map[Kind]string{
	NotUnderstood: "{n} {e} on layer {l} not understood and left out",
	Tilted:        "{n} {e} on layer {l} drawn in a tilted plane and left out",
	Stretched:     "{n} {e} on layer {l} made an ellipse by a block's unequal scales and left out",
	Paper:         "{n} {e} on layer {l} belong to the printed sheet and were left out",
	NoLength:      "{n} {e} on layer {l} without a length left out, the first at {at}",
	Doubled:       "{n} {e} on layer {l} drawn twice and taken once, the first at {at}",
	NoBlock:       "block {t} is put in place {n} times but is not in the file",
	UnitTaken:     "the drawing names no unit; taken as {t}",
	CodePage:      "names could not be read: {t}",
	LayerOff:      "layer {l} is off; its {n} entities were read",
	LayerFrozen:   "layer {l} is frozen; its {n} entities were read",
	Hidden:        "{n} {e} on layer {l} are marked as not shown and were read",
	Sloped:        "{n} {e} on layer {l} slope by up to {s} and were taken as seen from above",
	Wide:          "{n} {e} on layer {l} are drawn up to {s} wide; their middle was taken",
	Joined:        "ends that miss by {s} joined at {at}",
	NearMiss:      "ends that miss by {s} at {at} not joined",
	Branch:        "{n} ends meet at {at}; not joined, for it is open which belong together",
	OneArc:        "{n} arcs about {at} taken as one (they differ by {s})",
	Recognised:    "{n} chords from line {line} taken as one arc about {at} (off by up to {s})",
	Blended:       "corner at {at} blended with radius {s}",
	Grouped:       "points {line} to {to} taken as {e}",
	Misfit:        "point {line} lies {s} off its {e}, more than the repeatability explains",
}

// Format is the note in words, lengths in unit u.
func (n Note) Format(u geom.Unit) string {
	places := geom.Places(0, u) + 1
	length := func(mm float64) string { return geom.FormatFixed(u.From(mm), places) }
	r := strings.NewReplacer(
		"{n}", fmt.Sprint(n.Count), "{e}", n.Entity, "{l}", quoted(n.Layer), "{t}", n.Text, "{line}", fmt.Sprint(n.Line),
		"{to}", fmt.Sprint(n.Line+n.Count-1), "{s}", length(n.Size)+" "+u.String(),
		"{at}", length(n.At.X)+","+length(n.At.Y)+" "+u.String())
	return r.Replace(words[n.Kind])
}

// quoted puts a name in quotes if it could not be told from the words around it.
func quoted(name string) string {
	if name == "" || strings.ContainsFunc(name, unicode.IsSpace) {
		return fmt.Sprintf("%q", name)
	}
	return name
}

// tally gathers notes: those of one kind, entity, layer and text are one with a count.
type tally struct {
	notes []Note
	at    map[[4]string]int
}

// count adds n.Count to the note of its kind, entity, layer and text, and keeps the larger size.
func (t *tally) count(n Note) {
	key := [4]string{string(rune(n.Kind)), n.Entity, n.Layer, n.Text}
	if t.at == nil {
		t.at = map[[4]string]int{}
	}
	i, ok := t.at[key]
	if !ok {
		t.at[key] = len(t.notes)
		t.notes = append(t.notes, n)
		return
	}
	old := &t.notes[i]
	old.Count += n.Count
	old.Size = max(old.Size, n.Size)
}

// tell adds a note of its own.
func (t *tally) tell(n Note) { t.notes = append(t.notes, n) }
