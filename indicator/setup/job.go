package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Job is what a setting wants. Lengths are millimetres, angles radians.
type Job struct {
	// Unit is the unit that a person types and reads in.
	Unit   geom.Unit       `json:"unit"`
	Setup  indicator.Setup `json:"setup"`
	Target Target          `json:"target"`
	Sweep  Sweep           `json:"sweep"`
	Dial   indicator.Dial  `json:"dial"`
	// About says where the reference stands, where the arc has nothing round its own centre to sweep; nil where it has.
	About *About `json:"about,omitempty"`
	// Cut says how the arc is cut; nil where the job does not.
	Cut *Cut `json:"cut,omitempty"`
	// Part says how further parts are set on the same setting; nil where the job does not.
	Part *Batch `json:"part,omitempty"`
	// Stated are the figures whose limit of error somebody stated; those of settings of old name none.
	Stated indicator.Stated `json:"stated,omitempty"`
}

// Sweep says where readings are taken.
type Sweep struct {
	Stations int `json:"stations"`
	// AtLeast is how many readings a sweep takes before it may stop early; 0 for
	// defaultAtLeast.
	AtLeast int `json:"at_least,omitempty"`
	// Closing asks for the first station once more before a sweep is believed.
	Closing bool         `json:"closing,omitempty"`
	From    geom.Bearing `json:"from"`
	To      geom.Bearing `json:"to"`
	// Obstacles are the parts of the circle that cannot be reached; apart from each other, in
	// the order in which they begin, and in [0, 2π) there.
	Obstacles []Obstacle `json:"obstacles,omitempty"`
}

// defaultAtLeast is the fewest readings that a sweep stops at by itself, unless the job says so:
// with fewer, one misread passes for a centre error.
const defaultAtLeast = 5

// Fewest returns how many readings the sweep takes before it may stop early.
func (s Sweep) Fewest() int {
	if s.AtLeast > 0 {
		return s.AtLeast
	}
	return defaultAtLeast
}

// round reports whether the sweep goes all the way round, obstacles apart.
func (s Sweep) round() bool { return float64(s.To-s.From) > 2*math.Pi-1e-9 }

// Full reports whether the sweep goes all the way round with nothing in the way.
func (s Sweep) Full() bool { return s.round() && len(s.Obstacles) == 0 }

// A round of five even stations tells neither ovals nor three lobes from a circle that is where it is; what more than eight would
// see of the reference is not the setting's business.
const (
	fewestEven = 5
	mostEven   = 8
)

// Evenly returns the sweep as it is planned where it goes all the way round with nothing in the way: with five to eight stations,
// and with five where it only verifies what a wind has done.
func (s Sweep) Evenly(verifies bool) Sweep {
	if s.Stations = min(max(s.Stations, fewestEven), mostEven); verifies {
		s.Stations = fewestEven
	}
	return s
}

// Bearing returns the bearing of station i (from 0): spaced evenly, and on a part of a circle
// with one at both ends. With obstacles the steps are even in the angle that can be reached; a
// whole round then is a part of a circle, and station 0 is the first from From on.
func (s Sweep) Bearing(i int) geom.Bearing {
	if l, ok := s.layout(); ok {
		return s.station(&l, i, 0)
	}
	gaps := s.Stations
	if !s.round() {
		gaps--
	}
	return s.From + geom.Bearing(float64(i)/float64(gaps))*(s.To-s.From)
}

// Between returns the bearing halfway from station i to the next, for further stations; i counts
// from 0 and begins anew after the last gap.
func (s Sweep) Between(i int) geom.Bearing {
	if l, ok := s.layout(); ok {
		return s.station(&l, i, 0.5)
	}
	gaps := s.Stations
	if !s.round() {
		gaps--
	}
	half := (s.Bearing(1) - s.Bearing(0)) / 2
	return s.Bearing(i%gaps) + half
}
