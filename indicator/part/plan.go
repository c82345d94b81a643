package part

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// Piece is one element as a drawing has it, with where it comes from.
type Piece struct {
	geom.Element
	Layer, Source string
	// Aside: it is not cut now, and gets no number. It counts all the same for what lies in what, and for
	// what a cutter may touch.
	Aside bool
	// Slot: it was drawn as a piece of an arc slot, whose metal lies outside.
	Slot bool
	// Metal is what has been said of the closed element that it belongs to: where its metal is.
	Metal []Said
	// Depth is what the drawing says of how deep it is cut.
	Depth []SaidDepth
}

// Said is somebody's word on where the metal is of a closed element: Inside or Outside.
type Said struct {
	Side Side
	By   string // who says so, as an error names it: "the drawing", "--metal boss=inside"
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

// End tells how near to an end of an element the cutter has to stop. Angles are radians, of the swing; at a
// straight's end they are millimetres along it.
type End struct {
	// Tangent: the outline goes on there without a corner, and the stop has a window: it may be beyond the end
	// by Past before the cutter gouges the outline that the element belongs to by more than Limits.Gouge, and
	// before it by Short before more than that stands proud between here and the neighbour, which is cut to its
	// own end. Past is +Inf where the cutter may go on for good.
	Tangent     bool
	Past, Short float64
	// Into is the element that is gouged first past the end, 0 where there is none or where it has no number.
	Into int
	// Free: the cutter may run on past the end, as far as the element's other end at least.
	Free bool
	// Clear is how far beyond the end it may go before it gouges another outline, InWay; as Past and Into.
	Clear float64
	InWay int
	// Before is how far before an end in an inner corner the cutter has to stop lest it gouges, 0 elsewhere.
	Before float64
	// Next is the element that the outline goes on with, 0 where it ends or that one has no number.
	Next int
}

// Origin says who it is that says where the metal is of an element.
type Origin int

const (
	Unsaid  Origin = iota // nobody: an open element
	Nesting               // what lies in what
	AsSlot                // it is a slot
	Stated                // somebody said so
)

func (o Origin) String() string { return [...]string{"", "nesting", "slot", "stated"}[o] }

// Arc is one arc of the part.
type Arc struct {
	N             int
	Layer, Source string
	Centre        geom.Point
	Radius        float64
	// From is in [0, 2π); the arc runs counter-clockwise to To = From + Sweep.
	From, To, Sweep geom.Bearing
	Side            Side
	SideFrom        Origin
	// Swing is the swing radius for Cutter, 0 where no cutter at hand can do the arc; Cutter is 0 where
	// none is needed to tell (an arc that the axis itself follows).
	Cutter, Swing float64
	Group         int // the number of its group, in the order of cutting; 0 without a swing radius
	// Readout is where the readout stands with the axis of rotation on the arc's centre: centre − datum.
	// Wind is how far to wind from the datum: carried, the spindle relative to the work (the same
	// numbers); on a rotary table whose axis stood on the datum, the work in the table's own frame.
	Readout, Wind geom.Point
	// Sense is the way to swing the head, or to turn the table, that cuts conventionally.
	Sense Sense
	// Start and Stop are the arc's bearings first and last cut, From and To or To and From; meaningless of a
	// full circle. On the head Start turned by Sweep in Sense is Stop.
	Start, Stop geom.Bearing
	// TableStart and TableStop are the table's angles there, CutterBearing less the bearing, not normalised: it
	// is they that are turned in Sense. 0 unless rotary.
	TableStart, TableStop geom.Bearing
	Ends                  [2]End // at From and at To; zero for a full circle
	Slot                  int    // the slot that it is a wall or an end of, by number; 0: none
	ToStep                bool   // it stands on what lies round it: cut to the depth of its step, not through
	// Depth is from the top of the stock to the floor of its cut, 0: nobody says. WayIn is where the cutter may go down there.
	Depth float64
	WayIn setup.WayIn
	// Places are where it is plunged, asked for where no swing makes it; nil else.
	Places *Places
}

// Full reports whether the arc is a full circle, which has no ends.
func (a *Arc) Full() bool { return a.Sweep >= 2*math.Pi-1e-12 }

// Slot is an arc slot: its first pass runs along the centre line, whose ends are made by the stops, and its walls
// come after. The embedded Arc is that pass; it has no side, and its Sense is none.
type Slot struct {
	Arc
	Width float64
	Walls []int // its walls and ends, by number: those that are cut
	// Single: the cutter is as wide as the slot, so the first pass is the last. Its walls and ends are in no
	// other setting then.
	Single bool
}

// Line is one straight of the part.
type Line struct {
	N             int
	Layer, Source string
	Start, End    geom.Point // as drawn
	SideFrom      Origin
	Cutter        float64 // 0 where none is at hand
	// Axis are the ends of the cutter's axis, off the straight by half the cutter to the side without
	// metal, in the order in which it cuts conventionally (as drawn where it has no side).
	Axis [2]geom.Point
	// Sliding: a slide of the machine can cut it, the one along Slide. On a rotary table every
	// straight can be laid along the first slide: with the table turned to Table.
	Sliding bool
	Slide   geom.Bearing
	Table   geom.Bearing
	Ends    [2]End // at Start and at End
	Depth   float64
	WayIn   setup.WayIn
	// FromEnd: it is cut from End to Start. Lay is how it comes to lie along a slide.
	FromEnd bool
	Lay     Lay
}

// Group is what one setting of the swing radius serves. N counts them from 1 in the order in which they are cut.
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

// Plan is the plan of a part.
type Plan struct {
	Arcs     []Arc
	Lines    []Line
	Slots    []Slot
	Groups   []Group
	Blends   []Blend
	Choice   Choice
	Order    []Step
	Releases []Release
	Mills    []Mill
	Problems []Problem
	rotary   *geom.Bearing
	limits   Limits
	datum    geom.Point
	metal    map[int]Side // of the closed elements, by number: where the metal is of the whole loop
	outer    [][]int      // of each outermost loop, the numbers of its elements
	loops    [][]int      // and of all that lies in it, itself included
	held     []held       // the outermost loops, as they are cut
	// step is how deep one pass may go, 0 where no depth is said; spring asks for a spring pass.
	step   float64
	spring bool
}

// Rotary reports whether the part is cut on a rotary table, and at which bearing from its axis the cutter stands.
func (p *Plan) Rotary() (at geom.Bearing, ok bool) {
	if p.rotary == nil {
		return 0, false
	}
	return *p.rotary, true
}

// MetalOf is where the metal is of the closed loop that element n belongs to, On where it belongs to none.
func (p *Plan) MetalOf(n int) Side { return p.metal[n] }

// A PieceError is a piece of an outline that is no element: a number in it is not finite, or its
// radius is not above 0.
type PieceError struct{ Source string }

func (e *PieceError) Error() string {
	return fmt.Sprintf("element %q: want finite coordinates and a radius above 0", e.Source)
}

// ErrEmpty is returned for an outline without elements.
var ErrEmpty = fmt.Errorf("the outline has no element, need at least 1")

// Make plans a part. It fails on numbers that are none ([PieceError], [OptionError]), on what is said of one
// closed element and contradicts itself ([MetalError]), on depths that cannot be cut ([DepthError]), on places that are too
// many or too near together ([PlacesError]), and on nothing to plan ([ErrEmpty]); everything else that is amiss is told in
// Plan.Problems.
func Make(outline Outline, options Options) (*Plan, error) {
	options, err := options.check()
	if err != nil {
		return nil, err
	}
	w := &work{outline: outline, Options: options, part: &Plan{metal: map[int]Side{}, limits: options.Limits, datum: options.Datum}}
	if options.Rotary {
		w.part.rotary = &options.CutterBearing
	}
	if err := w.read(outline); err != nil {
		return nil, err
	}
	if err := w.nest(); err != nil {
		return nil, err
	}
	if err := w.levels(); err != nil {
		return nil, err
	}
	w.slots()
	w.indexElements()
	w.crossings()
	w.blends()
	w.cut()
	w.groups()
	w.part.Order = w.order()
	if err := w.places(); err != nil {
		return nil, err
	}
	return w.part, nil
}
