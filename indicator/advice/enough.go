package advice

import (
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
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
	// Of whole rounds an early look says "outside" at most, by more than the form could make, which needs little; and a second
	// round is dear, so most is left to the first.
	earlyRoundTail   = 0.001
	plannedRoundTail = 0.019
	furtherRoundTail = indicator.FixedTail - earlyRoundTail - plannedRoundTail
)

// wideApart is how many stations have to lie between the fewest and the planned ones for a
// second early look to be worth its share.
const wideApart = 4

// Looks says by how many entries a sweep may stop early (Fewest), how many are planned, and to how many it grows while it
// is undecided (Limit).
type Looks struct {
	Fewest, Planned, Limit int
	// Rounds says that the planned stations are an even round, and as many more its twin between: "inside" is said of whole
	// rounds only, for part of one takes lobes of the reference for a centre error.
	Rounds bool
}

// Look is a number of entries at which a sweep is looked at, and its share of the risk.
type Look struct {
	Entries int
	Tail    float64
}

// Limit is how many stations a sweep grows to while it is undecided: twice what is planned,
// for past that the square root makes further stations dear. It is 0 for a sweep that no circle
// can be fitted to.
func Limit(planned int) int {
	if planned < fit.MinStations || planned > indicator.MaxStations {
		return 0
	}
	return min(2*planned, indicator.MaxStations)
}

// all lists the looks at a sweep in their order; the unused rest is zero.
func (l Looks) all() (out [5]Look) {
	n := 0
	put := func(entries int, tail float64) {
		out[n] = Look{entries, tail}
		n++
	}
	switch {
	case l.Rounds:
		if l.Fewest < l.Planned {
			put(l.Fewest, earlyRoundTail)
		}
		put(l.Planned, plannedRoundTail)
		put(l.Limit, furtherRoundTail)
		return out
	case l.Fewest+wideApart <= l.Planned:
		put(l.Fewest, earlyTail/2)
		put((l.Fewest+l.Planned)/2, earlyTail/2)
	case l.Fewest < l.Planned:
		put(l.Fewest, earlyTail)
	}
	put(l.Planned, plannedTail)
	if half := (l.Planned + l.Limit) / 2; half > l.Planned {
		put(half, furtherTail/2)
	}
	if l.Limit > l.Planned {
		put(l.Limit, furtherTail/2)
	}
	return out
}

// At returns the look that a sweep of so many entries stands at; now is false where it waits
// for the next one. Past the last look every entry is one: only doubted readings that were read
// again lead there.
func (l Looks) At(entries int) (look Look, now bool) {
	for _, look = range l.all() {
		if look.Entries >= entries {
			return look, look.Entries == entries
		}
	}
	return Look{l.Limit, furtherTail / 2}, true
}

// whole reports whether so many entries may be called inside.
func (l Looks) whole(entries int) bool { return !l.Rounds || entries%l.Planned == 0 }
