package setup

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Wind is one wind as it is told.
type Wind struct {
	Step int        `json:"step"` // from 1
	Of   int        `json:"of"`
	Wind slide.Wind `json:"wind"`
	// Park says where to park the head and which reading to stop at; null where the wind goes by the
	// collar.
	Park *advice.Park `json:"park,omitempty"`
	// Table says how far to turn the table counter-clockwise for a wind by the collar, radians, where the
	// slide's handwheel cannot be reached everywhere.
	Table *geom.Bearing `json:"table,omitempty"`
	// Tap says that the work is tapped into place; Wind.Travel is then how far it is to go, and the wind has no
	// moves. How many taps it will take nobody knows: Of is Step.
	Tap *Tap `json:"tap,omitempty"`
	// SetOff says that the slide carries the spindle off the axis by the swing radius; Back, home again.
	SetOff bool `json:"set_off,omitempty"`
	Back   bool `json:"back,omitempty"`
	// Open says that the trial goes on behind this wind until the next sweep begins. Older journals do not
	// say so, and their trials end with wind Of.
	Open bool `json:"open,omitempty"`
}

// Done is a list of winds that were done, newest first.
type Done struct {
	Wind slide.Wind
	// Park is where the head stood, nil where the wind went by the collar; Reading what the needle
	// showed at the end, nil where nobody said.
	Park    *advice.Park
	Reading *float64
	// Tap is where the work was tapped, nil for a wind.
	Tap *Tap
	// At is the coordinate where the slide has been stopped, nil where nobody said.
	At *float64
	// Bezel is what the dial's figures had been shifted by then.
	Bezel  float64
	Before *Done
}

// Times counts the winds of a slide, and returns the last of them.
func (d *Done) Times(name string) (n int, last *Done) {
	for ; d != nil; d = d.Before {
		if d.Wind.Slide == name {
			if n++; last == nil {
				last = d
			}
		}
	}
	return n, last
}

// has reports whether a slide was among them.
func (d *Done) has(name string) bool {
	n, _ := d.Times(name)
	return n > 0
}

// Only returns the wind of a slide in a trial that has just one.
func (d *Done) Only(name string) (one *Done, ok bool) {
	n, last := d.Times(name)
	if n != 1 {
		return nil, false
	}
	return last, true
}

// Next is what comes behind a sweep, or a wind: another wind; a look at the needle at a bearing first; the next sweep; or that
// nothing is left to do, with what is proven then.
type Next struct {
	Wind    *Wind
	Look    *geom.Bearing
	Sweep   bool
	Settled indicator.Verdicts
}
