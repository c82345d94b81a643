package session

// tapAsked: a tap, answered with what the needle shows after it.
type tapAsked struct{ collarAsked }

func (tapAsked) number(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "tap it back onto the dial, or say again: the sweep begins anew"); err != nil {
		return nil, err
	}
	return Wound{Slide: s.Told.Wind.Slide, Reading: &reading}, nil
}

func (tapAsked) hint(*State) string {
	return "tap, then type what the needle shows; again begins the sweep anew where it has left the dial"
}
