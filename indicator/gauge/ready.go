package gauge

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// movedBy is how far a figure has to be seen to move before it is a needle's, in widths of the band that one at rest keeps to: what
// trembles, or is a number of the line's own, is none.
const movedBy = 3

// UnmovedError: the figure was not seen to move as the plunger is pressed, so that it may be anything that stands in a line.
type UnmovedError struct {
	// Span is how far it was seen to go, Need how far it has to, millimetres.
	Span, Need float64
	Unit       geom.Unit
	// None says that there was no figure at all, Button that it is sent by the indicator's own button.
	None, Button bool
}

func (e *UnmovedError) Error() string {
	if e.None {
		return "no figure has come yet, need one that is seen to move"
	}
	return fmt.Sprintf("its figure was seen to move by %s, need more than %s: it may be no needle's",
		lengthWords(e.Span, e.Unit), lengthWords(e.Need, e.Unit))
}

// Hint says what to do.
func (e *UnmovedError) Hint() string {
	if e.Button {
		return "send it, press the plunger well in, and send it once more"
	}
	return "press the plunger well in, once, and let go"
}

// NoUnitError: a line names no unit of its figure, and nothing states one: read in the job's it may be 25.4 times what it is.
type NoUnitError struct{ Line string }

func (e *NoUnitError) Error() string {
	return fmt.Sprintf("%q names no unit, need the unit of its figures stated: %v or %v", e.Line, geom.Millimetre, geom.Inch)
}

// Hint says what to do.
func (*NoUnitError) Hint() string {
	return "see what the indicator is switched to, and set unit to that"
}

// Unready says what has to be stated of the indicator, or seen of it, before its settings are kept; nil where nothing has. The error is
// a *[NoUnitError], or an *[UnmovedError], which a person may pass over.
func (t *Trying) Unready() error {
	if t.seen.bare != "" && t.set.Unit == nil {
		return &NoUnitError{Show(t.seen.bare, shownLine)}
	}
	e := &UnmovedError{Span: t.seen.high - t.seen.low, Need: movedBy * t.set.Within, Unit: t.Unit(),
		None: !t.seen.some, Button: t.set.Mode == Button}
	if e.Span > e.Need {
		return nil
	}
	return e
}

// NamesUnit reports whether a line names, where the pattern says, the unit of its figure.
func (p *Pattern) NamesUnit(l Line) bool {
	text, ok := plain(l.Text)
	if !ok || !l.Whole || p.unit < 0 {
		return false
	}
	at := p.form.FindStringSubmatchIndex(text)
	return at != nil && at[2*p.unit] >= 0 && at[2*p.unit] < at[2*p.unit+1]
}

// seen is what was seen of the figure that a pattern finds in the lines of one source: a line that is lost and found is the same one.
type seen struct {
	low, high float64 // of it as it was sent, millimetres
	some      bool
	bare      string // the newest line that named no unit of it; empty for none
}

func (s *seen) see(l Line, v float64, p *Pattern) {
	if !s.some {
		s.low, s.high, s.some = v, v, true
	}
	s.low, s.high = math.Min(s.low, v), math.Max(s.high, v)
	if !p.NamesUnit(l) {
		s.bare = l.Text
	}
}

// sameFigure reports whether two settings find the same figure, in the same unit, on the same line.
func (s *Settings) sameFigure(o *Settings) bool {
	unit := s.Unit == o.Unit || s.Unit != nil && o.Unit != nil && *s.Unit == *o.Unit
	return unit && s.Line() == o.Line() && s.Pattern == o.Pattern
}
