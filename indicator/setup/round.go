package setup

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Round is one round of entries, as it is fitted: those of a needle, or those touched, in the order of the stations.
type Round struct {
	Bearings []geom.Bearing
	Readings []float64
	At       []geom.Point
	// Places are the readings' places in time, where a drift is fitted; nil else.
	Places []float64
}

// Without is the round without its entry i.
func (r Round) Without(i int) Round {
	return Round{Bearings: without(r.Bearings, i), Readings: without(r.Readings, i), At: without(r.At, i)}
}

func without[T any](all []T, i int) []T {
	return append(append(make([]T, 0, len(all)), all[:i]...), all[i+1:]...)
}

// Entry is a new entry of a station.
type Entry struct {
	Bearing geom.Bearing
	Reading float64
	At      geom.Point
}

// Expected is a reading to expect; Dof is 0 where nothing can be expected.
type Expected struct {
	indicator.Value
	Dof float64
}

// Judged is how an entry compares with what could be expected: OffBy is how far it came from that, Surprise says that it was
// more than chance allows, and Because and WouldBe name the slip that would explain it.
type Judged struct {
	OffBy    indicator.Value
	Surprise bool
	Because  indicator.Cause
	WouldBe  float64
}

// Doubt is an entry of the round that does not fit the others: its place, why, and what it may have been.
type Doubt struct {
	Index   int
	Because indicator.Cause
	WouldBe *float64
	At      *geom.Point
}

// surpriseAlarm is the rate at which a clean reading is called a surprise when it is entered.
const surpriseAlarm = 0.0005
