package session

import (
	"example.org/trammel/indicator"
)

// Doubted: a reading does not fit the others, and its station is asked for once more. WouldBe is
// null where no cause is known.
type Doubted struct {
	Station int             `json:"station"` // from 1
	Because indicator.Cause `json:"because"`
	WouldBe *float64        `json:"would_be"`
	// WouldBeAt is the point that is proposed, in setup points.
	WouldBeAt *Place `json:"would_be_at,omitempty"`
}

// Kept: the doubted reading stands as it is.
type Kept struct {
	Station int `json:"station"`
}

// Keep says that the doubted reading stands as it is, or that the drift stays in.
type Keep struct{}

// Correct takes the value that is proposed for the doubted reading.
type Correct struct{}

func (Doubted) row() *EventRow   { return doubted }
func (Kept) row() *EventRow      { return kept }
func (Keep) row() *CommandRow    { return keep }
func (Correct) row() *CommandRow { return correct }

var doubted = event[Doubted]{kind: "doubted",
	check: func(e Doubted) error { return e.Because.Check() },
	fits:  func(s *State, e Doubted) error { return s.hasStation(e.Station, 1) },
	apply: func(s *State, e Doubted) { s.doubt(e) },
}.row()

var kept = event[Kept]{kind: "kept", undo: "the word that a reading stands",
	fits: func(s *State, e Kept) error { return s.hasStation(e.Station, 1) },
	apply: func(s *State, e Kept) {
		if st := s.station(e.Station); st != nil {
			st.Kept = true
		}
		s.Doubt, s.Sweep.Drift = nil, nil
		s.judgeAnew()
	},
	anew: func(s *State, _ Kept, _ *Change) (Command, string) {
		if s.Doubt == nil && s.Sweep.Drift == nil {
			return nil, ""
		}
		return Keep{}, ""
	},
}.row()

var keep = command[Keep]{
	word:  "keep",
	help:  "the reading in doubt stands, or the drift stays in, or what has moved",
	keys:  []string{"k"},
	label: "keep",
	shown: func(n *Now) bool { return n.Doubt || n.Waits == ForDrift || n.Waits == ForSize || n.Waits == ForMoved },
	decide: func(s *State, _ Keep) (Event, error) {
		switch {
		case s.Bump != nil && s.Bump.Asks:
			return Stayed{}, nil
		case s.Sweep.Drift != nil:
			return Kept{Station: s.Sweep.closed()}, nil
		case s.Contradiction != nil:
			return Sized{s.Contradiction.Radius}, nil
		case s.Doubt == nil:
			return nil, refuse(s.hint(), "no reading is in doubt")
		}
		return Kept{Station: s.Doubt.Station}, nil
	},
}.row()

var correct = command[Correct]{keys: []string{"c"}, label: "correct",
	shown:  func(n *Now) bool { return n.Doubt },
	not:    func(n *Now) string { return unless(n.Proposed, "no value is proposed; read the station again") },
	decide: decideCorrect,
}.row()

func decideCorrect(s *State, _ Correct) (Event, error) {
	switch {
	case s.Doubt == nil:
		return nil, refuse(s.hint(), "no reading is in doubt")
	case s.Doubt.WouldBeAt != nil:
		return Took{Bearing: s.Sweep.Stations[s.Doubt.Station-1].Bearing, At: s.Doubt.WouldBeAt, Again: s.Doubt.Station, Corrected: true},
			nil
	case s.Doubt.WouldBe == nil:
		return nil, refuse(s.hint(), "no value is proposed for station %d", s.Doubt.Station)
	}
	e, err := s.question().number(s, *s.Doubt.WouldBe)
	if took, ok := e.(Took); ok {
		took.Corrected = true
		e = took
	}
	return e, err
}

// doubt asks for a station once more.
func (s *State) doubt(e Doubted) {
	if st := s.station(e.Station); st != nil {
		st.Asked = true
		s.Doubt, s.Sweep.Lobed = &e, s.Sweep.Lobed || e.Because == indicator.FormCause
	}
}

// again is the station that is asked for once more, 0 where a new one is.
func (s *State) again() int {
	if s.Doubt == nil {
		return 0
	}
	return s.Doubt.Station
}
