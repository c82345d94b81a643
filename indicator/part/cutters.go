package part

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// Choice is which cutters do the part, and why.
type Choice struct {
	Cutters  []float64 // diameters chosen, largest first
	Settings int       // swing radii that they need
	Proven   bool      // no fewer settings will do
	// Singles is what each cutter at hand would need by itself.
	Singles []Single
}

// Single is one cutter doing the part alone.
type Single struct {
	Cutter   float64
	Settings int   // swing radii for the arcs that it can do
	Cannot   []int // the arcs that it cannot do, or only worse than another at hand
}

// mostNodes and mostCutters bound the search for the fewest settings; beyond them the choice is good
// but not proven. A plate of 30 arcs and 5 cutters takes some thousands of nodes.
const (
	mostNodes   = 200_000
	mostCutters = 8
)

// choose picks a cutter, by index, for each element: −1 where none can.
//
// The fewest swing radii that do all arcs are a least cover: each swing radius serves the arcs that
// some cutter at hand cuts with it. It is found exactly, by branching on the arc with the fewest
// possibilities, for every set of the cutters at hand; of the sets that need the fewest settings the
// smallest is taken, then the one with the larger cutters, which are stiffer (common practice, no
// source). A cutter that gouges counts only for an arc that every other one gouges deeper.
func (w *work) choose(tried [][]trial) []int {
	chosen := make([]int, len(tried))
	for i := range chosen {
		chosen[i] = -1
	}
	c := w.candidates(tried)
	best := c.search(w)
	if best.settings < math.MaxInt {
		w.part.Choice.Proven = c.nodes < mostNodes && !c.few
		w.part.Choice.Settings = best.settings
		for k, arc := range c.arcs {
			chosen[arc] = c.assign(k, best)
		}
	}
	if !w.part.Choice.Proven && best.settings > 0 && best.settings < math.MaxInt {
		w.tell(Problem{Kind: Unproven, Size: float64(best.settings)})
	}
	used := map[int]bool{}
	for _, k := range chosen {
		if k >= 0 {
			used[k] = true
		}
	}
	for i := range w.elements {
		if !w.elements[i].Curved() && w.elements[i].n > 0 {
			if chosen[i] = w.forLine(tried[i], used); chosen[i] >= 0 && len(c.arcs) == 0 {
				used[chosen[i]] = true
			}
		}
	}
	for k, d := range w.Cutters {
		if used[k] && !slices.Contains(w.part.Choice.Cutters, d) {
			w.part.Choice.Cutters = append(w.part.Choice.Cutters, d)
		}
	}
	slices.SortFunc(w.part.Choice.Cutters, func(a, b float64) int { return cmp.Compare(b, a) })
	return chosen
}

// forLine is the cutter for a straight: of those in use (of all, where there is none) the one that
// gouges least, then the one with the fewest corners, then the largest.
func (w *work) forLine(tried []trial, used map[int]bool) int {
	best := -1
	for k := range tried {
		if len(used) > 0 && !used[k] || tried[k].level == impossible {
			continue
		}
		if best < 0 {
			best = k
			continue
		}
		a, b := &tried[k], &tried[best]
		switch {
		case a.excess != b.excess:
			if a.excess < b.excess {
				best = k
			}
		case len(a.problems) != len(b.problems):
			if len(a.problems) < len(b.problems) {
				best = k
			}
		case a.cutter > b.cutter:
			best = k
		}
	}
	return best
}

// cover is the search for the fewest settings.
type cover struct {
	arcs     []int     // those that some cutter can do, by element index
	swings   []float64 // the settings there are to choose from
	serves   [][][]int // by arc, by setting: the cutters that cut it with that setting, largest first
	few      bool      // not all sets of cutters were tried
	nodes    int
	cutters  []float64
	elements []element
	settings [][]int // by arc: settings that serve it, in any set of cutters
}

// pick is a set of settings done with a set of cutters.
type pick struct {
	settings int
	chosen   []int // settings, by index
	cutters  uint  // a set of cutters
	total    float64
}

// candidates collects the settings that can serve each arc.
func (w *work) candidates(tried [][]trial) *cover {
	c := &cover{cutters: w.Cutters, elements: w.elements}
	type use struct {
		swing       float64
		arc, cutter int
	}
	var uses []use
	for i := range tried {
		if !w.elements[i].Curved() {
			continue
		}
		level, least := impossible, math.Inf(1)
		for k := range tried[i] {
			t := &tried[i][k]
			if level = min(level, t.level); t.level < impossible {
				least = min(least, t.excess)
			}
		}
		if level == impossible {
			continue
		}
		for k := range tried[i] {
			if t := &tried[i][k]; t.level == clean || level == gouges && t.level == gouges && t.excess <= least {
				uses = append(uses, use{t.path.Radius, len(c.arcs), k})
			}
		}
		c.arcs = append(c.arcs, i)
	}
	slices.SortStableFunc(uses, func(a, b use) int { return cmp.Compare(a.swing, b.swing) })
	c.serves, c.settings = make([][][]int, len(c.arcs)), make([][]int, len(c.arcs))
	for _, u := range uses {
		if n := len(c.swings); n == 0 || u.swing-c.swings[n-1] > w.Limits.Same {
			c.swings = append(c.swings, u.swing)
			for k := range c.serves {
				c.serves[k] = append(c.serves[k], nil)
			}
		}
		at := &c.serves[u.arc][len(c.swings)-1]
		*at = append(*at, u.cutter)
	}
	for k := range c.serves {
		for s, by := range c.serves[k] {
			if len(by) > 0 {
				slices.SortStableFunc(by, func(a, b int) int { return cmp.Compare(w.Cutters[b], w.Cutters[a]) })
				c.settings[k] = append(c.settings[k], s)
			}
		}
	}
	return c
}

// search tries every set of cutters, small sets first.
func (c *cover) search(w *work) pick {
	best := pick{settings: math.MaxInt}
	if len(c.arcs) == 0 {
		best.settings = 0
		w.part.Choice.Singles = w.singles(c)
		return best
	}
	n := len(c.cutters)
	sets := []uint{}
	if n <= mostCutters {
		for set := uint(1); set < 1<<n; set++ {
			sets = append(sets, set)
		}
	} else {
		// Each alone, and all together.
		c.few = true
		for k := range min(n, bits.UintSize-1) {
			sets = append(sets, 1<<k)
		}
		sets = append(sets, math.MaxUint)
	}
	slices.SortStableFunc(sets, func(a, b uint) int { return bits.OnesCount(a) - bits.OnesCount(b) })
	for _, set := range sets {
		p := pick{settings: math.MaxInt, cutters: set}
		for k, d := range c.cutters {
			if has(set, k) {
				p.total += d
			}
		}
		// A larger set is worth it only where it needs fewer settings.
		limit := best.settings
		if best.settings < math.MaxInt && bits.OnesCount(set) == bits.OnesCount(best.cutters) && p.total > best.total {
			limit++
		}
		p.settings = limit
		c.extend(make([]bool, len(c.arcs)), nil, &p)
		if p.settings < limit {
			best = p
		}
	}
	w.part.Choice.Singles = w.singles(c)
	return best
}

func has(set uint, k int) bool { return set == math.MaxUint || set&(1<<k) != 0 }

// can reports whether a setting serves an arc with one of a set of cutters.
func (c *cover) can(arc, setting int, set uint) bool {
	return slices.ContainsFunc(c.serves[arc][setting], func(k int) bool { return has(set, k) })
}

// extend adds settings to those chosen until every arc is served, in every way that could need fewer
// settings than the best found, and keeps the best.
func (c *cover) extend(done []bool, chosen []int, best *pick) {
	if len(chosen) >= best.settings || c.nodes >= mostNodes && best.settings < math.MaxInt {
		return // no better, or good but not proven
	}
	c.nodes++
	arc, ways := -1, math.MaxInt
	for k := range c.arcs {
		if done[k] {
			continue
		}
		n := 0
		for _, s := range c.settings[k] {
			if c.can(k, s, best.cutters) {
				n++
			}
		}
		if n < ways {
			arc, ways = k, n
		}
	}
	if arc < 0 {
		best.settings, best.chosen = len(chosen), slices.Clone(chosen)
		return
	}
	if len(chosen)+1 >= best.settings {
		return
	}
	for _, s := range c.ways(arc, done, best.cutters) {
		after := slices.Clone(done)
		for k := range c.arcs {
			after[k] = after[k] || c.can(k, s, best.cutters)
		}
		c.extend(after, append(chosen, s), best)
	}
}

// ways are the settings that serve an arc, those first that serve most of the arcs left: the first
// way down is the greedy choice.
func (c *cover) ways(arc int, done []bool, set uint) []int {
	var out []int
	served := map[int]int{}
	for _, s := range c.settings[arc] {
		if !c.can(arc, s, set) {
			continue
		}
		out = append(out, s)
		for k := range c.arcs {
			if !done[k] && c.can(k, s, set) {
				served[s]++
			}
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return served[b] - served[a] })
	return out
}

// assign is the cutter for an arc in a pick: the largest that one of its settings serves it with.
func (c *cover) assign(arc int, p pick) int {
	best := -1
	for _, s := range p.chosen {
		for _, k := range c.serves[arc][s] {
			if has(p.cutters, k) && (best < 0 || c.cutters[k] > c.cutters[best]) {
				best = k
			}
		}
	}
	return best
}

// singles tells what each cutter would need alone. Where a cutter makes a slot in one pass, the others alone would
// make it in several: their plans are others, and are made to be asked.
func (w *work) singles(c *cover) []Single {
	out := c.singles()
	for k, d := range w.Cutters {
		if len(w.Cutters) < 2 || !slices.ContainsFunc(w.chains, func(c chain) bool { return c.slot != nil && c.slot.single }) {
			break
		}
		o := w.Options
		o.Cutters, o.StepHeight = []float64{d}, 0
		if alone, err := Make(w.outline, o); err == nil {
			out[k] = alone.Choice.Singles[0]
		}
	}
	return out
}

// singles tells what each cutter would need alone.
func (c *cover) singles() []Single {
	var out []Single
	for k, d := range c.cutters {
		s := Single{Cutter: d}
		used := map[int]bool{}
		for arc := range c.arcs {
			able := false
			for setting, by := range c.serves[arc] {
				if slices.Contains(by, k) {
					able, used[setting] = true, true
				}
			}
			if !able {
				s.Cannot = append(s.Cannot, c.elements[c.arcs[arc]].n)
			}
		}
		s.Settings = len(used)
		out = append(out, s)
	}
	return out
}
