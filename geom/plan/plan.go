// Package plan turns an outline into work at the machine: which arcs are swung about which centres
// with which cutter at which swing radius, from which angle to which and in which sense, where the
// table stands for each, in which order, and by how much neighbouring elements will miss each other.
//
// [Make] reads an outline and gives a [Part]. What it finds amiss (a corner too tight, a neighbour
// that would be gouged) is a [Problem] of the part, not an error. A [Situation] foretells the steps at
// the blends from what is believed of each setting, and advises how to bias those still to come.
//
// Lengths are millimetres, angles radians counter-clockwise from +X, seen from above.
package plan

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Piece is one element as a drawing has it, with where it comes from.
type Piece struct {
	geom.Element
	Layer, Source string
}

// Outline is what a drawing shows: closed loops and open chains, in each of which a piece begins where
// the one before ends. The way that they run does not matter.
type Outline struct{ Loops, Open [][]Piece }

// Side says where the metal is, seen from an arc.
type Side int

const (
	On      Side = iota // the cutter's axis runs along the arc: a slot's centre line
	Inside              // a boss, a convex rim
	Outside             // a concave corner, a bore, a slot's outer wall
)

func (s Side) String() string { return [...]string{"on", "inside", "outside"}[s] }

// Sense is a way to turn, seen from above.
type Sense int

const (
	NoSense       Sense = iota // a full slot cuts conventionally on one wall only, either way
	Anticlockwise              // counter-clockwise
	Clockwise
)

func (s Sense) String() string { return [...]string{"none", "anticlockwise", "clockwise"}[s] }

// Limits are what is let pass, millimetres and radians; 0 takes the default in brackets.
type Limits struct {
	Gap    float64      // between the ends of elements that are meant to meet [0.005]
	Kink   geom.Bearing // the most that two tangent elements turn where they meet [0.1°]
	Corner geom.Bearing // the least turn that is taken for a corner that is meant [5°]
	Gouge  float64      // how far the cutter may pass beyond a finished surface [0.002]
	Same   float64      // swing radii that differ by no more are one setting [0.001]
}

// Options are the machine and the wishes. Only the cutters have no useful default.
type Options struct {
	Cutters  []float64 // diameters at hand; none: swing radii and axis positions are left open
	LeftHand bool      // the cutter turns anticlockwise seen from above
	// SwingMin and SwingMax are what the offset slide can set; SwingMax 0: no limit.
	SwingMin, SwingMax float64
	Datum              geom.Point
	// Rotary: the table turns the work under a cutter that stands at CutterBearing from the table's
	// axis; otherwise the head carries the cutter round.
	Rotary        bool
	CutterBearing geom.Bearing
	// OpenSide says where the metal is of open chains: each one's first arc takes it, the rest of the
	// chain has its metal on the same hand.
	OpenSide Side
	Slides   []geom.Bearing // the bearings along which a slide can cut [0 and 90°]
	// Overrun and LineOverrun are how far past an end the cutter is run to see what it would bite
	// [2° and 1 mm].
	Overrun     geom.Bearing
	LineOverrun float64
	Limits      Limits
}

// End tells how the cutter comes to an end of an element.
type End struct {
	// MayOverrun: run past the end by Options.Overrun the cutter bites nothing beyond Limits.Gouge.
	MayOverrun bool
	// Bite is how far the cutter would pass beyond the finished surface of element Into when run past
	// the end by Options.Overrun, millimetres; negative: the clearance left, at least (exact up to the
	// cutter's own diameter). Into is 0 where there is nothing to bite.
	Bite float64
	Into int
	// Short is how far before the end the cutter must stop, millimetres along its axis's path, lest it
	// bites a neighbour: 0 where it may come to the end. Angle is the same as an angle of an arc.
	Short float64
	Angle geom.Bearing
}

// Arc is one arc of the part.
type Arc struct {
	N             int
	Layer, Source string
	Centre        geom.Point
	Radius        float64
	// From is in [0, 2π); the arc runs counter-clockwise to To = From + Sweep.
	From, To, Sweep geom.Bearing
	Side            Side
	// Swing is the swing radius for Cutter, 0 where no cutter at hand can do the arc; Cutter is 0 where
	// none is needed to tell (an arc that the axis itself follows).
	Cutter, Swing float64
	Group         int // the number of its group, 0 without a swing radius
	// Readout is where the readout stands with the axis of rotation on the arc's centre: centre − datum.
	// Wind is how far to wind from the datum: carried, the spindle relative to the work (the same
	// numbers); on a rotary table whose axis stood on the datum, the work in the table's own frame.
	Readout, Wind geom.Point
	// Sense is the way to swing the head, or to turn the table, that cuts conventionally.
	Sense Sense
	// TableFrom and TableTo are the table's angles at From and To: CutterBearing − From down to
	// CutterBearing − To, not normalised. 0 unless rotary.
	TableFrom, TableTo geom.Bearing
	Ends               [2]End // at From and at To; zero for a full circle
}

// Full reports whether the arc is a full circle, which has no ends.
func (a *Arc) Full() bool { return a.Sweep >= 2*math.Pi-1e-12 }

// Line is one straight of the part.
type Line struct {
	N             int
	Layer, Source string
	Start, End    geom.Point // as drawn
	Cutter        float64    // 0 where none is at hand
	// Axis are the ends of the cutter's axis, off the straight by half the cutter to the side without
	// metal, in the order in which it cuts conventionally (as drawn where it has no side).
	Axis [2]geom.Point
	// Sliding: a slide of the machine can cut it, the one along Slide. On a rotary table every
	// straight can be laid along the first slide: with the table turned to Table.
	Sliding bool
	Slide   geom.Bearing
	Table   geom.Bearing
	Ends    [2]End // at Start and at End
}

// Group is what one setting of the swing radius serves.
type Group struct {
	N       int
	Swing   float64   // the mean of its arcs', which differ by no more than Limits.Same
	Cutters []float64 // those that it is swung with
	Arcs    []int
	// Centres are the arcs parted by centre: those of one entry need no move of the table either.
	Centres [][]int
}

// Blend is where one element of the outline meets the next.
type Blend struct {
	Between [2]int
	At      geom.Point
	Tangent bool
	// Kink is the angle by which the outline turns there: + towards the metal, an outer corner, − away
	// from it; + to the left as drawn where neither has a side.
	Kink geom.Bearing
	Gap  float64
	// Normal points out of the metal there; the zero point where neither has a side.
	Normal geom.Point
}

// Part is the plan of a part.
type Part struct {
	Arcs     []Arc
	Lines    []Line
	Groups   []Group
	Blends   []Blend
	Choice   Choice
	Order    []Step
	Releases []Release
	Problems []Problem
	outer    [][]int // of each outermost loop, the numbers of its elements
	loops    [][]int // and of all that lies in it, itself included
}

// An OptionError is an option that cannot be.
type OptionError struct {
	Option string
	Value  float64
	Need   string
}

func (e *OptionError) Error() string {
	return fmt.Sprintf("%s %v, need %s", e.Option, e.Value, e.Need)
}

// A PieceError is a piece of an outline that is no element: a number in it is not finite, or its
// radius is not above 0.
type PieceError struct{ Source string }

func (e *PieceError) Error() string {
	return fmt.Sprintf("element %q: want finite coordinates and a radius above 0", e.Source)
}

// ErrEmpty is returned for an outline without elements.
var ErrEmpty = fmt.Errorf("the outline has no element, need at least 1")

// check refuses what cannot be and fills in the defaults.
func (o Options) check() (Options, error) {
	for _, d := range o.Cutters {
		if !(d > 0) || math.IsInf(d, 1) {
			return o, &OptionError{"cutter", d, "a diameter above 0"}
		}
	}
	if !(o.SwingMin >= 0) {
		return o, &OptionError{"least swing radius", o.SwingMin, "0 or more"}
	}
	if o.SwingMax != 0 && !(o.SwingMax >= o.SwingMin) {
		return o, &OptionError{"largest swing radius", o.SwingMax, fmt.Sprintf("at least the least, %v", o.SwingMin)}
	}
	if !finite(o.Datum.X, o.Datum.Y, float64(o.CutterBearing)) {
		return o, &OptionError{"datum or cutter bearing", math.NaN(), "finite numbers"}
	}
	if o.SwingMax == 0 {
		o.SwingMax = math.Inf(1)
	}
	if o.Slides == nil {
		o.Slides = []geom.Bearing{0, math.Pi / 2}
	}
	l := &o.Limits
	for _, v := range []struct {
		name string
		at   *float64
		or   float64
	}{
		{"gap limit", &l.Gap, 0.005}, {"kink limit", (*float64)(&l.Kink), float64(0.1 * geom.Degree)},
		{"corner limit", (*float64)(&l.Corner), float64(5 * geom.Degree)}, {"gouge limit", &l.Gouge, 0.002},
		{"limit of one setting", &l.Same, 0.001},
		{"overrun", (*float64)(&o.Overrun), float64(2 * geom.Degree)}, {"overrun of a straight", &o.LineOverrun, 1},
	} {
		switch {
		case *v.at == 0:
			*v.at = v.or
		case !(*v.at > 0) || math.IsInf(*v.at, 1):
			return o, &OptionError{v.name, *v.at, "above 0"}
		}
	}
	return o, nil
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// Make plans a part. It fails on numbers that are none ([PieceError], [OptionError]) and on nothing
// to plan ([ErrEmpty]); everything else that is amiss is told in Part.Problems.
func Make(outline Outline, options Options) (*Part, error) {
	options, err := options.check()
	if err != nil {
		return nil, err
	}
	w := &work{Options: options, part: &Part{}}
	if err := w.read(outline); err != nil {
		return nil, err
	}
	w.nest()
	w.crossings()
	w.blends()
	w.cut()
	w.groups()
	w.part.Order = w.order()
	return w.part, nil
}
