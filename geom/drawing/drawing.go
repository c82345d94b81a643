// Package drawing reads outlines: from a drawing file of open group codes (DXF), from our own TOML for
// those who have a paper drawing, and from coordinates touched along an existing part. Bytes in, values
// out: it opens no file itself.
//
// Whatever is changed, joined, taken once or left out is told by a [Note]. Arcs keep the centre and the
// radius they were drawn with.
package drawing

import "example.org/trammel/geom"

// Source says where an element comes from.
type Source struct {
	// Line is the line of the file, from 1, at which the entity (of a polyline: the corner) begins.
	Line int
	// Entity is what the file calls it: LINE, ARC, LWPOLYLINE, or the name of one of our tables.
	Entity string
	// Handle is the file's own name for the entity, "" where it has none.
	Handle string
	Layer  string
	// Block names the block that the entity was drawn in, "" for one drawn at its place.
	Block string
	// Aside: its layer is none of [Options.Layers]. It is read all the same, for what lies in what.
	Aside bool
	// Metal is what the file says of a closed element, and Slot that it was written as an arc slot, whose
	// metal is always outside. Says is the line that says it where that is another: the element is drawn again
	// there; else 0.
	Metal Metal
	Slot  bool
	Says  int
	// Depth is how deep the file says that the element is cut, millimetres from the top of the stock to the floor of its cut;
	// 0: it does not say. DepthSays is as Says.
	Depth     float64
	DepthSays int
}

// Metal says on which side of a closed element the metal is, where somebody has said so.
type Metal uint8

// The sides of the metal.
const (
	Unsaid Metal = iota
	MetalInside
	MetalOutside
)

// Path is a chain of elements and where each comes from: From is as long as Chain. Elements keep the
// ends they were drawn with, so that one may begin up to the gap away from where the one before it ends:
// to bring ends together would bend an arc or move its centre. [geom.Meet] tells the gap.
type Path struct {
	Chain geom.Chain
	From  []Source
}

// Layer is a layer of a drawing and how many of its entities were read.
type Layer struct {
	Name        string
	Off, Frozen bool
	Count       int
}

// Outline is what was read. Lengths are millimetres.
type Outline struct {
	// Unit is the unit that the lengths were given in, or the one of ours nearest to it.
	Unit geom.Unit
	// Loops are the paths that end where they begin; a full circle is one of one element.
	Loops []Path
	// Open are all the others.
	Open   []Path
	Layers []Layer
	Notes  []Note
	// Step is how much deeper each pass goes at the most, millimetres, where the file says how it is cut, 0 where not; StepLine
	// is the line that says so. Spring asks for a spring pass.
	Step     float64
	StepLine int
	Spring   bool
}

// Options say how a drawing is read. The zero Options are the usual way.
type Options struct {
	// Unit is what a drawing is in that names no unit itself; nil refuses such a drawing with a
	// *[UnitError]. A drawing that names its unit keeps it.
	Unit *geom.Unit
	// Layers are those that are wanted, whatever the case of their letters; empty wants all. The others are
	// read too, marked [Source.Aside]: a hole is a hole whether or not the plate round it is cut now.
	Layers []string
	// Gap is how far two ends may miss each other and still be joined, millimetres; 0 stands for
	// DefaultGap, below 0 joins only what meets.
	Gap float64
	// Departure is how far the corners of many short chords may lie off the arc that is recognised in
	// them, millimetres; 0 stands for DefaultDeparture, below 0 recognises none.
	Departure float64
}

// What the zero Options stand for, millimetres.
const (
	// DefaultGap is below what a milled corner can show, and far above what rounding to six decimals
	// makes (common practice, no source).
	DefaultGap = 0.01
	// DefaultDeparture is half of the finest tolerance that a swung cutter is set to.
	DefaultDeparture = 0.005
)

func (o Options) gap() float64 {
	switch {
	case o.Gap == 0:
		return DefaultGap
	case o.Gap > meets:
		return o.Gap
	}
	return meets
}

func (o Options) departure() float64 {
	if o.Departure == 0 {
		return DefaultDeparture
	}
	return max(0, o.Departure)
}

// meets is how near two ends, or two centres, have to be to count as the same place, millimetres: ten
// times finer than what the program ever prints.
const meets = 1e-5

// Bounds on what is read, so that memory and time stay bounded whatever the bytes. Seen in one run: 190 000
// straights, or arcs, crowded at their worst (12 MB of text) take 2.5 to 4.0 s, and 0.8 to 1.2 GB over the run, not
// held at once.
const (
	// MaxBytes is the largest drawing.
	MaxBytes = 64 << 20
	// MaxPieces is the most entities and corners, as written and again with every block put in place.
	MaxPieces = 200_000
	// MaxDepth is how deep blocks may lie in blocks.
	MaxDepth = 16
	// MaxLayers is the most layers, and the most kinds of entity that are counted apart.
	MaxLayers = 4096
	// MaxPlaces is the most that blocks may be put in place.
	MaxPlaces = 200_000
	// Largest bounds every length, millimetres: a thousand kilometres is no workpiece.
	Largest = 1e9
)
