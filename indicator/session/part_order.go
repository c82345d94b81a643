package session

import "slices"

// The chores of a later part, which no sweep sees: how it lies in the fixture. Their names are the journals' and never change.
const (
	PartIn    Chore = "part in"    // the finished one out, seat and stops wiped, the next one in and clamped
	FeelSeat  Chore = "feel seat"  // a feeler all round beneath it: chips
	ClockEdge Chore = "clock edge" // along a slide: the part's angle
)

var partChores = []choreRow{{name: PartIn}, {name: FeelSeat}, {name: ClockEdge}}

// seats are the chores by which the next part comes to lie, before anything of it is swept or cut: the cutter of the part before is
// lifted clear first, and is out before a hand reaches for the part where the indicator takes its place.
func seats(change ...Chore) []Chore {
	return slices.Concat([]Chore{LiftOut, Isolate}, change, []Chore{PartIn, FeelSeat, ClockEdge})
}

// beforePart lists the chores ahead of a later part's first sweep. The offset slide carries the radius over from the part before, so
// that the tip never comes in by it, but by the indicator's holder; one on a bracket is only swung in.
func (s *State) beforePart() []Chore {
	switch {
	case s.Trial > 1:
		return nil
	case s.bracket():
		return slices.Concat(seats(), s.stopsOff(), []Chore{IndicatorIn})
	}
	return slices.Concat(seats(CutterOut), s.stopsOff(), []Chore{LockHeight, IndicatorIn}, s.rocksIn())
}

// rocksIn are the chores by which an indicator in the cutter spindle is put on the radial line, and stays there.
func (s *State) rocksIn() []Chore {
	if s.SetUp().Does().Turns {
		return nil
	}
	return []Chore{Rock, LockSpindle}
}

// stopsOff is the chore by which stops that are set for the arc are out of the way of a sweep that goes all the way round.
func (s *State) stopsOff() []Chore {
	if _, ok := s.Stops(); ok {
		return []Chore{StopsOff}
	}
	return nil
}

// changesOver lists the chores from the accepted setting to the dry swing, but the steps of the head and its stock: how the cutter takes
// the indicator's place again, or how a part that is not swept comes to lie.
func (s *State) changesOver() []Chore {
	switch {
	case s.Unswept:
		return seats()
	case s.Part > 1 && s.bracket():
		return []Chore{Isolate, IndicatorOut}
	case s.SetUp().Does().Turns:
		return []Chore{Isolate, IndicatorOut, CutterIn}
	}
	return []Chore{Isolate, IndicatorOut, CutterIn, FreeSpindle}
}
