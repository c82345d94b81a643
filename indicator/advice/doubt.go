package advice

import (
	"math"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Doubt of a wind before the machine has taught us better: a fiftieth of the travel for pitch and
// lost motion, and the two tenths of a division that a hand leaves by the collar (common practice,
// no source). Under the needle, which tells where the slide has come to, it may have gone anywhere
// within ParkDoubt of where it was sent.
const (
	windDoubt = 1.0 / 50
	handDoubt = 2    // in Slide.Finest
	ParkDoubt = 0.05 // mm
)

// What leaves a wind in doubt beside, millimetres (common practice, no source).
const (
	ScrewDoubt  = 0.005 // a screw's periodic error
	NeedleDoubt = 0.005 // where a slide was stopped by the needle
	LockLimit   = 0.02  // ±: what clamping a slide moves it by, where nobody has looked
	// MostShift bounds how far beside its goal a slide can stand once it is locked: more is a slide that
	// has not been wound to its goal, or a reading that was mistyped.
	MostShift = 0.06
)

// DoubtOf is the standard doubt of where a wind by collar has ended, millimetres, by what its slide has taught.
func DoubtOf(w slide.Wind, sl slide.Slide, b slide.Lesson, taught bool) float64 {
	if taught && len(b.Travels)+len(b.Radii) > 0 {
		if t := b.Posterior().Travel(w.Travel); t.Known() {
			return t.U / fit.Coverage(math.Inf(1))
		}
	}
	return math.Hypot(w.Travel*windDoubt, HandDoubt(sl))
}

// DoubtAlone is [DoubtOf] for a wind that no sweep looks at: a fiftieth of it, which only keeps the next sweep from being
// believed too little, would hide what is known of screws in general.
func DoubtAlone(w slide.Wind, sl slide.Slide, b slide.Lesson, taught bool) float64 {
	if taught {
		if t := b.Posterior().Travel(w.Travel); t.Known() {
			return t.U / fit.Coverage(math.Inf(1))
		}
	}
	return DoubtOf(w, sl, b, taught)
}

// HandDoubt is what a hand leaves at a slide's collar; 0 for one that has none.
func HandDoubt(sl slide.Slide) float64 {
	if sl.Divisions == 0 {
		return 0
	}
	return handDoubt * sl.Finest()
}

// ShownDoubt is the standard doubt of where a slide stands by a readout that counts in step: read there, or gone to
// within a step of what was told.
func ShownDoubt(step float64, read bool) float64 {
	if read {
		return step / math.Sqrt(12)
	}
	return step / math.Sqrt(3)
}

// LockShift is how far locking moves a slide, as far as its machine has shown.
func LockShift(sl slide.Slide, b slide.Lesson, taught bool) float64 {
	if taught && sl.Lock && len(b.Locks) > 0 {
		if v := b.LockShift().Mean; v.Known() {
			return v.V
		}
	}
	return 0
}

// ByCollar tells a wind by the collar, as far as the machine has taught how far its screw really goes. lock is what its lock
// moves it by and still has to: 0 where it has been shut before, for opening it for the next wind takes back what shutting it
// gives.
func ByCollar(sl slide.Slide, travel, lock float64, b slide.Lesson, taught bool) slide.Wind {
	stop := travel - lock
	if taught && len(b.Travels)+len(b.Radii) > 0 {
		if turned := b.Posterior().CollarFor(stop); turned.Known() {
			return sl.WindBy(travel, turned.V)
		}
	}
	if stop == travel {
		return sl.Wind(travel)
	}
	return sl.WindBy(travel, stop)
}

// Standard is the standard uncertainty behind an expanded one.
func Standard(v indicator.Value, dof float64) float64 { return v.U / fit.Coverage(dof) }
