package session

// Restarted begins the sweep anew; its readings stay in the journal.
type Restarted struct{}

// Restart begins the sweep anew.
type Restart struct{}

func (Restarted) row() *EventRow { return restarted }
func (Restart) row() *CommandRow { return restart }

var restarted = event[Restarted]{kind: "again", undo: "the new start of the sweep",
	apply: func(s *State, _ Restarted) { s.restart() }}.row()

var restart = command[Restart]{word: "again", help: "begin the sweep anew", keys: []string{"r"}, label: "sweep again",
	ends: "the readings of this sweep are set aside", not: (*Now).unswept,
	decide: func(s *State, _ Restart) (Event, error) {
		switch s.Phase {
		case Preparing, Loading:
			return nil, refuse(s.hint(), "the sweep has not begun")
		case Cutting:
			if s.Bump != nil && s.Bump.Found != nil {
				return Restarted{}, nil
			}
			return nil, refuse(s.hint(), "the setting is accepted")
		case Unopened, Sweeping, Winding, SettledDown, Ended:
		}
		return Restarted{}, nil
	},
}.row()

// restart drops the sweep. Where slides have been wound since it, a new trial begins, and what
// was predicted no longer holds.
func (s *State) restart() {
	if s.Bump != nil { // the setting is no longer accepted; what was wound before says nothing of where things stand now
		s.resweep()
	}
	if s.Winds != nil {
		s.endTrial()
		s.Predicted = nil
	}
	if s.Told != nil && s.Told.Tap != nil {
		s.Predicted = nil // a tap that drove the needle off the dial has no reading
	}
	s.Sweep, s.Told, s.Doubt, s.Contradiction, s.HeadLocked, s.Accused = Sweep{Bezel: s.Bezel}, nil, nil, nil, nil, nil
	if s.Phase != Preparing { // the winds so far may have asked for a chore first
		s.Phase = Sweeping
	}
}
