package check

import (
	"math"
	"slices"

	"example.org/trammel/indicator"
)

// The figures that finished arcs lean on, in the order in which they are told. A pin's words are its [input]'s name.
var leanings = []indicator.Figure{
	{Name: "swing", Key: "swing_error", Words: "swing radius", Cure: "state how well it was set"},
	{Name: indicator.OfCutter, Key: "cutter_error", Words: "cutter", Cure: "measure the cutter"},
	{Name: "pin", Key: "tool_error", Words: "pin", Cure: "measure the pin"},
	{Name: "base", Key: "tool_error", Words: "base", Cure: "measure the base"},
	{Name: "foot_ball", Key: "tool_error", Words: "foot's ball", Cure: "measure the ball"},
	{Name: "pitch", Key: "tool_error", Words: "pitch", Cure: "measure the pitch"},
	{Name: "tip_diameter", Key: "tool_error", Words: "tip", Cure: "measure the tip"},
	{Name: "gauge", Key: "tool_error", Words: "gauge", Cure: "measure the gauge"},
	{Name: "hole", Key: "tool_error", Words: "hole", Cure: "measure the hole"},
	{Name: "off_centre", Key: "off_centre", Words: "hole's middle", Cure: "state how far it may lie off the arc's"},
	{Name: "readout", Key: "error", Words: "readout", Cure: "have the readout checked"},
	{Name: "wind", Key: "wind_error", Words: "last wind", Cure: "state how well the slide is set"},
}

// lean adds a figure that is taken as exact, a millimetre of whose error makes so much of the radius.
func lean(a indicator.Assumed, words string, by float64) indicator.Assumed {
	i := slices.IndexFunc(leanings, func(f indicator.Figure) bool { return f.Words == words })
	if i < 0 || !(by > 0) {
		return a
	}
	a = append(a, indicator.Lean{Figure: leanings[i], Radius: by})
	slices.SortStableFunc(a, func(x, y indicator.Lean) int { return place(x.Words) - place(y.Words) })
	return a
}

func place(words string) int {
	return slices.IndexFunc(leanings, func(f indicator.Figure) bool { return f.Words == words })
}

// On is the figure of a name as something that an answer leans on; where it is stated, nothing.
func (f Figure) On(words string) indicator.Assumed {
	if f.doubted() {
		return nil
	}
	return lean(nil, words, 1)
}

// Room is what a tolerance leaves for what the arc takes as exact; NaN where it takes nothing so.
func (a Arc) Room(target, tolerance float64) float64 {
	if len(a.Assumed) == 0 {
		return math.NaN()
	}
	v := a.Radius.Value()
	return tolerance - math.Abs(v.V-target) - v.U
}

// Room is the same of gauges: how far the nearer of the two is inside.
func (b Bounds) Room(target, tolerance float64) float64 {
	if len(b.Assumed) == 0 {
		return math.NaN()
	}
	return min(b.Above-(target-tolerance), target+tolerance-b.Below)
}
