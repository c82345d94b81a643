package session

// The chores of a later part, which no sweep sees: how it lies in the fixture. Their names are the journals' and never change.
const (
	PartIn    Chore = "part in"    // the finished one out, seat and stops wiped, the next one in and clamped
	FeelSeat  Chore = "feel seat"  // a feeler all round beneath it: chips
	ClockEdge Chore = "clock edge" // along a slide: the part's angle
)

var partChores = []choreRow{{name: PartIn}, {name: FeelSeat}, {name: ClockEdge}}

// seats are the chores by which the next part comes to lie, before anything of it is swept or cut.
func seats() []Chore { return []Chore{Isolate, PartIn, FeelSeat, ClockEdge} }

// beforePart lists the chores ahead of a later part's first sweep. The radius is not read off it, so that the tip need not be rocked
// to its turning point; an indicator on a bracket has stood where it was.
func (s *State) beforePart() []Chore {
	switch u := s.SetUp(); {
	case s.Trial > 1:
		return nil
	case s.bracket():
		return append(seats(), TipIn)
	case u.Does().Turns:
		return append(seats(), LockHeight, TipIn)
	}
	return append(seats(), LockHeight, TipIn, LockSpindle)
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
