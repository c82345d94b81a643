package lines

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// place is how the hand finds a bearing: by what the ring shows that is read.
func place(s *session.State, b geom.Bearing) string {
	return PlaceIn(s, b, s.Set.Bearings)
}

// PlaceIn is place by the figures that are wanted, labelled where they are not the usual ones.
func PlaceIn(s *session.State, b geom.Bearing, by session.Bearings) string {
	if m, ok := s.Ring().Mark(s.RingAt(b)); ok && by == session.ByRing {
		return RingWords(s.RingAt(b), &m)
	}
	return placeTo(s, b, by, func(deg float64) float64 { return deg })
}

// DirectionIn is a place that was found from readings, to a multiple of step degrees: a finer figure would be none.
func DirectionIn(s *session.State, b geom.Bearing, by session.Bearings, step float64) string {
	return placeTo(s, b, by, func(deg float64) float64 {
		return math.Mod(record.RoundTo(math.Round(deg/step)*step, 3), 360)
	})
}

// placeTo spells a place in the frame of the ring that the hand reads: alone where it is told by that, and beside the
// bearing where the ring shows something else.
func placeTo(s *session.State, b geom.Bearing, by session.Bearings, round func(float64) float64) string {
	ring, bearing := "ring "+record.Degrees(round(s.RingAt(b))), record.Degrees(round(b.Degrees360()))
	switch {
	case by == session.ByFrame: // which was asked for
		return "bearing " + bearing
	case by == session.ByRing || s.SetUp().Under().Table && by == session.AsUsual:
		return ring
	case ringTells(s, b, by):
		return bearing + " (" + ring + ")"
	}
	return bearing
}

// ringTells reports whether the ring shows at a place what its bearing does not say, or places are told by it.
func ringTells(s *session.State, b geom.Bearing, by session.Bearings) bool {
	apart := math.Abs(math.Remainder(s.RingAt(b)-b.Degrees360(), 360))
	return by == session.ByRing || s.SetUp().Under().Table || apart > 1e-6
}
