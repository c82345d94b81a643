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
	// Skew: straight N lies along no slide: along the nearest it would be out by Size at its end.
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
	// Island: the hole N is cut to a floor, on which a disc of radius Size stays.
	Island
	// Ribs: between the first pass of slot N and its walls ribs Size wide stay.
	Ribs
	// Floors: boss N is cut to Size and Other to Need, and no line parts the two floors.
	Floors
	// Unproven: so many arcs and cutters that fewer settings than Size cannot be ruled out.
	Unproven
	// NoPlaces: the readout shows no places for arc N, whose swing radius would be Size.
	NoPlaces
	// OtherCutter: cutters from Size to Need in diameter bring the swing radius of arc N into the travel; both 0: none
	// does.
	OtherCutter

	kindsInAll
)

// kinds are the kinds by their number.
var kinds = [kindsInAll]kindRow{
	TooTight: {"too tight", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: concave radius %s, need above %s for cutter %s", q.N, q.length(q.Size), q.length(q.Need),
			q.length(q.Cutter))
	}, Length},
	OutOfTravel: {"out of travel", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: swing radius %s with cutter %s, the offset slide ends at %s", q.N, q.length(q.Size), q.length(q.Cutter),
			q.length(q.Need))
	}, Length},
	Gouge: {"gouge", func(q *problemWords) string {
		return fmt.Sprintf("element %d: cutter %s would gouge %s into %s %s, let pass %s", q.N, q.length(q.Cutter), q.length(q.Size),
			q.other(), q.at(), q.length(q.Need))
	}, Length},
	Corner: {"corner", func(q *problemWords) string {
		return fmt.Sprintf("element %d: cutter %s cannot come to %s %s, it would gouge %s, let pass %s",
			q.N, q.length(q.Cutter), q.other(), q.at(), q.length(q.Size), q.length(q.Need))
	}, Length},
	Gap: {"gap", func(q *problemWords) string {
		return fmt.Sprintf("elements %d and %d: gap %s %s, let pass %s", q.N, q.Other, q.length(q.Size), q.at(), q.length(q.Need))
	}, Length},
	Kink: {"kink", func(q *problemWords) string {
		return fmt.Sprintf("elements %d and %d: kink %s° %s, tangent up to %s°", q.N, q.Other, degrees(q.Size), q.at(), degrees(q.Need))
	}, Angle},
	Crossing: {"crossing", func(q *problemWords) string {
		return fmt.Sprintf("elements %d and %d: touch or cross %s", q.N, q.Other, q.at())
	}, Length},
	Skew: {"skew", func(q *problemWords) string {
		return fmt.Sprintf("straight %d: out by %s along the nearest slide, let pass %s", q.N, q.length(q.Size), q.length(q.Need))
	}, Length},
	FullSlot: {"full slot", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: cutter %s fills the slot to element %d, no sense cuts both walls conventionally", q.N,
			q.length(q.Cutter), q.Other)
	}, Length},
	TooWide: {"too wide", func(q *problemWords) string {
		return fmt.Sprintf("slot %d: %s wide, cutter %s is wider, need one that is not", q.N, q.length(q.Need), q.length(q.Size))
	}, Length},
	SideUnknown: {"side unknown", func(q *problemWords) string {
		return fmt.Sprintf("%s lies in %s, and nobody has said where their metal is; it is taken to go by turns from the rim inwards, "+
			"but a boss with a bore looks just like a hole with an island in it: say --metal %s, or outside", q.Names[0], q.Names[1],
			q.Metal(Inside))
	}, Length},
	OuterHole: {"outermost hole", func(q *problemWords) string {
		return fmt.Sprintf("element %d: an outermost loop, stated to be a hole: the metal is outside it", q.N)
	}, Length},
	OuterSlot: {"outermost slot", func(q *problemWords) string {
		return fmt.Sprintf("element %d: an outermost loop that is drawn like a slot, and taken for the rim of a part; where it is a "+
			"slot, say --metal %s",
			q.N, q.Metal(Outside))
	}, Length},
	Slug: {"slug", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: a slug of radius %s comes loose in it: hold it down, or mill it away first", q.N, q.length(q.Size))
	}, Length},
	Island: {"island", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: an island of radius %s stays on its floor: mill the middle away by the slides", q.N, q.length(q.Size))
	}, Length},
	Ribs: {"ribs", func(q *problemWords) string {
		return fmt.Sprintf("slot %d: cutter %s leaves ribs %s wide between the first pass and the walls: passes between them, or a "+
			"wider cutter",
			q.N, q.length(q.Cutter), q.length(q.Size))
	}, Length},
	Floors: {"floors differ", func(q *problemWords) string {
		return fmt.Sprintf("%s is cut to a depth of %s and %s to %s, and no line parts the two floors: one depth for both, or the line of "+
			"the step between them",
			q.this(), q.length(q.Size), q.other(), q.length(q.Need))
	}, Length},
	Unproven: {"unproven", func(q *problemWords) string {
		return fmt.Sprintf("%.0f settings, fewer could not be ruled out", q.Size)
	}, Count},
	NoPlaces: {"no places", func(q *problemWords) string {
		return fmt.Sprintf("arc %d: no X/Y places: swung with cutter %s it would be %s, and the readout shows no place on the waste side of "+
			"that which gouges nothing", q.N, q.length(q.Cutter), q.length(q.Size))
	}, Length},
	OtherCutter: {"other cutter", otherCutterWords, Length},
}

// kindRow is one kind of problem: what it is called, what is said of a problem of it, and what its Size is.
type kindRow struct {
	name string
	text func(*problemWords) string
	size Quantity
}

// Quantity is what a figure measures.
type Quantity int

// The quantities: a problem's Size and Need are both lengths, or both angles, or the Size is a number of settings
// and there is no Need.
const (
	Length Quantity = iota
	Angle
	Count
)

// Size is what the Size and Need of a problem of the kind are.
func (k Kind) Size() Quantity { return kinds[k].size }

func (k Kind) String() string { return kinds[k].name }

// problemWords puts a problem into words in a unit.
type problemWords struct {
	*Problem
	u geom.Unit
}

// number is a length in the unit, to the places of a coordinate, length one with its unit.
func (q *problemWords) number(mm float64) string {
	return geom.FormatFixed(q.u.From(mm), geom.Places(0, q.u))
}
func (q *problemWords) length(mm float64) string { return q.number(mm) + " " + q.u.String() }

// at is the problem's place.
func (q *problemWords) at() string {
	return fmt.Sprintf("at %s, %s", q.number(q.At.X), q.number(q.At.Y))
}

func degrees(radians float64) string { return geom.FormatFixed(geom.Bearing(radians).Degrees(), 2) }

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

// this is what the element is called.
func (p *Problem) this() string {
	if p.Names[0] != "" {
		return p.Names[0]
	}
	return fmt.Sprintf("element %d", p.N)
}

// other is what the other element is called.
func (p *Problem) other() string {
	if p.Names[1] != "" {
		return p.Names[1]
	}
	return fmt.Sprintf("element %d", p.Other)
}

// Text is the problem in words, lengths in unit u: the value seen, then the value needed.
func (p Problem) Text(u geom.Unit) string { return kinds[p.Kind].text(&problemWords{&p, u}) }

// Metal is what the flag would say of the problem's layer.
func (p *Problem) Metal(s Side) string {
	if strings.ContainsAny(p.Layer, " \t\"'\\") {
		return fmt.Sprintf("%q", p.Layer+"="+s.String())
	}
	return p.Layer + "=" + s.String()
}

// tell notes a problem.
func (w *work) tell(p Problem) { w.part.Problems = append(w.part.Problems, p) }
