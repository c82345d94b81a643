package session

import (
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// Station is one entry of a sweep.
type Station struct {
	Bearing geom.Bearing
	Reading float64 // millimetres; meaningless where Skipped
	// At is the touched coordinates in setup points, whose stations have no reading.
	At      geom.Point
	Skipped bool
	Off     Off
	// OffBy is how far the reading came from what could be expected when it was entered; U is
	// NaN where the doubt is unknown, both where nothing could be expected.
	OffBy indicator.Value
	// Surprise says that this was more than chance allows; Because and WouldBe name the slip that
	// would explain it.
	Surprise bool
	Because  indicator.Cause
	WouldBe  float64
	// Overtaken says that it fits the others as the sweep stood when it was closed, or when a doubt was settled: the
	// surprise was of what was expected then, and is history.
	Overtaken bool
	// Asked says that the station has been asked for once more, Kept that its reading stands by
	// the person's word.
	Asked, Kept bool
	// Closing marks the first station's second reading, at the sweep's end. Order counts the sweep's
	// readings as they were taken, from 1, those that were replaced included.
	Closing bool
	Order   int
	// Gauge is where the reading comes from; zero where it was typed.
	Gauge Gauged
}

// Sweep is one round of readings. Its stations are a list that other states share: nothing in it is
// ever changed, [Sweep.own] makes a sweep's own copy first.
type Sweep struct {
	N        int // entries, skipped ones included
	Stations []Station
	Closed   Why // empty while the sweep is open
	Taken    int // readings taken, those that were replaced included
	// Closing says that the first station is asked for once more; Drift is the drift that waits for
	// a decision, nil most of the time; Even says that it is fitted with the circle.
	Closing bool
	Drift   *Drifted
	Even    bool
	// Lobed says that a reading was asked for once more that may as well be the ring's: read again and the same, it is, and no
	// other is asked for.
	Lobed bool
	// Questioned says that what the winds before it did has been asked about.
	Questioned bool
	// Paired says that the first two readings stood across from each other and were called enough.
	Paired bool
	// Bezel is what the dial's figures had been shifted by in all when the readings were taken.
	Bezel float64
}

// Readings counts the stations that have a reading.
func (w *Sweep) Readings() int {
	n := 0
	for i := range w.Stations[:w.N] {
		if !w.Stations[i].Skipped {
			n++
		}
	}
	return n
}

// own makes the sweep's stations its own, to be changed.
func (w *Sweep) own() { w.Stations = slices.Clone(w.Stations) }

// Data returns the readings of the sweep with the numbers (from 1) of their stations.
func (w *Sweep) Data() (bearings []geom.Bearing, readings []float64, station []int) {
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			bearings, readings, station = append(bearings, st.Bearing), append(readings, st.Reading), append(station, i+1)
		}
	}
	return bearings, readings, station
}

// taken are the numbers (from 1) of the stations that have an entry to be fitted.
func (w *Sweep) taken() (station []int) {
	for i := range w.Stations[:w.N] {
		if !w.Stations[i].Skipped {
			station = append(station, i+1)
		}
	}
	return station
}

// Round: see [setup.Taken].
func (w *Sweep) Round(shift float64, without int) setup.Round {
	n := w.Readings()
	r := setup.Round{Bearings: make([]geom.Bearing, 0, n), Readings: make([]float64, 0, n), At: make([]geom.Point, 0, n)}
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped && i != without-1 {
			r.Bearings, r.Readings, r.At = append(r.Bearings, st.Bearing), append(r.Readings, st.Reading+shift), append(r.At, st.At)
		}
	}
	if w.Even && without == 0 {
		r.Places = w.places()
	}
	return r
}
