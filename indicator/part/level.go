package part

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/setup"
)

// SaidDepth is somebody's word on how deep an element is cut: millimetres, from the top of the stock to the floor of its cut.
type SaidDepth struct {
	Depth float64
	By    string // who says so, as an error names it: "line 9 of the drawing says 4 mm", "--depth boss=4"
}

// Depths are what is said of depths beside the drawing, and in which steps they are cut.
type Depths struct {
	Layers []LayerDepth
	// All is what is said of every element that is cut and of which no layer's is said; 0: nothing.
	All SaidDepth
	// Step is how much deeper each pass goes at the most, 0: nobody says. Its By is empty then.
	Step SaidDepth
	// Spring asks for a spring pass at the full depth.
	Spring bool
}

// LayerDepth is what is said of the elements of one layer.
type LayerDepth struct {
	Layer string
	SaidDepth
}

// A DepthError is what is said of depths and cannot be cut.
type DepthError struct{ Seen, Need, hint string }

func (e *DepthError) Error() string { return e.Seen + ", need " + e.Need }

// Hint says what to do.
func (e *DepthError) Hint() string { return e.hint }

// level is how deep a chain is cut.
type level struct {
	saidDepths []SaidDepth
	floor      float64 // 0: nobody says
	by         string  // who does
	// surface is how deep below the top of the stock the finished metal, or the floor, lies in a loop, outside of the loops in
	// it; NaN: nobody says.
	surface float64
}

// atDepth is how much two depths may differ and be one, millimetres: what units round.
const atDepth = 1e-9

// levels gives each chain its depth, finds how high the metal stands in each loop, and refuses what contradicts itself.
func (w *work) levels() error {
	var deepest SaidDepth // of what is cut
	said := false
	for i := range w.chains {
		c := &w.chains[i]
		if err := w.depthOf(c); err != nil {
			return err
		}
		if said = said || c.floor > 0; c.floor > deepest.Depth && w.isCut(c) {
			deepest = SaidDepth{c.floor, c.by}
		}
	}
	w.levelled = deepest.Depth > 0
	if err := w.Depths.check(deepest, said); err != nil {
		return err
	}
	if w.levelled {
		w.part.step, w.part.spring = w.Depths.Step.Depth, w.Depths.Spring
	}
	for i := range w.closed {
		w.chains[i].surface = w.surface(i)
	}
	for i := range w.closed {
		if err := w.stands(i); err != nil {
			return err
		}
	}
	return nil
}

// blind reports whether a hole has a floor: it is cut less deep than the rim of the plate that it lies in.
func (w *work) blind(c *chain) bool {
	return c.floor > 0 && !c.open && w.chains[c.within].side == Inside && c.floor < w.chains[c.within].floor-atDepth
}

// isCut reports whether any element of a chain is cut.
func (w *work) isCut(c *chain) bool {
	return slices.ContainsFunc(c.elements, func(k int) bool { return w.elements[k].n > 0 })
}

// depthOf is how deep a chain is cut: all of it alike.
func (w *work) depthOf(c *chain) error {
	said := slices.Clone(c.saidDepths)
	layer := w.elements[c.elements[0]].layer
	byLayer := false
	for _, k := range c.elements {
		for _, l := range w.Depths.Layers {
			if drawing.SameName(l.Layer, w.elements[k].layer) {
				said, byLayer = append(said, l.SaidDepth), true
			}
		}
	}
	if w.Depths.All.Depth > 0 && !byLayer && w.isCut(c) {
		said = append(said, w.Depths.All)
	}
	for _, s := range said {
		if math.Abs(s.Depth-said[0].Depth) > atDepth {
			return &DepthError{fmt.Sprintf("layer %q: %s, but %s", layer, said[0].By, s.By), "one depth for what is one outline",
				"take one of the two back; what stands on two levels has a line of its own between them"}
		}
		c.floor, c.by = said[0].Depth, said[0].By
	}
	return nil
}

// check refuses depths that nobody says how to come to, and steps to no depth. said: some element has a depth, cut or not.
func (d *Depths) check(deepest SaidDepth, said bool) error {
	const how = "--depth LAYER=D, or --depth D for every element; in an outline depth = D: from the top of the stock to the floor of " +
		"the cut"
	switch {
	case !said && d.Step.Depth > 0:
		return &DepthError{d.Step.By + ", and no depth is said", "the depth of a cut", how}
	case !said && d.Spring:
		return &DepthError{"a spring pass is asked for, and no depth is said", "the depth of a cut", how}
	case deepest.Depth == 0:
	case d.Step.Depth == 0:
		return &DepthError{deepest.By + ", and no step is said", "how deep one pass may go",
			"--step S, or step = S at the top of an outline; the depth itself cuts it in one pass"}
	case d.Step.Depth > deepest.Depth+atDepth:
		return &DepthError{d.Step.By + ", but " + deepest.By, "a step of at most the depth", "the depth itself cuts it in one pass"}
	case passesTo(deepest.Depth, d.Step.Depth) == nil:
		return &DepthError{d.Step.By + ", and " + deepest.By, fmt.Sprintf("at most %d passes", setup.MostPasses),
			"is a decimal point out of place?"}
	}
	return nil
}

// passesTo are the depths of the passes down to a depth in steps, millimetres; nil: no depth is said.
func passesTo(depth, step float64) []float64 {
	cut := setup.Cut{Depth: depth, Step: step}
	return cut.Passes()
}

// surface is how deep below the top of the stock loop i is left between itself and the loops in it: in a hole as deep as that
// is cut; else as deep as the bosses that stand there are, the least deep where they differ; else, in a rim or boss, it is the
// stock's top.
func (w *work) surface(i int) float64 {
	c := &w.chains[i]
	out, unsaid := math.Inf(1), c.side == Outside && c.floor == 0
	for _, k := range c.children {
		if b := &w.chains[k]; b.side == Inside {
			if b.floor > 0 {
				out = min(out, b.floor)
			}
			unsaid = unsaid || b.floor == 0
		}
	}
	switch {
	case c.side == Outside && c.floor > 0:
		return c.floor
	case !math.IsInf(out, 1):
		return out
	case unsaid:
		return math.NaN()
	}
	return 0
}

// stands tells of loop i where its depth contradicts that of what lies round it: a boss has to stand on something, and a
// hole to begin in metal. Floors that no line parts are told.
func (w *work) stands(i int) error {
	c := &w.chains[i]
	if c.parent < 0 || c.floor == 0 {
		return nil
	}
	p := &w.chains[c.parent]
	in, out := w.name(c.elements[0]), w.name(p.elements[0])
	switch {
	case c.side == Inside && p.side == Inside && p.floor > 0 && c.floor >= p.floor-atDepth:
		return &DepthError{fmt.Sprintf("%s stands on %s: %s, but %s", in, out, c.by, p.by), "what stands on the other cut less deep",
			"depths are from the top of the stock to the floor of each cut" + w.saysSide(p) + w.saysSide(c)}
	case c.side == Outside && c.floor <= p.surface+atDepth:
		by := p.by
		for _, k := range p.children {
			if b := &w.chains[k]; b.side == Inside && b.floor == p.surface {
				out, by = w.name(b.elements[0]), b.by
			}
		}
		return &DepthError{fmt.Sprintf("%s is a hole in the floor of %s: %s, but %s", in, out, c.by, by), "the hole deeper than the floor",
			"depths are from the top of the stock to the floor of each cut, of a hole too" + w.saysSide(p) + w.saysSide(c)}
	case c.side == Inside && math.Abs(c.floor-p.surface) > atDepth:
		w.floorsDiffer(i)
	}
	return nil
}

// saysSide says who said on which side a chain's metal is, where anybody did: with the other side the depths may well fit.
func (w *work) saysSide(c *chain) string {
	if len(c.said) == 0 {
		return ""
	}
	return fmt.Sprintf("; that the metal of %s is %v, %s: change that there if it is wrong", w.name(c.elements[0]), c.side,
		c.said[0].By)
}

// floorsDiffer tells that boss i is cut to another depth than what else shows how deep the floor is that it stands on.
func (w *work) floorsDiffer(i int) {
	c := &w.chains[i]
	p := &w.chains[c.parent]
	other := p
	for _, k := range p.children {
		if b := &w.chains[k]; b.side == Inside && b.floor == p.surface && (p.side == Inside || p.floor == 0) {
			other = b
		}
	}
	in, out := c.elements[0], other.elements[0]
	w.tell(Problem{Kind: Floors, N: w.elements[in].n, Other: w.elements[out].n, At: w.elements[in].Start, Size: c.floor, Need: p.surface,
		Names: [2]string{w.name(in), w.name(out)}})
}

// passesOver reports whether the cutter that makes chain a stays above the metal of chain b: by their depths, where those say
// it, else by what lies in what.
func (w *work) passesOver(a, b *chain) bool {
	if top := w.metalTop(b); a.floor > 0 && !math.IsNaN(top) {
		return top >= a.floor-atDepth
	}
	return b.top() <= a.lower
}

// metalTop is how deep below the top of the stock the metal of a chain begins; NaN: nobody says.
func (w *work) metalTop(c *chain) float64 {
	switch {
	case c.open || c.side == Outside && c.parent < 0:
		return math.NaN()
	case c.side == Outside:
		return w.chains[c.parent].surface
	}
	return c.surface
}

// surfaceAt is how deep below the top of the stock the part lies at a place, as seen from within the outermost loop of loop c:
// +Inf in the waste round it, NaN where nobody says.
func (w *work) surfaceAt(c *chain, p geom.Point) float64 {
	at := -1
	for _, i := range w.around(p) {
		if at < 0 || w.chains[i].depth > w.chains[at].depth {
			at = i
		}
	}
	switch {
	case at >= 0:
		return w.chains[at].surface
	case c.open || w.chains[c.within].side == Outside:
		return math.NaN()
	}
	return math.Inf(1)
}

// depthRank is what element i is sorted by: how deep it is cut. Where nobody says, what stands on metal is not cut through and
// comes first, and all else is.
func (w *work) depthRank(i int) float64 {
	c := &w.chains[w.elements[i].chain]
	switch {
	case !w.levelled || c.floor == 0 && !c.open && c.side == Inside && c.lower > 0:
		return 0
	case c.floor == 0:
		return math.Inf(1)
	}
	return c.floor
}

// depth is how deep element n is cut, 0: nobody says.
func (p *Plan) depth(n int) float64 {
	if a := p.arc(n); a != nil {
		return a.Depth
	}
	if l := p.line(n); l != nil {
		return l.Depth
	}
	return 0
}

// stepTo is how deep one pass of element n may go: no deeper than it is cut.
func (p *Plan) stepTo(n int) float64 { return min(p.step, p.depth(n)) }

// higher reports of each place of an order whether the setting that begins there, or the straight there, is cut less deep than one
// after it.
func higher(ranks []rank) []bool {
	out, deepest := make([]bool, len(ranks)), math.Inf(-1)
	for i := len(ranks) - 1; i >= 0; i-- {
		r := &ranks[i]
		out[i] = deepest > r.level && !(i > 0 && ranks[i-1].group == r.group && r.group > 0)
		deepest = max(deepest, r.level)
	}
	return out
}
