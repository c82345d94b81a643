package session

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
)

// A sweep is looked at, and may be closed by what it says, at a few places only: once or twice
// before its planned stations are in, when they are, halfway to the limit, and at the limit. The
// risk of a verdict that is false at the limit of the tolerance is shared out over these looks;
// together they stay within indicator.FixedTail whatever the looks have to do with each other
// (Bonferroni), so the verdict's promise holds on stopped sweeps too. Every look more would make
// all of them dearer, and what one further reading changes is little.
const (
	earlyTail   = 0.005
	plannedTail = 0.012
	furtherTail = indicator.FixedTail - earlyTail - plannedTail
)

// wideApart is how many stations have to lie between the fewest and the planned ones for a
// second early look to be worth its share.
const wideApart = 4

// look is a number of entries at which a sweep is looked at, and its share of the risk.
type look struct {
	entries int
	tail    float64
}

// looks lists the looks at a sweep in their order; the unused rest is zero.
func (s *State) looks() (out [5]look) {
	n := 0
	put := func(entries int, tail float64) {
		out[n] = look{entries, tail}
		n++
	}
	plan, fewest, limit := s.Set.Job.Sweep.Stations, s.Set.Job.Sweep.Fewest(), s.limit()
	switch {
	case fewest+wideApart <= plan:
		put(fewest, earlyTail/2)
		put((fewest+plan)/2, earlyTail/2)
	case fewest < plan:
		put(fewest, earlyTail)
	}
	put(plan, plannedTail)
	if half := (plan + limit) / 2; half > plan {
		put(half, furtherTail/2)
	}
	if limit > plan {
		put(limit, furtherTail/2)
	}
	return out
}

// look returns the look that a sweep of so many entries stands at; now is false where it waits
// for the next one. Past the last look every entry is one: only doubted readings that were read
// again lead there.
func (s *State) look(entries int) (l look, now bool) {
	for _, l = range s.looks() {
		if l.entries >= entries {
			return l, l.entries == entries
		}
	}
	return look{s.limit(), furtherTail / 2}, true
}

// Judge compares a fitted sweep with the job's target, as guarded as its place among the looks
// at the sweep asks for.
func (s *State) Judge(f *indicator.Found) job.Verdicts {
	l, _ := s.look(s.Sweep.Entries())
	return s.Target().Judge(f, l.tail)
}
