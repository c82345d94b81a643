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
		for k, cutter := range c.assign(best) {
			chosen[c.arcs[k]] = cutter
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
	serves   [][]serve // by arc: the settings that serve it, in any set of cutters
	few      bool      // not all sets of cutters were tried
	nodes    int
	cutters  []float64
	elements []element
}

// serve is a setting that serves an arc, and the cutters that cut it with that, largest first.
type serve struct {
	setting int
	cutters []int
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
	c.serves = make([][]serve, len(c.arcs))
	for _, u := range uses {
		if n := len(c.swings); n == 0 || u.swing-c.swings[n-1] > w.Limits.Same {
			c.swings = append(c.swings, u.swing)
		}
		setting, by := len(c.swings)-1, &c.serves[u.arc]
		if n := len(*by); n == 0 || (*by)[n-1].setting != setting {
			*by = append(*by, serve{setting: setting})
		}
		last := &(*by)[len(*by)-1]
		last.cutters = append(last.cutters, u.cutter)
	}
	for _, all := range c.serves {
		for _, s := range all {
			slices.SortStableFunc(s.cutters, func(a, b int) int { return cmp.Compare(w.Cutters[b], w.Cutters[a]) })
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
		c.with(set).extend(0, &p)
		if p.settings < limit {
			best = p
		}
	}
	w.part.Choice.Singles = w.singles(c)
	return best
}

func has(set uint, k int) bool { return set == math.MaxUint || set&(1<<k) != 0 }

// branch is the search with one set of cutters: who serves whom, and what is done so far.
type branch struct {
	*cover
	settings [][]int // by arc: the settings that serve it
	served   [][]int // by setting: the arcs that it serves
	order    []int   // the arcs, those with the fewest settings first
	done     []bool
	left     []int // by setting: how many of its arcs are not done
	chosen   []int // settings
}

// with begins the search with one set of cutters.
func (c *cover) with(set uint) *branch {
	b := &branch{cover: c, settings: make([][]int, len(c.arcs)), served: make([][]int, len(c.swings)), order: make([]int, len(c.arcs)),
		done: make([]bool, len(c.arcs)), left: make([]int, len(c.swings))}
	for k, all := range c.serves {
		b.order[k] = k
		for _, s := range all {
			if slices.ContainsFunc(s.cutters, func(k int) bool { return has(set, k) }) {
				b.settings[k] = append(b.settings[k], s.setting)
				b.served[s.setting] = append(b.served[s.setting], k)
				b.left[s.setting]++
			}
		}
	}
	slices.SortStableFunc(b.order, func(k, l int) int { return cmp.Compare(len(b.settings[k]), len(b.settings[l])) })
	return b
}

// take adds a setting to those chosen, and returns the arcs that it makes done.
func (b *branch) take(setting int) (made []int) {
	b.chosen = append(b.chosen, setting)
	for _, k := range b.served[setting] {
		if !b.done[k] {
			b.done[k], made = true, append(made, k)
			for _, s := range b.settings[k] {
				b.left[s]--
			}
		}
	}
	return made
}

// back takes the last one back.
func (b *branch) back(made []int) {
	b.chosen = b.chosen[:len(b.chosen)-1]
	for _, k := range made {
		b.done[k] = false
		for _, s := range b.settings[k] {
			b.left[s]++
		}
	}
}

// extend adds settings to those chosen until every arc is served, in every way that could need fewer
// settings than the best found, and keeps the best. All arcs before place from of the order are done. It branches on the arc with
// the fewest settings, to those first that serve most of the arcs left: the first way down is the greedy choice.
func (b *branch) extend(from int, best *pick) {
	if len(b.chosen) >= best.settings || b.nodes >= mostNodes && best.settings < math.MaxInt {
		return // no better, or good but not proven
	}
	b.nodes++
	for from < len(b.order) && b.done[b.order[from]] {
		from++
	}
	if from == len(b.order) {
		best.settings, best.chosen = len(b.chosen), slices.Clone(b.chosen)
		return
	}
	if len(b.chosen)+1 >= best.settings {
		return
	}
	ways := slices.Clone(b.settings[b.order[from]])
	slices.SortStableFunc(ways, func(s, t int) int { return b.left[t] - b.left[s] })
	for _, s := range ways {
		made := b.take(s)
		b.extend(from, best)
		b.back(made)
	}
}

// assign is the cutter for each arc in a pick: the largest that one of its settings serves it with.
func (c *cover) assign(p pick) []int {
	cutters, place := make([]int, len(c.arcs)), map[int]int{}
	for i, s := range p.chosen {
		place[s] = i + 1
	}
	for k, all := range c.serves {
		best, first := -1, 0
		for _, s := range all {
			at := place[s.setting]
			if at == 0 {
				continue
			}
			for _, i := range s.cutters {
				if has(p.cutters, i) && (best < 0 || c.cutters[i] > c.cutters[best] || c.cutters[i] == c.cutters[best] && at < first) {
					best, first = i, at
				}
			}
		}
		cutters[k] = best
	}
	return cutters
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
			for _, by := range c.serves[arc] {
				if slices.Contains(by.cutters, k) {
					able, used[by.setting] = true, true
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
