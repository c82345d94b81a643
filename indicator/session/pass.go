package session

import (
	"slices"

	"example.org/trammel/indicator/setup"
)

// Where a depth is stated the cut at each radius is made in passes, one deeper than the other. The cutter stands in the metal then,
// so it is lifted out before anything is wound and before a hand comes near; and where the job asks for it one more pass at the full
// depth takes off what the cutter has sprung away, before anything is measured.

// CutPass is one of the passes of a cut: the Nth of so many at its radius, and how deep it goes, millimetres from the top of the stock.
type CutPass struct {
	N, Of int
	Depth float64
	// Step is how deep one pass may go.
	Step float64
	// Spring says that it goes over the last one again, whose number it has.
	Spring bool
	// Rough says that stock stays on for what is measured behind it, and Whole that what is left then is taken off the whole depth at
	// once, where the cut before was made by steps.
	Rough, Whole bool
	// First says that it is the first at its radius.
	First bool
	// Fresh says that no pass has been made yet in whose way the cutter could go down, and AtOnce how much deeper it goes than those
	// that were made, millimetres: more than the step where passes were left out.
	Fresh  bool
	AtOnce float64
}

// Jumps reports whether a pass goes deeper at once than its step says, or cuts for the first time what it is to spring over.
func (p CutPass) Jumps() bool { return p.AtOnce > p.Step+noMetal || p.Spring && p.AtOnce > noMetal }

// Deep is what is stated of how deep the arc is cut, nil where nothing is or the setting's order is older than passes. Of a slot on
// its centre line, which has metal on both sides, the drawing says it.
func (s *State) Deep() *setup.Cut {
	if s.Set == nil || !s.Set.Steps || s.Set.Order < cutOrder {
		return nil
	}
	c := s.Set.Job.Cut
	if c == nil { // along a slot's centre line there is no metal on a side for a job's cut to name
		c = s.Set.Arc.Cut()
	}
	if len(c.Passes()) == 0 {
		return nil
	}
	return c
}

// Entry is where the cutter may go down to a pass, as somebody has said.
func (s *State) Entry() setup.WayIn {
	if c := s.Deep(); c != nil {
		return c.Entry
	}
	return setup.WayInUnsaid
}

// roughs are the chores of a cut that leaves stock on.
func (s *State) roughs() []Chore {
	if c := s.Deep(); c != nil {
		return s.passes(len(c.Passes()))
	}
	return []Chore{RoughCut}
}

// finishes are the chores of the cut to size, which takes so much off, millimetres; all there is where nothing was left on.
func (s *State) finishes(off float64) []Chore {
	c := s.Deep()
	switch {
	case c == nil:
		return []Chore{Cut}
	case off > 0 && light(c, off):
		return s.passes(1)
	}
	return s.passes(len(c.Passes()))
}

// passes are so many of them, with what comes behind the last.
func (s *State) passes(n int) []Chore {
	if s.Deep().Spring {
		n++
	}
	return append(slices.Repeat([]Chore{Pass}, n), LiftOut)
}

// What a cutter takes off the whole depth at once without being bent far: a tenth of its diameter, where it is no deeper than two
// of its diameters, which the flutes of a plain end mill reach (common practice, no source).
const (
	lightShare  = 1.0 / 10
	flutesReach = 2
)

// light reports whether what is left on is taken off the whole depth at once: one pass leaves one wall, where steps leave a line each.
func light(c *setup.Cut, off float64) bool {
	return off <= lightShare*c.Cutter+noMetal && c.Depth <= flutesReach*c.Cutter+noMetal
}

// takesOff is what the cut to size takes off the arc, millimetres, by what was known when the last wind was told; 0 where no stock
// was left on.
func (s *State) takesOff() float64 {
	if s.ByTrial() {
		done := s.Worked
		if i := slices.IndexFunc(done, func(w Worked) bool { return w.Step == LastWind }); i >= 0 {
			done = done[:i]
		}
		_, now := s.cuts(done)
		if !now.Known {
			return s.leastLeaves()
		}
		return -s.CutAway(now.Radius)
	}
	if w := s.roughCut(); w != nil && !s.BySetting() {
		return -s.CutAway(*w.Value)
	}
	return s.Set.Job.Cut.Stock
}

// PassAt is the pass that stands at place i (from 0) of the order from the accepted setting on; ok is false of any other step, and of
// those of a look, which has an order of its own.
func (s *State) PassAt(i int) (p CutPass, ok bool) {
	if s.Bump != nil {
		return p, false
	}
	return s.passAt(i)
}

func (s *State) passAt(i int) (p CutPass, ok bool) {
	c := passesOf{s.Deep()}
	if c.Cut == nil || !s.Accepted() {
		return p, false
	}
	all := s.behind()
	if i < 0 || i >= len(all) || all[i] != Pass {
		return p, false
	}
	p, from, to := c.in(all, i)
	next := slices.IndexFunc(all[to:], func(c Chore) bool { return c == Measure || c == CheckArc })
	p.Rough = next >= 0 && all[to+next] == Measure
	deepest := 0.0
	p.Fresh = true
	for k := range i {
		if all[k] != Pass || k < len(s.Worked) && s.Worked[k].Skipped { // one still to come is made before this one
			continue
		}
		if p.Fresh = false; k < from && !p.Whole {
			continue // at another radius; but the whole depth at once takes off only what such passes left on
		}
		was, _, _ := c.in(all, k)
		deepest = max(deepest, was.Depth)
	}
	p.AtOnce = p.Depth - deepest
	return p, true
}

// passesOf are what a cut says of its passes.
type passesOf struct{ *setup.Cut }

// in is the pass at place i of an order, with where those at its radius begin and end.
func (c passesOf) in(all []Chore, i int) (p CutPass, from, to int) {
	from, to = i, i+1
	for from > 0 && all[from-1] == Pass {
		from--
	}
	for to < len(all) && all[to] == Pass {
		to++
	}
	p = CutPass{N: i - from + 1, Of: to - from, Step: c.Step, First: i == from}
	if c.Spring {
		if p.Of--; p.N > p.Of {
			p.N, p.Spring = p.Of, true
		}
	}
	depths := c.Passes()
	p.Whole = p.Of < len(depths)
	if p.Depth = c.Depth; !p.Whole {
		p.Depth = depths[p.N-1]
	}
	return p, from, to
}

// Sizes reports whether what was done at place i of the order cuts the arc to size.
func (s *State) Sizes(i int) bool {
	if i < 0 || i >= len(s.Worked) || s.Worked[i].Skipped {
		return false
	}
	if s.Worked[i].Step == Cut {
		return true
	}
	p, ok := s.passAt(i)
	return ok && !p.Rough
}

// roughAhead reports whether a cut that leaves stock on is still to be made, or to be ended, in what is left of the order.
func roughAhead(rest []Chore) bool {
	measured := slices.Index(rest, Measure)
	pass := slices.Index(rest, Pass)
	return slices.Contains(rest, RoughCut) || pass >= 0 && pass < measured
}
