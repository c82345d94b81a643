package slide

// Counts is where a collar stands after a movement, by its count as a length, millimetres.
func (s Slide) Counts(at float64, m Move) float64 {
	return at + (float64(m.Turns)*s.Divisions+m.Divisions)*s.Division()*float64(m.Turn)*float64(s.Clockwise)
}

// PastZero reports whether a collar's 0 goes by in a movement that begins at a count, millimetres; one that it begins or ends at
// does not.
func (s Slide) PastZero(at float64, m Move) bool {
	from := s.ShownCollar(s.Collar(at))
	by := float64(m.Turns)*s.Divisions + s.Shown(m).Divisions
	if m.Turn == s.Figures {
		return tenths(from+by) > s.Divisions
	}
	if from == 0 {
		from = s.Divisions
	}
	return tenths(by-from) > 0
}
