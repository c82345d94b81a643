package slide

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/indicator"
)

// Lesson is what is believed of one slide: what was assumed before any trial, and what the
// trials showed since. It holds no estimate. [Lesson.Posterior] computes every learnt value anew from
// the list, for three reasons: the value can be traced to its trials, it does not depend on their
// order, and the linearisation is always taken where the answer lies. A filter that keeps mean
// and covariance has none of the three, and six trials are no burden.
//
// A Lesson is a plain value: the methods leave it as it is and return another. It goes into a
// journal as JSON and is read back strictly.
//
// A wind is told to one method only. Told to both [Lesson.SeenRadius] (the sweep after it) and
// [Lesson.SeenTravel] (its parked reading), it would count twice.
type Lesson struct {
	Assumed Assumed `json:"assumed"`
	// Origin counts how often the collar's origin was lost. Radii of an earlier origin still
	// say something of gain and miss, nothing of where the collar stands today.
	Origin int `json:"origin"`
	// PlayOpen says that the assumed backlash was found wrong: only the reversals count.
	PlayOpen  bool           `json:"play_open,omitempty"`
	Radii     []RadiusSeen   `json:"radii,omitempty"`
	Travels   []TravelSeen   `json:"travels,omitempty"`
	Reversals []ReversalSeen `json:"reversals,omitempty"`
	Locks     []LockSeen     `json:"locks,omitempty"`
	Angles    []AngleSeen    `json:"angles,omitempty"`
}

// Assumed is what is held of a slide before any trial. Lengths are millimetres. A limit is a
// stated bound on a magnitude.
//
// The defaults of [Prior] are common practice, no source.
type Assumed struct {
	// TravelPerTurn is the collar's count for one turn, the period of the screw's error.
	TravelPerTurn float64 `json:"travel_per_turn"`
	// Grows is the way the count goes when the swing radius grows.
	Grows Way `json:"grows"`
	// Gain is what the slide moves for 1 mm of count, known to ± GainLimit: a rectangular
	// distribution.
	Gain      float64 `json:"gain"`
	GainLimit float64 `json:"gain_limit"`
	// MissLimit bounds |h|, by which the slide's line misses the head axis; any h up to it is
	// thought equally likely. 0: the line meets the axis.
	MissLimit float64 `json:"miss_limit"`
	// Hand bounds the error of setting or reading a collar: a rectangular distribution.
	Hand float64 `json:"hand"`
	// Screw bounds the amplitude of the screw's error that comes back every turn; any amplitude
	// up to it is thought equally likely, at any phase. It matters most of all limits: stated half
	// as large as it is, intervals of 95 % hold 86 % (BenchmarkSchool).
	Screw float64 `json:"screw"`
	// Backlash is the play as the collar counts it, BacklashU its standard uncertainty.
	Backlash  float64 `json:"backlash"`
	BacklashU float64 `json:"backlash_u"`
	// LockSpread is the standard deviation of what one lock shifts, worth lockDof degrees of
	// freedom.
	LockSpread float64 `json:"lock_spread"`
	// Askew is how far the slide is turned from what its name says, radians counter-clockwise, known to
	// ± AskewLimit: a rectangular distribution. A limit of 0 is exact, and nothing is learnt of it.
	Askew      float64 `json:"askew,omitempty"`
	AskewLimit float64 `json:"askew_limit,omitempty"`
}

// RadiusSeen is one swing radius seen by a sweep, the slide brought up the take-up way. One stand
// of the slide is told once, whatever the number of sweeps at it: its setting error is one.
type RadiusSeen struct {
	// Count is where the collar stood: turns and divisions as a length, counted on over all
	// turns since the origin.
	Count float64 `json:"count"`
	// R is the swing radius, U its standard uncertainty apart from Common.
	R float64 `json:"r"`
	U float64 `json:"u"`
	// Common is the standard uncertainty of what is the same in all radii of one set-up of the
	// indicator: reach and reference. It does not average out, and it is a constant in R: within
	// one set-up it hides in the origin, between two it shows as a step.
	Common float64 `json:"common"`
	// Setup tells one set-up of the indicator from another.
	Setup int `json:"setup"`
	// Origin is the origin that Count is counted from. SeenRadius writes it.
	Origin int `json:"origin"`
}

// TravelSeen is a wind the take-up way, play closed before and after, under the needle: what the
// collar turned (its end less its start) and what the slide moved, + where the count grows; U is
// the standard uncertainty of Moved.
type TravelSeen struct {
	Turned float64 `json:"turned"`
	Moved  float64 `json:"moved"`
	U      float64 `json:"u"`
}

// ReversalSeen is how far the collar turned back, > 0, before the needle moved; U is the standard
// uncertainty of seeing that moment.
type ReversalSeen struct {
	Turned float64 `json:"turned"`
	U      float64 `json:"u"`
}

// LockSeen is what the slide moved when it was locked, + where the count grows, with its standard
// uncertainty.
type LockSeen struct {
	Moved float64 `json:"moved"`
	U     float64 `json:"u"`
}

const (
	// mostKept is how many observations of a kind are kept. The oldest go first, so that a slide
	// that wears is followed; what is lost with them the later ones have long said better.
	mostKept = 64
	// most and least bound lengths, millimetres, far beyond any slide: squares and quotients
	// stay finite within.
	most  = 1e6
	least = 1e-9
)

// Prior returns the lesson about a slide of the machine file before its first trial.
func Prior(s Slide) Lesson {
	a := Assumed{
		TravelPerTurn: s.TravelPerTurn,
		Grows:         Increase,
		Gain:          1,
		GainLimit:     0.003,
		MissLimit:     0.5,
		Hand:          s.Finest(),
		Screw:         0.005,
		Backlash:      0.15,
		BacklashU:     0.3 / math.Sqrt(12), // rectangular, 0 to 0.3
		LockSpread:    0.002,
		Askew:         s.Askew,
		AskewLimit:    s.AskewLimit,
	}
	if s.Backlash > 0 {
		a.Backlash, a.BacklashU = s.Backlash, s.Backlash/2
	}
	if s.BacklashLimit > 0 { // somebody found it, and says how right it is
		a.Backlash, a.BacklashU = s.Backlash, indicator.FromLimit(s.BacklashLimit)
	}
	if !usable(a.Hand) {
		a.Hand = 0
	}
	return Lesson{Assumed: a}
}

// Reopen returns the lesson after the origin was lost: the ring was moved on the handwheel, or
// the slide was taken off. Gain, miss, play and lock shift are kept.
func (b Lesson) Reopen() Lesson {
	b.Origin++
	return b
}

// nearest is the smallest swing radius that is learnt from or started for: below it R is hardly a
// function of the count, and h must be measured directly.
func (a Assumed) nearest() float64 { return max(2*a.MissLimit, least) }

// Check returns an error when something in the lesson is out of range.
func (b Lesson) Check() error {
	if err := b.Assumed.check(); err != nil {
		return err
	}
	if b.Origin < 0 {
		return fmt.Errorf("origin %d, need 0 or more", b.Origin)
	}
	for what, n := range map[string]int{"radii": len(b.Radii), "travels": len(b.Travels), "reversals": len(b.Reversals),
		"locks": len(b.Locks), "angles": len(b.Angles)} {
		if n > mostKept {
			return fmt.Errorf("%d %s, need at most %d", n, what, mostKept)
		}
	}
	for _, o := range b.Radii {
		if err := o.check(b.Assumed); err != nil {
			return err
		}
		if o.Origin < 0 || o.Origin > b.Origin {
			return fmt.Errorf("a radius of origin %d, need 0 to %d", o.Origin, b.Origin)
		}
	}
	return checkAll(b.Travels, checkAll(b.Reversals, checkAll(b.Locks, checkAll(b.Angles, nil))))
}

func checkAll[T interface{ check() error }](list []T, err error) error {
	for _, o := range list {
		if err == nil {
			err = o.check()
		}
	}
	return err
}

// number is one number that has to lie within limits.
type number struct {
	name            string
	v, least, below float64
}

func checkNumbers(all ...number) error {
	for _, n := range all {
		if !(n.v >= n.least && n.v < n.below) {
			return fmt.Errorf("%s %v, need %v or more and less than %v", n.name, n.v, n.least, n.below)
		}
	}
	return nil
}

func (a Assumed) check() error {
	if a.Grows != Increase && a.Grows != Decrease {
		return fmt.Errorf("way of growth %d, need 1 or -1", a.Grows)
	}
	return checkNumbers(
		number{"travel per turn", a.TravelPerTurn, least, most},
		number{"gain", a.Gain, 0.01, 100}, // a diameter dial has 0.5, a wrong unit 25.4
		number{"limit of the gain", a.GainLimit, 0, a.Gain / 2},
		number{"limit of the miss", a.MissLimit, 0, most},
		number{"limit of the hand", a.Hand, 0, most},
		number{"limit of the screw's error", a.Screw, 0, most},
		number{"backlash", a.Backlash, 0, most},
		number{"uncertainty of the backlash", a.BacklashU, least, most},
		number{"spread of the lock", a.LockSpread, least, most},
		number{"angle of the slide", a.Askew, -mostAskew, mostAskew},
		number{"limit of the slide's angle", a.AskewLimit, 0, mostAskewLimit})
}

func (o RadiusSeen) check(a Assumed) error {
	return checkNumbers(
		number{"count", o.Count, -most, most},
		number{"swing radius", o.R, a.nearest(), most},
		// One known no better than to a tenth of itself teaches nothing, and could stand on either
		// side of the axis.
		number{"uncertainty of the radius", o.U, least, o.R / 10},
		number{"common uncertainty", o.Common, 0, o.R / 10})
}

func (o TravelSeen) check() error {
	return checkNumbers(
		number{"turned", o.Turned, -most, most},
		number{"moved", o.Moved, -most, most},
		number{"uncertainty of the travel", o.U, least, most})
}

func (o ReversalSeen) check() error {
	return checkNumbers(
		number{"turned back", o.Turned, 0, most},
		number{"uncertainty of the reversal", o.U, least, most})
}

func (o LockSeen) check() error {
	return checkNumbers(
		number{"moved by the lock", o.Moved, -most, most},
		number{"uncertainty of the lock's shift", o.U, least, most})
}

func usable(x float64) bool { return math.Abs(x) < most }

// kept returns a new list with o at its end: no list is shared between two lessons that differ.
func kept[T any](list []T, o T) []T {
	return append(slices.Clone(list[max(0, len(list)+1-mostKept):]), o)
}

// UnmarshalJSON reads a lesson. A field that is not known, or a number out of range, is an error
// and leaves b as it was.
func (b *Lesson) UnmarshalJSON(text []byte) error {
	type plain Lesson
	var p plain
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&p); err != nil {
		return err
	}
	if err := Lesson(p).Check(); err != nil {
		return fmt.Errorf("belief: %w", err)
	}
	*b = Lesson(p)
	return nil
}
