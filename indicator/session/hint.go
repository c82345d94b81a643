package session

// hint says what the session waits for.
func (s *State) hint() string {
	switch s.Phase {
	case Loading:
		return "load the slide that is named, then confirm"
	case Sweeping:
		if s.Sweep.Drift != nil {
			return "even takes the drift out, keep leaves it in, again begins the sweep anew"
		}
		if _, ok := s.NextBearing(); !ok {
			return "undo what is wrong, or begin the sweep again"
		}
		if s.Doubt != nil {
			return "read the station once more, or keep its reading, or skip it"
		}
		if s.touches() {
			return "touch the circle, then type x and y"
		}
		return "take the reading that is asked for"
	case Winding:
		if s.Told != nil && s.Told.Tap != nil {
			return "tap, then type what the needle shows; again begins the sweep anew where it has left the dial"
		}
		if s.Told != nil && s.Told.Park != nil {
			return "wind until the needle shows the goal, then type what it shows, or confirm"
		}
		if s.touches() {
			return "go to the coordinate that is told, then type what the readout shows, or confirm"
		}
		return "wind the slide, then confirm"
	case SettledDown:
		return "accept, or begin the sweep again"
	case Preparing, Cutting:
		return "do what is asked for, then confirm, or skip it"
	case Unopened, Ended:
	}
	return ""
}
