package plan

import (
	"fmt"

	"example.org/trammel/geom"
)

// Kind says what is amiss.
type Kind int

const (
	// TooTight: a concave radius Size that is not above the cutter's, Need.
	TooTight Kind = iota
	// OutOfTravel: a swing radius Size that the offset slide cannot set; Need is the end of its travel.
	OutOfTravel
	// Gouge: the cutter on element N would pass by Size beyond the surface of element Other, which it
	// does not meet; Need is what is let pass.
	Gouge
	// Corner: the cutter cannot come to where element N meets Other: it would bite Size into it.
	Corner
	// Gap: the ends of N and Other lie Size apart; Need is what is let pass.
	Gap
	// Kink: N and Other meet almost tangent, with a turn of Size radians; Need is what is let pass.
	Kink
	// Crossing: N and Other touch or cross though neither follows the other.
	Crossing
	// Skew: no slide can cut straight N: along the nearest it would be out by Size at its end.
	Skew
	// FullSlot: the cutter on N fills the slot between N and Other.
	FullSlot
	// Unproven: so many arcs and cutters that fewer settings than Size cannot be ruled out.
	Unproven
)

var kinds = [...]string{"too tight", "out of travel", "gouge", "corner", "gap", "kink", "crossing", "skew", "full slot", "unproven"}

func (k Kind) String() string { return kinds[k] }

// Problem is something amiss, or to be known before cutting, with its place and size. Lengths are
// millimetres, the Size of a Kink is radians.
type Problem struct {
	Kind       Kind
	N, Other   int // element numbers, 0: none
	At         geom.Point
	Size, Need float64
	Cutter     float64 // the diameter it is told of, 0: none
}

// Text is the problem in words, lengths in unit u: the value seen, then the value needed.
func (p Problem) Text(u geom.Unit) string {
	length := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) + " " + u.String() }
	at := fmt.Sprintf("at %s, %s", geom.FormatFixed(u.From(p.At.X), geom.Places(0, u)), geom.FormatFixed(u.From(p.At.Y), geom.Places(0, u)))
	switch p.Kind {
	case TooTight:
		return fmt.Sprintf("arc %d: concave radius %s, need above %s for cutter %s", p.N, length(p.Size), length(p.Need), length(p.Cutter))
	case OutOfTravel:
		return fmt.Sprintf("arc %d: swing radius %s with cutter %s, the offset slide ends at %s", p.N, length(p.Size), length(p.Cutter), length(p.Need))
	case Gouge:
		return fmt.Sprintf("element %d: cutter %s would bite %s into element %d %s, let pass %s", p.N, length(p.Cutter), length(p.Size), p.Other, at, length(p.Need))
	case Corner:
		return fmt.Sprintf("element %d: cutter %s cannot come to element %d %s, it would bite %s, let pass %s", p.N, length(p.Cutter), p.Other, at, length(p.Size), length(p.Need))
	case Gap:
		return fmt.Sprintf("elements %d and %d: gap %s %s, let pass %s", p.N, p.Other, length(p.Size), at, length(p.Need))
	case Kink:
		return fmt.Sprintf("elements %d and %d: kink %s° %s, tangent up to %s°", p.N, p.Other, geom.FormatFixed(geom.Bearing(p.Size).Degrees(), 2), at, geom.FormatFixed(geom.Bearing(p.Need).Degrees(), 2))
	case Crossing:
		return fmt.Sprintf("elements %d and %d: touch or cross %s", p.N, p.Other, at)
	case Skew:
		return fmt.Sprintf("straight %d: out by %s along the nearest slide, let pass %s", p.N, length(p.Size), length(p.Need))
	case FullSlot:
		return fmt.Sprintf("arc %d: cutter %s fills the slot to element %d, no sense cuts both walls conventionally", p.N, length(p.Cutter), p.Other)
	}
	return fmt.Sprintf("%.0f settings, fewer could not be ruled out", p.Size)
}

// tell notes a problem.
func (w *work) tell(p Problem) { w.part.Problems = append(w.part.Problems, p) }
