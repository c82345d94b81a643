package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// Cranks are the movements of the table's own handwheel to the station that is asked for, from where the table stood last; none where
// the machine has none, or nobody knows where it stood. Stations follow each other anticlockwise round the reference, so the table is
// come up to them clockwise from above, whichever is next.
func (s *State) Cranks(p *Prompt) []setup.Crank {
	h := s.Set.Machine.Handwheel
	if p.Waits != ForReading || !p.Reading.Set || !s.SetUp().Under().Table || !h.Known() {
		return nil
	}
	from, ok := s.tableStood()
	if !ok {
		return nil
	}
	const clockwise = -1
	return h.To(s.Ring(), from, p.Reading.Table, clockwise)
}

// tableStood is how far the table stands turned by what was entered last.
func (s *State) tableStood() (t geom.Bearing, ok bool) {
	stands := s.Set.Job.Setup.Stands
	for l := s.log; l != nil; l = l.before {
		switch e := l.event.(type) {
		case Took:
			return stands(e.Bearing), true
		case Skipped:
			return stands(e.Bearing), true
		case Wound:
			if s.Winds == nil || s.Winds.Park == nil {
				return 0, false
			}
			return stands(s.Winds.Park.Bearing), true
		case Swept, Told, Noted:
		default:
			return 0, false
		}
	}
	return 0, false
}
