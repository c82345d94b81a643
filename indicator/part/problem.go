package part

import (
	"fmt"
	"strings"

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
	// TooWide: no cutter is as narrow as slot N, whose width is Need; the nearest is Size.
	TooWide
	// SideUnknown: closed element N lies in closed element Other, both in an outermost loop, and nobody has said
	// where the metal of either is: it goes by nesting.
	SideUnknown
	// OuterHole: N is an outermost loop and stated to be a hole.
	OuterHole
	// OuterSlot: N is an outermost loop that is drawn like a slot, and taken for the rim of a part.
	OuterSlot
	// Slug: the hole N leaves a disc of radius Size loose in it.
	Slug
	// Ribs: between the first pass of slot N and its walls ribs Size wide stay.
	Ribs
	// Unproven: so many arcs and cutters that fewer settings than Size cannot be ruled out.
	Unproven
)

var kinds = [...]string{"too tight", "out of travel", "gouge", "corner", "gap", "kink", "crossing", "skew", "full slot", "too wide", "side unknown",
	"outermost hole", "outermost slot", "slug", "ribs", "unproven"}

func (k Kind) String() string { return kinds[k] }

// Problem is something amiss, or to be known before cutting, with its place and size. Lengths are
// millimetres, the Size of a Kink is radians.
type Problem struct {
	Kind       Kind
	N, Other   int // element numbers, 0: none, or one that is not cut and has none
	At         geom.Point
	Size, Need float64
	Cutter     float64 // the diameter it is told of, 0: none
	// Names are what N and Other are called where a number does not tell, Layer the one that a statement of the
	// metal's side would name.
	Names [2]string
	Layer string
}

// other is what the other element is called.
func (p *Problem) other() string {
	if p.Names[1] != "" {
		return p.Names[1]
	}
	return fmt.Sprintf("element %d", p.Other)
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
		return fmt.Sprintf("element %d: cutter %s would gouge %s into %s %s, let pass %s", p.N, length(p.Cutter), length(p.Size), p.other(), at, length(p.Need))
	case Corner:
		return fmt.Sprintf("element %d: cutter %s cannot come to %s %s, it would gouge %s, let pass %s", p.N, length(p.Cutter), p.other(), at, length(p.Size), length(p.Need))
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
	case TooWide:
		return fmt.Sprintf("slot %d: %s wide, cutter %s is wider, need one that is not", p.N, length(p.Need), length(p.Size))
	case SideUnknown:
		return fmt.Sprintf("%s lies in %s, and nobody has said where their metal is; it is taken to go by turns from the rim inwards, but a boss with a bore looks just like a hole with an island in it: say --metal %s, or outside",
			p.Names[0], p.Names[1], p.Metal(Inside))
	case Slug:
		return fmt.Sprintf("arc %d: a slug of radius %s comes loose in it: hold it down, or mill it away first", p.N, length(p.Size))
	case Ribs:
		return fmt.Sprintf("slot %d: cutter %s leaves ribs %s wide between the first pass and the walls: passes between them, or a wider cutter", p.N, length(p.Cutter), length(p.Size))
	case OuterHole:
		return fmt.Sprintf("element %d: an outermost loop, stated to be a hole: the metal is outside it", p.N)
	case OuterSlot:
		return fmt.Sprintf("element %d: an outermost loop that is drawn like a slot, and taken for the rim of a part; where it is a slot, say --metal %s", p.N, p.Metal(Outside))
	case Unproven:
		return fmt.Sprintf("%.0f settings, fewer could not be ruled out", p.Size)
	}
	panic("indicator/part: a kind of problem without words")
}

// Metal is what the flag would say of the problem's layer.
func (p *Problem) Metal(s Side) string {
	if strings.ContainsAny(p.Layer, " \t\"'\\") {
		return fmt.Sprintf("%q", p.Layer+"="+s.String())
	}
	return p.Layer + "=" + s.String()
}

// tell notes a problem.
func (w *work) tell(p Problem) { w.part.Problems = append(w.part.Problems, p) }
