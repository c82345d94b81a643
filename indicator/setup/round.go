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

// Taken is a sweep whose entries can be had: with the readings shifted by so much, and without that of a station (from 1; 0
// leaves out none), and then without a drift.
type Taken interface {
	Round(shift float64, without int) Round
}

// Entries are those of a sweep, of which that of station Without (from 1; 0 for none) is left out, and whose readings lie
// Shift below the dial's figures of now.
type Entries struct {
	Sweep   Taken
	Shift   float64
	Without int
}

// round is the entries as they are fitted.
func (e Entries) round() (r Round) {
	if e.Sweep != nil {
		r = e.Sweep.Round(e.Shift, e.Without)
	}
	return r
}

// Round is the sweep's entries.
func (b *Bench) Round() *Round {
	if b.made == nil {
		r := b.round()
		b.made = &r
	}
	return b.made
}

// without are all but the one at place i.
func without[T any](all []T, i int) []T {
	return append(append(make([]T, 0, len(all)), all[:i]...), all[i+1:]...)
}

// Entry is a new entry of a station.
type Entry struct {
	Bearing geom.Bearing
	Reading float64
	At      geom.Point
}

// Expected is a reading to expect; Dof is 0 where nothing can be expected. As is how it is fitted with the others.
type Expected struct {
	indicator.Value
	Dof float64
	As  indicator.Setup
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
