package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Paired: the person called two opposite readings enough, and was told what they say along their line. They stay,
// and the stations that would make a circle of them are asked for first.
type Paired struct{}

func (Paired) row() *EventRow { return paired }

var paired = event[Paired]{kind: "paired", undo: "the word that two readings are enough",
	apply: func(s *State, _ Paired) { s.Sweep.Paired = true },
	anew: func(s *State, _ Paired, _ *Change) (Command, string) {
		if _, ok := s.Pair(); !ok || s.Sweep.Paired {
			return nil, ""
		}
		return Enough{}, ""
	},
}.row()

// Pair returns what two opposite readings say; ok is false where the sweep has other than two, or they are no pair.
func (s *State) Pair() (p indicator.Pair, ok bool) {
	if s.Set == nil || s.SetUp().Under().Pair {
		return p, false
	}
	bearings, readings, _ := s.Sweep.Data()
	if len(readings) != 2 {
		return p, false
	}
	return indicator.Half(s.Set.Job.Dial, s.setup(), [2]geom.Bearing(bearings), [2]float64(readings))
}

// across returns the next of the two stations that a pair lacks, as near to square across as can be reached; ok is
// false where none is to be asked for out of turn.
func (s *State) across() (b geom.Bearing, ok bool) {
	if !s.Sweep.Paired || s.full() {
		return 0, false
	}
	first, some := s.Sweep.first()
	if !some {
		return 0, false
	}
	return advice.Across(first, s.Set.Job.Sweep.Full(), s.Set.Job.Sweep.Marks(advice.MarkStep), s.farFromStations())
}
