package slide

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Finding says what was odd about an observation. The zero value: nothing.
type Finding struct {
	Kind FindingKind
	// Off is what was seen less what was expected, with the doubt of the two together (95 %); of a
	// collar that stands beyond the axis by its count, unknown.
	Off indicator.Value
	// Shown is, of a slipped collar, what it shows less what it would show had it been left
	// alone, as the collar counts.
	Shown indicator.Value
	// NewSetup says that the radius was the first of its set-up: a wrong reach or reference
	// looks the same as a slipped collar.
	NewSetup bool
	// Why says what was wrong with an observation that was refused.
	Why string
}

// FindingKind is what was odd.
type FindingKind uint8

const (
	// Nothing was odd: the observation was taken in.
	Nothing FindingKind = iota
	// SlippedCollar: the radius is not where the collar says. The origin is open again, and this
	// radius is the first of the new one, where it can move neither gain nor miss.
	SlippedCollar
	// OddTravel: the slide moved what no gain explains; play not closed, or the ring turned on
	// its handwheel. Not taken in.
	OddTravel
	// ChangedPlay: the play is not what was believed. What was believed of it is dropped, this
	// reversal is the first of the new.
	ChangedPlay
	// OddLock: the lock moved the slide unlike other times. Not taken in.
	OddLock
	// OddAngle: the slide went another way than it was known to go, to its side. Not taken in.
	OddAngle
	// Refused: a number out of range. Not taken in.
	Refused
	// OtherWay: the slide went against what was told, by so much. Not taken in.
	OtherWay
)

var findingWords = [...]string{"nothing", "slipped collar", "odd travel", "changed play", "odd lock", "odd angle", "refused",
	"other way"}

// String is the kind's word.
func (k FindingKind) String() string {
	if int(k) < len(findingWords) {
		return findingWords[k]
	}
	return fmt.Sprintf("finding %d", uint8(k))
}

// alarm is how many standard deviations off an observation may be before it is a finding, and
// alarmTail the probability of more on one side: 1 in 2000 clean ones for both. A collar that
// slipped by ten standard deviations is missed once in 10¹⁰ cases.
const (
	alarm     = 3.4807564
	alarmTail = 0.00025
)

func refused(err error) Finding { return Finding{Kind: Refused, Why: err.Error()} }

func off(by, sd float64) indicator.Value { return indicator.Value{V: by, U: coverage * sd} }

// SeenRadius takes in a radius. One that is too far from what was expected is not averaged in: the
// collar is taken to have slipped, and the origin opens again.
func (b Lesson) SeenRadius(o RadiusSeen) (Lesson, Finding) {
	if err := o.check(b.Assumed); err != nil {
		return b, refused(err)
	}
	o.Origin = b.Origin
	var found Finding
	l := b.Posterior()
	// A count beyond the axis, where nothing can be expected, has slipped too: taken in, it would
	// leave nothing that fits all.
	if r, sd, ok := l.predict(o); l.from(o.Origin) && !(ok && math.Abs(o.R-r) <= alarm*sd) {
		found = Finding{Kind: SlippedCollar, Off: unknown, Shown: l.slipped(o), NewSetup: true}
		if ok {
			found.Off = off(o.R-r, sd)
		}
		for _, p := range b.Radii {
			found.NewSetup = found.NewSetup && p.Setup != o.Setup
		}
		b = b.Reopen()
		o.Origin = b.Origin
	}
	b.Radii = kept(b.Radii, o)
	return b, found
}

// slipped returns what the collar shows less what it would show at the radius seen. The screw's
// error is taken where the screw truly stands, which is not where the collar says.
func (l Posterior) slipped(o RadiusSeen) indicator.Value {
	shown := o.Count
	radius := o.R
	if j := slices.Index(l.by.setups, o.Setup); j >= 0 {
		radius -= float64(o.Common * l.z[j])
	}
	would, ok := l.StartFor(radius)
	if !ok {
		return unknown
	}
	o.Count = would.V
	_, sd, ok := l.predict(o)
	if !ok {
		return unknown
	}
	return off(shown-would.V, sd/l.by.gain(l.z))
}

// SeenTravel takes in a travel, unless no gain explains it.
func (b Lesson) SeenTravel(o TravelSeen) (Lesson, Finding) {
	if err := o.check(); err != nil {
		return b, refused(err)
	}
	if l := b.Posterior(); l.Known() {
		sd := math.Hypot(l.by.travelNoise(o), l.Gain().U/coverage*o.Turned)
		if by := o.Moved - l.Gain().V*o.Turned; math.Abs(by) > alarm*sd {
			return b, Finding{Kind: OddTravel, Off: off(by, sd)}
		}
	}
	b.Travels = kept(b.Travels, o)
	return b, Finding{}
}

// SeenReversal takes in a reversal. One that is too far from what was believed makes a new start:
// a nut that was adjusted does not go back.
func (b Lesson) SeenReversal(o ReversalSeen) (Lesson, Finding) {
	if err := o.check(); err != nil {
		return b, refused(err)
	}
	if mean, u, ok := b.play(); ok {
		sd := math.Hypot(u, b.reversalNoise(o))
		if by := o.Turned - mean; math.Abs(by) > alarm*sd {
			b.PlayOpen, b.Reversals = true, []ReversalSeen{o}
			return b, Finding{Kind: ChangedPlay, Off: off(by, sd)}
		}
	}
	b.Reversals = kept(b.Reversals, o)
	return b, Finding{}
}

// SeenLock takes in what a lock moved, unless it is unlike all other times.
func (b Lesson) SeenLock(o LockSeen) (Lesson, Finding) {
	if err := o.check(); err != nil {
		return b, refused(err)
	}
	l := b.lock()
	sd := l.spread * math.Sqrt(1/lockWeight(b.Assumed.LockSpread, o.U)+1/l.worth)
	if by := o.Moved - l.mean; math.Abs(by) > fit.Student(1-alarmTail, l.dof)*sd {
		return b, Finding{Kind: OddLock, Off: indicator.Value{V: by, U: fit.Coverage(l.dof) * sd}}
	}
	b.Locks = kept(b.Locks, o)
	return b, Finding{}
}
