package record

import (
	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Plan is what is said of a part: lengths in its unit, angles in degrees. It is written as JSON, and the plan's
// screen and the setting sheet draw from the same object, so that a figure cannot differ between them.
type Plan struct {
	Unit     geom.Unit     `json:"unit"`
	Part     string        `json:"part"` // the part's name
	Setup    string        `json:"setup"`
	Table    bool          `json:"-"` // it is cut on a table that is turned
	Datum    Place         `json:"datum"`
	Hand     string        `json:"hand"` // of the cutter: right or left
	Cutters  []Number      `json:"cutters"`
	Arcs     []PlanArc     `json:"arcs"`
	Lines    []PlanLine    `json:"lines"`
	Slots    []PlanSlot    `json:"slots"`
	Groups   []PlanGroup   `json:"groups"`
	Order    []int         `json:"order"`
	Steps    []PlanStep    `json:"steps"`
	Mills    []PlanMill    `json:"mills,omitempty"`
	Blends   []PlanBlend   `json:"blends"`
	Frees    []PlanFree    `json:"frees"`
	Choice   PlanChoice    `json:"choice"`
	LetPass  Number        `json:"let_pass"` // how deep a gouge, and how high what is left, is let pass at an end
	Problems []PlanProblem `json:"problems"`
	Notes    []string      `json:"notes"`
	// Ways are there where a number of parts was asked for.
	Ways  *PartWays `json:"ways,omitempty"`
	ring  *setup.Ring
	made  *part.Plan
	step  map[int]int   // of each element its place in the order
	amiss map[int][]int // and the problems that name it, by index
	taken []int         // of each step, the hole that has been made last about its centre, 0: none
	// StepHeight is how high the cusps between places may be before rounding, and ReadoutStep what the places are rounded
	// to, in X and in Y; nil where no places are asked for.
	StepHeight  *Number `json:"step_height,omitempty"`
	ReadoutStep *Place  `json:"readout_step,omitempty"`
	hands       [2]*slide.Slide
}

// Place is x and y.
type Place [2]Number

// PlanArc is one arc. It runs counter-clockwise from From to To; Side says where the metal is.
type PlanArc struct {
	N      int    `json:"n"`
	Layer  string `json:"layer"`
	Centre Place  `json:"centre"`
	Radius Number `json:"radius"`
	From   Number `json:"from"`
	To     Number `json:"to"`
	Sweep  Number `json:"sweep"`
	Side   string `json:"side"`
	// MetalFrom is who says so: stated, slot or nesting; null of an open element of which nobody has said it.
	MetalFrom *string `json:"metal_from"`
	Cutter    Number  `json:"cutter"` // null where none is needed to tell, or none can do it
	Swing     Number  `json:"swing"`  // null where no cutter at hand can do it, and a note says why
	Group     int     `json:"group"`  // 0 without a swing radius
	Readout   Place   `json:"readout"`
	Wind      Place   `json:"wind"`
	// Start and Stop are the bearings first and last cut, null of a full circle; Sense is the way to swing the
	// head, or to turn the table, that cuts conventionally. On the head Start turned in Sense by Sweep is Stop; on a
	// table TableStart turned in Sense by Sweep is TableStop.
	Start Number `json:"start"`
	Sense string `json:"sense"`
	// Way is the way from the start to the stop where Sense is none: either cuts alike.
	Way        string     `json:"way,omitempty"`
	Stop       Number     `json:"stop"`
	TableStart Number     `json:"table_start"` // null unless the table turns
	TableStop  Number     `json:"table_stop"`
	RingStart  Number     `json:"ring_start"` // what the head's or the table's ring shows, null without a machine
	RingStop   Number     `json:"ring_stop"`
	Table      *PlanTable `json:"table"` // null unless the table turns
	Ends       []PlanEnd  `json:"ends"`  // at From and at To; none of a full circle
	// Stops are where the swing is stopped by the machine's ring; left out where no graduation of one is known.
	Stops *Stops `json:"stops,omitempty"`
	Slot  int    `json:"slot"` // the slot whose wall or end it is, 0: none
	// ToStep: it stands on metal, and is cut to the depth of its step, not through.
	ToStep bool `json:"to_step"`
	// Depth is from the top of the stock to the floor of its cut, left out where nobody says; Entry where the cutter may go down
	// to a pass: waste, off the part or hole.
	Depth       Number `json:"depth,omitempty"`
	Entry       string `json:"entry,omitempty"`
	*PlanPlaces        // where it is plunged; nil unless that is asked for and no swing makes it
	Source      string `json:"source"`
	ring        *setup.Ring
	comesUp     bool // the cutter may come up to the start from ahead of it
}

// PlanSlot is an arc slot: the figures of an arc are those of its first pass, along its centre line.
type PlanSlot struct {
	PlanArc
	Width      Number `json:"width"`
	Arcs       []int  `json:"arcs"`        // its walls and ends
	SinglePass bool   `json:"single_pass"` // the cutter is as wide, so its arcs are in no other setting
}

// PlanTable is how far the table stands turned counter-clockwise at an arc's From and To.
type PlanTable struct {
	From Number `json:"from"`
	To   Number `json:"to"`
}

// PlanLine is one straight. Axis are the ends of the cutter's axis, in the order in which it cuts
// conventionally; Readout what the readout shows there, with the datum at zero.
type PlanLine struct {
	N       int     `json:"n"`
	Layer   string  `json:"layer"`
	Start   Place   `json:"start"`
	End     Place   `json:"end"`
	Cutter  Number  `json:"cutter"`
	Axis    []Place `json:"axis"`    // none without a cutter
	Readout []Place `json:"readout"` // none without a cutter
	Slide   Number  `json:"slide"`   // bearing of the slide that cuts it as it lies, null where none does
	Table   Number  `json:"table"`   // null unless the table turns
	PlanLay
	Ends   []PlanEnd `json:"ends"`
	Depth  Number    `json:"depth,omitempty"` // as an arc's
	Entry  string    `json:"entry,omitempty"`
	Source string    `json:"source"`
	// comesUp: as of an arc.
	comesUp bool
}

// PlanEnd is how near to an end of an element the cutter has to stop: degrees of the swing, of a straight a length.
type PlanEnd struct {
	At         Place `json:"at"`
	MayOverrun bool  `json:"may_overrun"`
	Into       int   `json:"into"` // the element that is gouged first past the end, 0: none
	Next       int   `json:"next"` // the element that the outline goes on with, 0: none
	// Past is how far beyond a tangent end the cutter may go, null: for good; Short how far before it. Of an end
	// that is no tangent both are null, and EndTolerance says how near the stop has to be, a length.
	Past         Number `json:"past"`
	Short        Number `json:"short"`
	EndTolerance Number `json:"end_tolerance"`
	Before       Number `json:"before"` // how far before an inner corner the cutter stops, 0: no need
	// Clear is as Past, but of other outlines: the cutter may go on so far before it gouges element InWay.
	Clear Number `json:"clear"`
	InWay int    `json:"in_way"`
}

// PlanGroup is what one setting of the swing radius serves.
type PlanGroup struct {
	N       int      `json:"n"`
	Swing   Number   `json:"swing"`
	Arcs    []int    `json:"arcs"`
	Cutters []Number `json:"cutters"`
	Centres [][]int  `json:"centres"` // the arcs parted by centre
}

// PlanStep is one place in the order. Sets: the swing radius has to be set before; Changes: this cutter goes in
// before, null where it is the one before.
type PlanStep struct {
	N       int      `json:"n"`
	Sets    bool     `json:"sets"`
	Changes Number   `json:"changes"`
	Reasons []string `json:"reasons"`
	// Passes are the depths of the cutting passes, the last of them the element's; Spring asks for one more at that depth. Holds are
	// the elements that still hold the part behind it, none while its rim is whole. All are left out where nobody says depths.
	Passes []Number `json:"passes,omitempty"`
	Spring bool     `json:"spring,omitempty"`
	Holds  []int    `json:"holds,omitempty"`
	// Before is what is done ahead of it, in words: the work turned, the readouts zeroed over another axis. Left out where nothing
	// is, and where nobody says depths, no straight is turned for and nothing is plunged.
	Before []string `json:"before,omitempty"`
}

// PlanMill is what the slides mill off between two steps, down to Depth, beyond the floors round bosses: no element, with a number of its
// own. Before is the element that it comes ahead of.
type PlanMill struct {
	N      int    `json:"n"`
	Depth  Number `json:"depth"`
	Round  []int  `json:"round"`
	Before int    `json:"before"`
}

// PlanBlend is where one element meets the next.
type PlanBlend struct {
	Between [2]int `json:"between"`
	At      Place  `json:"at"`
	Tangent bool   `json:"tangent"`
	Kink    Number `json:"kink"`
	Gap     Number `json:"gap"`
}

// PlanFree is where in the order the part comes loose, and what would be left to cut on it.
type PlanFree struct {
	N     int    `json:"n"`
	Left  []int  `json:"left"`
	Depth Number `json:"depth,omitempty"` // of the pass that lets it go
}

// PlanChoice is which cutters do the part, and what each would need alone.
type PlanChoice struct {
	Cutters  []Number     `json:"cutters"`
	Settings int          `json:"settings"`
	Proven   bool         `json:"proven"`
	Singles  []PlanSingle `json:"singles"`
}

// PlanSingle is one cutter alone.
type PlanSingle struct {
	Cutter   Number `json:"cutter"`
	Settings int    `json:"settings"`
	Cannot   []int  `json:"cannot"`
}

// PlanProblem is a problem with its place and size. Size and Need are lengths, of a kink degrees, of
// what is not proven a count.
type PlanProblem struct {
	Kind   string `json:"kind"`
	N      int    `json:"n"`
	Other  int    `json:"other"`
	At     Place  `json:"at"`
	Size   Number `json:"size"`
	Need   Number `json:"need"`
	Cutter Number `json:"cutter"`
	Text   string `json:"text"`
}

// Planned is what a plan was made of: the part, with the wishes and what was told of the drawing.
type Planned struct {
	Name    string
	Part    *part.Plan
	Options part.Options
	Told    []drawing.Note
	Ring    *setup.Ring // the head's or the table's; nil: not known
	// Handwheel is the table's own, zero for none.
	Handwheel setup.Handwheel
	// Slides are those along X and Y that places are gone to by; nil: not known.
	Slides [2]*slide.Slide
	// Offset is the machine's offset slide where nobody has said which swing radii it can set; nil else.
	Offset *slide.Slide
}
