package drawing

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// FormatError: the bytes are no drawing that can be read. Seen says what they are.
type FormatError struct{ Seen string }

func (e *FormatError) Error() string { return e.Seen + ", need a DXF file in ASCII" }

// ErrBinary is what errors.Is finds in the refusal of a binary file.
var ErrBinary = errors.New("a binary DXF file")

// Is lets errors.Is find [ErrBinary].
func (e *FormatError) Is(target error) bool {
	return target == ErrBinary && e.Seen == ErrBinary.Error()
}

// SyntaxError: a line of a drawing is not what has to stand there.
type SyntaxError struct {
	Line int // from 1
	Why  string
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Why) }

// UnitError: the drawing does not say what unit it is in. Code is its $INSUNITS, 0 where it has none;
// Measurement its $MEASUREMENT, "" where it has none: that chooses between patterns for hatching, and
// says nothing of lengths.
type UnitError struct {
	Code        int
	Measurement string
}

func (e *UnitError) Error() string {
	if e.Code != 0 {
		return fmt.Sprintf("the drawing's unit is number %d, need one that is a length for a workpiece", e.Code)
	}
	return "the drawing names no unit, need mm or in"
}

// Hint says what to do.
func (e *UnitError) Hint() string {
	hint := "say which it is with --unit mm or --unit in, after comparing a length with the paper drawing"
	if e.Measurement != "" {
		hint += fmt.Sprintf(" ($MEASUREMENT says %s, but that is about hatching)", e.Measurement)
	}
	return hint
}

// LimitError: the drawing asks for more than the program takes.
type LimitError struct {
	What string // bytes, pieces, layers, …
	Most int
	Line int // where it was noticed, 0 for the whole file
}

func (e *LimitError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: more than %d %s, need at most that many", e.Line, e.Most, e.What)
	}
	return fmt.Sprintf("more than %d %s, need at most that many", e.Most, e.What)
}

// LayerError: a layer was asked for that the drawing does not have. Have are its layers.
type LayerError struct {
	Name string
	Have []string
}

func (e *LayerError) Error() string {
	have := slices.DeleteFunc(slices.Clone(e.Have), func(name string) bool { return name == "" })
	if len(have) == 0 {
		return fmt.Sprintf("no layer %q: the drawing names none, need one of the drawing's layers", e.Name)
	}
	const shown = 12
	more := ""
	if len(have) > shown {
		have, more = have[:shown], fmt.Sprintf(" and %d more", len(have)-shown)
	}
	return fmt.Sprintf("no layer %q, need one of %s%s", e.Name, strings.Join(have, ", "), more)
}

// SidesError: an element is drawn twice, and the two say that its metal is on two sides. Line is the later, which says
// Side, and Other the earlier.
type SidesError struct {
	Line, Other int
	Side        Metal
}

func (e *SidesError) Error() string {
	here, there := "inside", "outside"
	if e.Side == MetalOutside {
		here, there = there, here
	}
	return fmt.Sprintf("line %d: metal %s of what line %d draws too, with its metal %s, need one side", e.Line, here, e.Other, there)
}

// Hint says what to do.
func (*SidesError) Hint() string { return "draw it once, or say the same of both" }

// DepthsError: an element is drawn twice, and the two say two depths. Line is the later, Other the earlier.
type DepthsError struct{ Line, Other int }

func (e *DepthsError) Error() string {
	return fmt.Sprintf("line %d: another depth of what line %d draws too, need one depth", e.Line, e.Other)
}

// Hint says what to do.
func (*DepthsError) Hint() string { return "draw it once, or say the same of both" }

// EmptyError: nothing was left that an outline could be made of. Notes say what there was instead.
type EmptyError struct{ Notes []Note }

func (e *EmptyError) Error() string { return "no line, arc or circle was read, need at least one" }
