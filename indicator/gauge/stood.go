package gauge

import (
	"math"

	"example.org/trammel/geom"
)

// Stay is whether a needle has left where it stood as the last entry was made. All that has come since is looked at: a head that is
// swung shakes the needle, though it may come back to the same figure.
type Stay uint8

const (
	// Left: it has been elsewhere, or nobody knows.
	Left Stay = iota
	// Trembled: it has moved by no more than it trembles.
	Trembled
	// Held: every figure was the same.
	Held
)

// stood is what the samples since the last entry say of that, millimetres.
type stood struct {
	has       bool
	gone      bool // it was where it could not be read
	low, high float64
	figure    float64 // the worth of the last figure that has been seen in any of them; 0 for none
	last      float64
}

// add takes a sample in, whose figures are in a unit.
func (s *stood) add(v float64, u geom.Unit) {
	if !s.has {
		s.low, s.high, s.figure = v, v, u.MM(1)
	}
	for n := 0; n < mostPlaces && math.Abs(math.Remainder(v, s.figure)) > rounding; n++ {
		s.figure /= 10
	}
	s.has, s.last, s.low, s.high = true, v, min(s.low, v), max(s.high, v)
}

// forget begins anew where the needle stands. A line that was gone since does not: what it shows again tells whether it stayed.
func (s *stood) forget() { s.gone, s.low, s.high = false, s.last, s.last }

// Where a needle moves by no more than so many times its trembling, so many of its last figures, or so much of the range that it stands
// still in, it has not moved (common practice, no source: a swing of the head shakes a needle by more than that).
const (
	stayTrembles = 4
	stayFigures  = 2
	stayWithin   = 0.5
)

// mostPlaces is how many places no indicator sends.
const mostPlaces = 6

// stay judges it, beside how much the last samples tremble and the range that they stand still in.
func (s *stood) stay(trembling, within float64) Stay {
	figures := 0.0
	if s.figure <= within { // else it is not known yet: it has shown round figures alone
		figures = stayFigures * s.figure
	}
	switch over := s.high - s.low; {
	case !s.has || s.gone:
		return Left
	case over <= rounding:
		return Held
	case over <= max(stayTrembles*trembling, figures, stayWithin*within)+rounding:
		return Trembled
	}
	return Left
}

// Swings remembers over the stations of a sweep whether the needle shows that the head was swung, or the table turned, between two of
// them. The zero Swings has seen none.
type Swings struct {
	from int // the station whose reading was the last entry, and came from the cable; 0 for none
	sure bool
}

// Entered takes in that an entry was made: a reading that was taken from the cable at a station, or else 0. fresh says that no reading
// of the sweep stands.
func (w *Swings) Entered(station int, fresh bool) {
	w.from = station
	w.sure = w.sure && !fresh
}

// Doubts reports whether the needle is to be taken at a station only where that is asked for twice, and since which station it has not
// moved. At a setting that runs true a needle honestly stays within its trembling all round: once a person has said so in a sweep, only
// one that shows the same figure all the time is doubted, for that may as well be on hold, stuck, or not touching.
func (w *Swings) Doubts(station int, m Mean) (since int, doubts bool) {
	doubts = w.from > 0 && station != w.from && (m.Stay == Held || m.Stay == Trembled && !w.sure)
	return w.from, doubts
}

// Insisted: a person takes what was doubted.
func (w *Swings) Insisted() { w.sure = true }
