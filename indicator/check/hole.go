package check

// FromHole measures an arc about the middle of a hole, or of a boss, by the way W from its wall straight outwards to the
// arc: over a wall that was left between a hole and a rim by the jaws of a caliper, across the gap between a boss and a
// hollow by the inside jaws, from a boss's wall to a rim, or from a hole's to a hollow, by a depth rod. Outwards is away
// from the middle in all four, so
//
//	r = D/2 + W        ∂r/∂W = 1        ∂r/∂D = ½
//
// D is the hole's or the boss's diameter, and off bounds how far its middle may lie off the arc's, which counts whole where
// W is taken at one place. An arc that lies within the hole has no such W.
func FromHole(w, hole, off Figure) (Arc, error) {
	wall, d := input{name: "wall", Figure: w, slope: 1}, input{name: "hole", Figure: hole, slope: 0.5, known: true}
	if err := above(wall, d); err != nil {
		return Arc{}, err
	}
	centre := input{name: "hole's middle", Figure: Figure{Limit: off.V}, slope: 1, known: true}
	if err := finite(centre); err != nil {
		return Arc{}, err
	}
	return arc("from hole", "r = D/2 + W", float64(hole.V/2)+w.V, wall, d, centre)
}
