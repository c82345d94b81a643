package setup

import (
	"fmt"
	"math"
	"slices"
)

// Found is a figure that was found at the machine before the setting was opened, and from which readings. Lengths are millimetres;
// readings are as the dial shows them.
type Found struct {
	// Key is the figure's in the job file: one of those below.
	Key string `json:"key"`
	// By says how, in a word or a few.
	By    string  `json:"by"`
	Value float64 `json:"value"`
	// Limit is the limit of its error, ±; 0 where none follows.
	Limit  float64      `json:"limit,omitempty"`
	Rounds []FoundRound `json:"rounds"`
}

// FoundRound are the readings of one thing.
type FoundRound struct {
	// Of is what was read: a ring, a plug, or one place.
	Of string `json:"of"`
	// Radius is a ring's or a plug's, and RadiusLimit the limit of its error, ±, 0 where nobody stated it.
	Radius      float64   `json:"radius,omitempty"`
	RadiusLimit float64   `json:"radius_limit,omitempty"`
	Readings    []float64 `json:"readings"`
}

// The figures that are found.
const (
	FoundReach         = "setup.reach"
	FoundRepeatability = "dial.repeatability"
)

// mostFound bounds the rounds, and the readings of one.
const mostFound = 100

// Check refuses what nobody can have found.
func (f *Found) Check() error {
	if f.Key != FoundReach && f.Key != FoundRepeatability {
		return fmt.Errorf("found %q, need %s or %s", f.Key, FoundReach, FoundRepeatability)
	}
	if f.By == "" || len(f.Rounds) == 0 || len(f.Rounds) > mostFound {
		return fmt.Errorf("%s found by %q from %d rounds, need a way, and 1 to %d", f.Key, f.By, len(f.Rounds), mostFound)
	}
	numbers := []float64{f.Value, f.Limit}
	for _, r := range f.Rounds {
		if len(r.Readings) == 0 || len(r.Readings) > mostFound || r.Radius < 0 || r.RadiusLimit < 0 {
			return fmt.Errorf("%s found on %q of radius %v, ±%v, with %d readings; need 1 to %d, and lengths of 0 or above", f.Key, r.Of,
				r.Radius, r.RadiusLimit, len(r.Readings), mostFound)
		}
		numbers = append(append(numbers, r.Radius, r.RadiusLimit), r.Readings...)
	}
	if f.Limit < 0 || slices.ContainsFunc(numbers, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }) {
		return fmt.Errorf("%s found as %v, ±%v, need numbers", f.Key, f.Value, f.Limit)
	}
	return nil
}
