package check

import "slices"

// Length is a figure that a way of measuring takes, by the name that flags give it.
type Length struct {
	Name, Is string
	// Letter stands for its figure where it is told how a way is said.
	Letter string
	Tool   bool // it is known beforehand, of a pin, a gauge or a tip; else it is read on the work
	Signed bool // it may be 0 or below
}

// Lengths are all of them.
var Lengths = []Length{
	{Name: "chord", Is: "chord of the arc", Letter: "C"},
	{Name: "sagitta", Is: "height of the arc over the chord", Letter: "H"},
	{Name: "base", Is: "distance of the feet of a depth gauge", Tool: true},
	{Name: "depth", Is: "its reading, zero on a flat"},
	{Name: "foot-ball", Is: "diameter of the balls that it stands on", Tool: true},
	{Name: "diameter", Is: "diameter, of a full circle or over a rim", Letter: "D"},
	{Name: "over-pins", Is: "over two pins, the convex arc between them on a plate", Letter: "M"},
	{Name: "between-pins", Is: "between the same pins", Letter: "M"},
	{Name: "pin", Is: "diameter of a pin", Letter: "D", Tool: true},
	{Name: "hollow-pins", Is: "over two pins that lie in a hollow", Letter: "M"},
	{Name: "height", Is: "from the bottom of the hollow to a straight edge across both", Letter: "H"},
	{Name: "stands", Is: "how far a pin on the bottom stands above the rim that --chord spans (- below)", Signed: true},
	{Name: "from-hole", Is: "from the wall of a hole, or of a boss, outwards to the arc about its middle", Letter: "W"},
	{Name: "hole", Is: "diameter of that hole or boss", Tool: true},
	{Name: "off-centre", Is: "how far its middle may lie off the arc's", Tool: true},
	{Name: "cusp", Is: "height of the cusp between two grooves"},
	{Name: "pitch", Is: "distance of the grooves", Tool: true},
	{Name: "larger-than", Is: "the arc is larger than this radius gauge", Tool: true},
	{Name: "smaller-than", Is: "the arc is smaller than this radius gauge", Tool: true},
	{Name: "tip-diameter", Is: "diameter of the ball that touched the --points", Tool: true},
}

// Way is one way of measuring a finished arc.
type Way struct {
	Name string
	Is   string // what is measured, in words
	// Needs are the figures that make it up, and May one more that it can have; PointsOn stands for points that were
	// touched on the arc.
	Needs []string
	May   string
	// Says are the figures that are said one after the other where a finished arc is asked for at the machine, the first
	// of them its word; nil where the way is not taken there. Aim is the one that is told as it should have been.
	Says []string
	Aim  string
	// Only is where the metal can only be, nil where it can be on either side.
	Only *Side
	// Measure works out the arc from its figures; nil of points ([Points]) and of gauges, which give bounds ([Gauges]).
	Measure func(figure func(name string) Figure, s Side) (Arc, error)
	Bounds  bool // it gives bounds and no figure
}

// PointsOn names points touched on the arc among the figures of a way.
const PointsOn = "points"

var inside, outside = Inside, Outside

// Ways are all of them.
var Ways = []Way{
	{Name: "chord", Is: "a chord, and the height over it",
		Needs: []string{"chord", "sagitta"}, Says: []string{"chord", "sagitta"}, Aim: "sagitta",
		Measure: func(f figures, _ Side) (Arc, error) { return Chord(f("chord"), f("sagitta")) }},
	{Name: "base", Needs: []string{"base", "depth"}, May: "foot-ball",
		Measure: func(f figures, s Side) (Arc, error) { return Base(f("base"), f("depth"), f("foot-ball"), s) }},
	{Name: "cusp", Needs: []string{"cusp", "pitch"},
		Measure: func(f figures, _ Side) (Arc, error) { return Cusp(f("pitch"), f("cusp")) }},
	{Name: "diameter", Is: "across, of a full circle or a rim of more than half",
		Needs: []string{"diameter"}, Says: []string{"diameter"}, Aim: "diameter",
		Measure: func(f figures, _ Side) (Arc, error) { return Diameter(f("diameter")) }},
	{Name: "over pins", Is: "over two pins at its sides on a plate",
		Needs: []string{"over-pins", "pin"}, Says: []string{"over-pins", "pin"}, Aim: "over-pins", Only: &inside,
		Measure: func(f figures, _ Side) (Arc, error) { return OverPins(f("over-pins"), f("pin")) }},
	{Name: "between pins", Is: "between two pins at its sides on a plate",
		Needs: []string{"between-pins", "pin"}, Says: []string{"between-pins", "pin"}, Aim: "between-pins",
		Only: &inside, Measure: func(f figures, _ Side) (Arc, error) { return BetweenPins(f("between-pins"), f("pin")) }},
	{Name: "hollow pins", Is: "over two pins lying in it, and the height to a straight edge on both",
		Needs: []string{"hollow-pins", "height", "pin"}, Says: []string{"hollow-pins", "pin", "height"},
		Aim: "height", Only: &outside,
		Measure: func(f figures, _ Side) (Arc, error) { return PinsInHollow(f("hollow-pins"), f("pin"), f("height")) }},
	{Name: "hollow pin", Needs: []string{"chord", "pin", "stands"}, Only: &outside,
		Measure: func(f figures, _ Side) (Arc, error) { return PinInHollow(f("chord"), f("pin"), f("stands")) }},
	{Name: "from hole", Is: "outwards from the wall of the hole or boss that was swept",
		Needs: []string{"from-hole", "hole"}, May: "off-centre", Says: []string{"from-hole"}, Aim: "from-hole",
		Measure: func(f figures, _ Side) (Arc, error) { return FromHole(f("from-hole"), f("hole"), f("off-centre")) }},
	{Name: "points", Needs: []string{PointsOn}, May: "tip-diameter"},
	{Name: "gauge", Needs: []string{"larger-than"}, May: "smaller-than", Bounds: true},
	{Name: "gauge", Needs: []string{"smaller-than"}, Bounds: true},
}

// figures are those of a measurement by their names.
type figures = func(name string) Figure

// WayOf finds the one way whose figures these are; nil where they are of none, or of more than one.
func WayOf(given []string) *Way {
	given = slices.Sorted(slices.Values(given))
	for i := range Ways {
		w := &Ways[i]
		want := slices.Clone(w.Needs)
		if slices.Contains(given, w.May) {
			want = append(want, w.May)
		}
		if slices.Sort(want); slices.Equal(want, given) {
			return w
		}
	}
	return nil
}
