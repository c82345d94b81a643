package lines

import (
	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/geom/plan"
)

// Plan is what is said of a part: lengths in its unit, angles in degrees.
type Plan struct {
	Unit     geom.Unit     `json:"unit"`
	Part     string        `json:"part"` // the part's name
	Setup    string        `json:"setup"`
	Datum    Place         `json:"datum"`
	Hand     string        `json:"hand"` // of the cutter: right or left
	Cutters  []Number      `json:"cutters"`
	Arcs     []PlanArc     `json:"arcs"`
	Lines    []PlanLine    `json:"lines"`
	Groups   []PlanGroup   `json:"groups"`
	Order    []int         `json:"order"`
	Steps    []PlanStep    `json:"steps"`
	Blends   []PlanBlend   `json:"blends"`
	Frees    []PlanFree    `json:"frees"`
	Choice   PlanChoice    `json:"choice"`
	Problems []PlanProblem `json:"problems"`
	Notes    []string      `json:"notes"`
}

// Place is x and y.
type Place [2]Number

// PlanArc is one arc. It runs counter-clockwise from From to To; Side says where the metal is.
type PlanArc struct {
	N       int    `json:"n"`
	Layer   string `json:"layer"`
	Centre  Place  `json:"centre"`
	Radius  Number `json:"radius"`
	From    Number `json:"from"`
	To      Number `json:"to"`
	Sweep   Number `json:"sweep"`
	Side    string `json:"side"`
	Cutter  Number `json:"cutter"` // null where none is needed to tell, or none can do it
	Swing   Number `json:"swing"`  // null where no cutter at hand can do it, and a note says why
	Group   int    `json:"group"`  // 0 without a swing radius
	Readout Place  `json:"readout"`
	Wind    Place  `json:"wind"`
	// Sense is the way to swing the head, or to turn the table, that cuts conventionally.
	Sense  string     `json:"sense"`
	Table  *PlanTable `json:"table"` // null unless the table turns
	Ends   []PlanEnd  `json:"ends"`  // at From and at To; none of a full circle
	Source string     `json:"source"`
}

// PlanTable is how far the table stands turned counter-clockwise at an arc's From and To.
type PlanTable struct {
	From Number `json:"from"`
	To   Number `json:"to"`
}

// PlanLine is one straight. Axis are the ends of the cutter's axis, in the order in which it cuts
// conventionally; Readout what the readout shows there, with the datum at zero.
type PlanLine struct {
	N       int       `json:"n"`
	Layer   string    `json:"layer"`
	Start   Place     `json:"start"`
	End     Place     `json:"end"`
	Cutter  Number    `json:"cutter"`
	Axis    []Place   `json:"axis"`    // none without a cutter
	Readout []Place   `json:"readout"` // none without a cutter
	Slide   Number    `json:"slide"`   // bearing of the slide that cuts it, null where none can
	Table   Number    `json:"table"`   // null unless the table turns
	Ends    []PlanEnd `json:"ends"`
	Source  string    `json:"source"`
}

// PlanEnd is how the cutter comes to an end of an element.
type PlanEnd struct {
	At         Place  `json:"at"`
	MayOverrun bool   `json:"may_overrun"`
	Bite       Number `json:"bite"` // how far it would pass into element Into when run past the end
	Into       int    `json:"into"` // 0: nothing to bite
	Short      Number `json:"short"`
	ShortAngle Number `json:"short_angle"` // null at a straight's end
}

// PlanGroup is what one setting of the swing radius serves.
type PlanGroup struct {
	N       int      `json:"n"`
	Swing   Number   `json:"swing"`
	Arcs    []int    `json:"arcs"`
	Cutters []Number `json:"cutters"`
	Centres [][]int  `json:"centres"` // the arcs parted by centre
}

// PlanStep is one place in the order. Sets: the swing radius has to be set before.
type PlanStep struct {
	N       int      `json:"n"`
	Sets    bool     `json:"sets"`
	Reasons []string `json:"reasons"`
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
	N    int   `json:"n"`
	Left []int `json:"left"`
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
	Part    *plan.Part
	Options plan.Options
	Told    []drawing.Note
}
