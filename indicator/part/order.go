package part

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
)

// Reason says why an element stands where it does in the order.
type Reason int

const (
	SmallBoss     Reason = iota // a small boss before the metal round it is thin
	BySize                      // larger radii first, while the part is stiff
	FirstPass                   // along a slot's centre line, before its walls
	SameSetting                 // the swing radius is set already
	SameCentre                  // and so does the table stand
	StraightsLast               // a slide cuts it; the arcs' centres are no longer needed then
	NoCutter                    // no cutter at hand can do it
	BeyondTravel                // one can, but not within the slide's travel
	HigherFirst                 // what is cut less deep comes before what is cut deeper
	FreesPart                   // it lets the part go, so it comes last
	Chosen                      // the person put it there
	InsideFirst                 // what lies inside an outline comes before that, which still holds it
	RimEarly                    // it is of the rim, and what lies inside comes after it: its setting serves both
)

var reasons = [...]string{"small and convex, while it is stiff", "by size", "first pass of the slot", "same setting", "same centre",
	"straights last", "no cutter", "beyond the slide's travel",
	"the higher level first", "frees the part", "chosen", "inside before the rim",
	"rim before inside for the same swing radius"}

func (r Reason) String() string { return reasons[r] }

// Step is one place in the order.
type Step struct {
	N       int
	Reasons []Reason
	// Sets: the swing radius has to be set before this element.
	Sets bool
	// Changes is the cutter that goes in before this element, 0 where it is the one before.
	Changes float64
	// Passes are the depths of the cutting passes, millimetres, the last of them its depth; nil where no depth is said.
	// Spring asks for one more at that depth.
	Passes []float64
	Spring bool
}

// An OrderError is an order that is none: N is missing from it, unknown, or named twice.
type OrderError struct {
	N     int
	Times int // how often it is named
	Known bool
}

func (e *OrderError) Error() string {
	if !e.Known {
		return fmt.Sprintf("element %d in the order, there is no such element", e.N)
	}
	return fmt.Sprintf("element %d named %d times in the order, need once", e.N, e.Times)
}

// bossShare is the radius, as a share of the largest of the part, up to which a convex arc counts as a
// small boss.
const bossShare = 0.5

// groups puts arcs of one swing radius together, numbered by their first arc until there is an order.
func (w *work) groups() {
	p := w.part
	begun := newNearby(w.Limits.Same) // by the swing radius of its first arc
	var spans [][2]float64            // of each the least and the largest
	var centres []nearby              // of each its centres, by the first arc about them
	for a := range p.Swings() {
		if a.Swing == 0 {
			continue
		}
		g := -1
		for _, k := range begun.of(a.Swing) {
			if a.Swing-spans[k][0] <= w.Limits.Same && spans[k][1]-a.Swing <= w.Limits.Same {
				g = k
				break
			}
		}
		if g < 0 {
			g = len(p.Groups)
			p.Groups = append(p.Groups, Group{N: g + 1})
			begun.add(g, a.Swing)
			spans, centres = append(spans, [2]float64{a.Swing, a.Swing}), append(centres, newNearby(w.Limits.Gap))
		}
		a.Group, spans[g] = g+1, [2]float64{min(spans[g][0], a.Swing), max(spans[g][1], a.Swing)}
		group := &p.Groups[g]
		group.Arcs = append(group.Arcs, a.N)
		if a.Cutter > 0 && !slices.Contains(group.Cutters, a.Cutter) {
			group.Cutters = append(group.Cutters, a.Cutter)
		}
		at := -1
		for _, k := range centres[g].of(a.Centre.X, a.Centre.Y) {
			if p.arc(group.Centres[k][0]).Centre.Sub(a.Centre).Norm() <= w.Limits.Gap {
				at = k
				break
			}
		}
		if at < 0 {
			centres[g].add(len(group.Centres), a.Centre.X, a.Centre.Y)
			group.Centres = append(group.Centres, []int{a.N})
		} else {
			group.Centres[at] = append(group.Centres[at], a.N)
		}
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		for _, n := range g.Arcs {
			g.Swing += p.arc(n).Swing / float64(len(g.Arcs))
		}
	}
}

// arc returns what is swung under number n, an arc or the first pass of a slot; nil: nothing is.
func (p *Plan) arc(n int) *Arc {
	if i, ok := slices.BinarySearchFunc(p.Arcs, n, func(a Arc, n int) int { return cmp.Compare(a.N, n) }); ok {
		return &p.Arcs[i]
	}
	if i, ok := slices.BinarySearchFunc(p.Slots, n, func(s Slot, n int) int { return cmp.Compare(s.N, n) }); ok {
		return &p.Slots[i].Arc
	}
	return nil
}

// line returns straight n, nil: n is not the number of a straight.
func (p *Plan) line(n int) *Line {
	if i, ok := slices.BinarySearchFunc(p.Lines, n, func(l Line, n int) int { return cmp.Compare(l.N, n) }); ok {
		return &p.Lines[i]
	}
	return nil
}

// Swung returns what is swung under number n, an arc or the first pass of a slot; nil: nothing is.
func (p *Plan) Swung(n int) *Arc { return p.arc(n) }

// Swings are the arcs, and the first passes of slots.
func (p *Plan) Swings() iter.Seq[*Arc] {
	return func(yield func(*Arc) bool) {
		for i := range p.Arcs {
			if !yield(&p.Arcs[i]) {
				return
			}
		}
		for i := range p.Slots {
			if !yield(&p.Slots[i].Arc) {
				return
			}
		}
	}
}

// order proposes an order: from the top down where depths are said, and on a level what lies inside an outline before that, while the
// part is stiff and held all round. Of either come settings with small bosses first, then those of larger swing radii, each
// setting's arcs together and those about one centre next to each other. Straights come after the arcs, for the arcs' centres are
// lost with them, and what lets the part go at the very end; of straights those first that are cut as the work lies, then those that
// one turn of it serves together. Straights of inner loops therefore come before an outline that has none to end with. A setting
// that serves both inside and rim is made once, before the rim's others, its arcs inside first. A hole about whose centre other arcs
// lie is what may be swept for them: it comes last of what lies inside. The rules are common practice, no source.
func (w *work) order() []Step {
	w.parts()
	ranks := w.ranks()
	slices.SortStableFunc(ranks, func(a, b rank) int {
		return cmp.Or(
			cmp.Compare(a.late, b.late),
			cmp.Compare(a.level, b.level),
			cmp.Compare(a.turn, b.turn),
			lastIf(a.rim, b.rim),
			lastIf(a.only, b.only),
			lastIf(a.takes, b.takes),
			lastIf(a.big, b.big),
			-cmp.Compare(a.swing, b.swing),
			cmp.Compare(a.group, b.group),
			lastIf(a.own, b.own),
			cmp.Compare(a.floor, b.floor),
			-cmp.Compare(a.cutter, b.cutter),
			cmp.Compare(a.centre, b.centre),
			lastIf(a.hole, b.hole),
			cmp.Compare(a.n, b.n),
		)
	})
	w.slotsFirst(ranks)
	order := make([]int, len(ranks))
	for i, r := range ranks {
		order[i] = r.n
	}
	w.part.number(order)
	steps := w.part.steps(order)
	w.part.Releases, w.part.Mills = w.part.releases(order), w.part.mills(order)
	w.part.hold(order)
	frees, beyond := map[int]bool{}, map[int]bool{}
	for _, f := range w.part.Releases {
		frees[f.N] = true
	}
	for _, p := range w.part.Problems {
		beyond[p.N] = beyond[p.N] || p.Kind == OutOfTravel
	}
	higher, inside := higher(ranks), inside(ranks)
	for i, r := range ranks {
		steps[i].Reasons = w.reasons(ranks, i, beyond)
		if higher[i] {
			steps[i].Reasons = append(steps[i].Reasons, HigherFirst)
		}
		if inside[i] {
			steps[i].Reasons = append(steps[i].Reasons, InsideFirst)
		}
		if rimEarly(ranks, i) {
			steps[i].Reasons = append(steps[i].Reasons, RimEarly)
		}
		if frees[r.n] {
			steps[i].Reasons = append(steps[i].Reasons, FreesPart)
		}
	}
	return steps
}

// reasons say why the element of rank i stands behind the one before it.
func (w *work) reasons(ranks []rank, i int, beyond map[int]bool) []Reason {
	r := &ranks[i]
	a := w.part.arc(r.n)
	switch {
	case a == nil:
		return []Reason{StraightsLast}
	case a.Swing == 0 && beyond[r.n]:
		return []Reason{BeyondTravel}
	case a.Swing == 0:
		return []Reason{NoCutter}
	case i > 0 && ranks[i-1].group == r.group && ranks[i-1].centre == r.centre:
		return []Reason{SameSetting, SameCentre}
	case i > 0 && ranks[i-1].group == r.group:
		return []Reason{SameSetting}
	case r.first:
		return []Reason{FirstPass}
	case !r.big:
		return []Reason{SmallBoss}
	}
	return []Reason{BySize}
}

// slotsFirst moves the first pass of a slot before its walls.
func (w *work) slotsFirst(ranks []rank) {
	place, first := map[int]int{}, map[int]int{} // of each element; and of a slot where the pass comes before
	for i, r := range ranks {
		place[r.n] = i
	}
	for _, s := range w.part.Slots {
		pass, before := place[s.N], len(ranks)
		for _, n := range s.Walls {
			if i, ok := place[n]; ok {
				before = min(before, i)
			}
		}
		if before < pass {
			first[s.N] = before
		}
	}
	key := func(r rank) (at, then int) {
		if i, moved := first[r.n]; moved {
			return i, -1
		}
		return place[r.n], 0
	}
	slices.SortStableFunc(ranks, func(a, b rank) int {
		i, moved := key(a)
		j, other := key(b)
		return cmp.Or(cmp.Compare(i, j), cmp.Compare(moved, other))
	})
}

// inside reports of each place of an order whether the setting that begins there lies inside an outline whose arcs come after it on
// its level.
func inside(ranks []rank) []bool {
	type level struct {
		late int
		at   float64
	}
	out, rims := make([]bool, len(ranks)), map[level]bool{}
	for i := len(ranks) - 1; i >= 0; i-- {
		r := &ranks[i]
		out[i] = r.group != 0 && !r.rim && !(i > 0 && ranks[i-1].group == r.group) && rims[level{r.late, r.level}]
		if r.rim && r.group > 0 {
			rims[level{r.late, r.level}] = true
		}
	}
	return out
}

// rimEarly reports whether the arc of rank i is of the rim and is cut with its setting, that serves what lies inside too, before other
// settings inside.
func rimEarly(ranks []rank, i int) bool {
	r := &ranks[i]
	return r.own && r.group > 0 && !r.only && slices.ContainsFunc(ranks[i+1:], func(o rank) bool {
		return !o.own && o.group > 0 && o.group != r.group
	})
}

// lastIf sorts what is so after what is not.
func lastIf(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// steps lists an order that the person chose.
func (p *Plan) steps(order []int) []Step {
	out := make([]Step, len(order))
	set, cutter := 0, 0.0
	for i, n := range order {
		out[i] = Step{N: n, Reasons: []Reason{Chosen}}
		with := 0.0
		if a := p.arc(n); a != nil && a.Group > 0 {
			out[i].Sets = a.Group != set
			set, with = a.Group, a.Cutter
		} else if l := p.line(n); l != nil {
			with = l.Cutter
		}
		if with > 0 && with != cutter {
			out[i].Changes, cutter = with, with
		}
		out[i].Passes = passesTo(p.depth(n), p.stepTo(n))
		out[i].Spring = p.spring && out[i].Passes != nil
	}
	return out
}

// Reordered is the part with its elements cut in another order. The order must name every element of the
// proposed one once, else an [OrderError] is returned. The receiver stays as it is.
func (p *Plan) Reordered(order []int) (*Plan, error) {
	times := map[int]int{}
	for _, s := range p.Order {
		times[s.N] = 0
	}
	for _, n := range order {
		if _, ok := times[n]; !ok {
			return nil, &OrderError{N: n}
		}
		times[n]++
	}
	for _, s := range p.Order {
		if times[s.N] != 1 {
			return nil, &OrderError{N: s.N, Times: times[s.N], Known: true}
		}
	}
	q := *p
	q.number(order)
	q.Order = q.steps(order)
	q.Releases, q.Mills = q.releases(order), q.mills(order)
	q.hold(order)
	return &q, nil
}
