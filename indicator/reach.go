package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Way says to which side of the spindle's axis the tip stands: it is the sign of the reach.
type Way uint8

const (
	// TipOut: away from the head axis, a reach above 0.
	TipOut Way = iota
	// TipIn: towards the head axis, a reach below 0.
	TipIn
)

// WayOf is the way of a reach (millimetres).
func WayOf(reach float64) Way {
	if reach < 0 {
		return TipIn
	}
	return TipOut
}

// sign is that of the reach.
func (w Way) sign() float64 {
	if w == TipIn {
		return -1
	}
	return 1
}

// String is the word that flags and records use.
func (w Way) String() string {
	if w == TipIn {
		return "in"
	}
	return "out"
}

// MarshalText writes the word.
func (w Way) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// Round is what the tip is spun against to find its reach.
type Round uint8

const (
	// Ring: the tip presses away from the spindle's axis.
	Ring Round = iota
	// Plug: the tip presses towards it.
	Plug
)

// String is the word that flags and records use.
func (r Round) String() string {
	if r == Plug {
		return "plug"
	}
	return "ring"
}

// MarshalText writes the word.
func (r Round) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// touch is how the tip meets the round, seen from the spindle's axis.
func (r Round) touch() Touch {
	if r == Plug {
		return Boss
	}
	return Bore
}

// RoundFor returns the round that a tip is spun against. In a bore the tip presses away from the head
// axis, round a boss towards it; spun about the spindle's own axis the same side of the ball must
// touch, so it is a ring where that is away from the spindle's axis (bore with the tip out, boss with
// the tip in), and a plug where it is towards it.
func RoundFor(t Touch, w Way) Round {
	if (t == Bore) == (w == TipOut) {
		return Ring
	}
	return Plug
}

// WrongRoundError: the tip would touch with its other side.
type WrongRoundError struct {
	Touch Touch
	Way   Way
	Have  Round
}

func (e *WrongRoundError) Error() string {
	from := map[Round]string{Ring: "away from the spindle's axis", Plug: "towards the spindle's axis"}
	need := RoundFor(e.Touch, e.Way)
	return fmt.Sprintf("a %v, need a %v: %s with the tip %v, the tip presses %s", e.Have, need, touchPlace(e.Touch), e.Way, from[need])
}

func touchPlace(t Touch) string {
	if t == Boss {
		return "round a boss"
	}
	return "in a bore"
}

// SwingError returns what the wrong round would do to every swing radius found with the reach, for a
// tip of the given diameter (millimetres). In a bore the reach comes out a whole diameter nearer to the
// head axis than it is, and the swing radius that much too large; round a boss the other way.
func (e *WrongRoundError) SwingError(tipDiameter float64) float64 {
	return -e.Touch.sign() * tipDiameter
}

// CheckRound refuses the round that the tip would touch with its other side.
func CheckRound(t Touch, w Way, have Round) error {
	if RoundFor(t, w) != have {
		return &WrongRoundError{Touch: t, Way: w, Have: have}
	}
	return nil
}

// Spin is the cutter spindle spun by hand, the head standing still, with the tip against a true round.
// Lengths are millimetres.
type Spin struct {
	Dial  Dial
	Touch Touch // how the reach will be used
	Way   Way
	Round Round
	// Radius ρ is the round's, RadiusLimit its error's limit, ±.
	Radius, RadiusLimit float64
	TipDiameter         float64
}

// PlaceError: a length that has to be above 0, and is not. Millimetres.
type PlaceError struct {
	What string
	V    float64
}

func (e *PlaceError) Error() string { return e.In(geom.Millimetre) }

// In spells the error in a unit.
func (e *PlaceError) In(u geom.Unit) string {
	return fmt.Sprintf("%s %.6g %v, need above 0", e.What, u.From(e.V), u)
}

// Reach fits the round to readings taken with the tip pointing at the given bearings (any zero), and
// returns the reach with its sign
//
//	ring:  |t| = ρ + g·m̄        plug:  |t| = ρ − g·m̄
//
// where m̄ is the reading of a round that stands true to the spindle's axis: the fit takes out that it
// does not. The errors are *[WrongRoundError], *[PlaceError] and those of [Fit].
func (s Spin) Reach(bearings []geom.Bearing, readings []float64) (Measure, Estimate, error) {
	if err := CheckRound(s.Touch, s.Way, s.Round); err != nil {
		return Measure{}, Estimate{}, err
	}
	f, err := Fit(s.Dial, Setup{
		Touch: s.Round.touch(), ReferenceRadius: s.Radius, ReferenceLimit: s.RadiusLimit, TipDiameter: s.TipDiameter,
	}, bearings, readings)
	if err != nil {
		return Measure{}, f, err
	}
	z := f.Zero(s.Round.String())
	if !(z.V > 0) {
		return Measure{}, f, &PlaceError{"tip to the spindle's axis", z.V}
	}
	return z.Times(s.Way.sign()), f, nil
}

// Zero returns the zero radius z, how far the tip stands from the axis of rotation when the dial reads
// zero, as the sweep of a reference of known radius finds it, with its budget. name goes in front of
// the parts.
func (f *Estimate) Zero(name string) Measure {
	m := Measure{V: f.Circle.Level, Open: f.Dof <= 0}
	if !m.Open {
		m.Add(Input{Name: name + " readings", U: f.spread() * math.Sqrt(max(0, f.Circle.Cofactor[0][0])),
			Sensitivity: -f.Setup.Touch.sign(), Dof: f.Dof,
			Cure: "read more places, or take a finer dial"})
	}
	m.known(name, f.Dial, f.Setup.ReferenceLimit, f.meanReading())
	return m
}

// Mean is the mean reading round a reference that stands true to the axis. Lengths are millimetres.
type Mean struct {
	Dial  Dial
	Touch Touch
	// Radius is the reference's, RadiusLimit the limit of its error, ±.
	Radius, RadiusLimit float64
	// Reading is the mean, ReadingLimit the limit of its error, ±.
	Reading, ReadingLimit float64
}

// Zero returns the zero radius, name in front of its parts:
//
//	bore:  z = ρ + g·m̄        boss:  z = ρ − g·m̄
//
// The mean is known to its limit, and as finely as the dial is read; where neither is stated its
// uncertainty is not known. The mean of equal steps round a reference that stands off
// by e is short by e²/4ρ: a sweep has no such term.
func (a Mean) Zero(name string) Measure {
	d, sign := a.Dial, a.Touch.sign()
	m := Measure{V: a.Radius - float64(sign*d.Gain()*a.Reading), Open: a.ReadingLimit == 0 && d.Rounding() == 0}
	m.Add(Input{Name: name + " mean reading", U: math.Hypot(FromLimit(a.ReadingLimit), d.Rounding()) * d.scale(), Sensitivity: -sign,
		Dof:  math.Inf(1),
		Cure: "sweep it, and fit the readings"})
	m.known(name, d, a.RadiusLimit, a.Reading)
	return m
}

// known adds the parts that come from stated limits; what is not stated is taken as exact.
func (m *Measure) known(name string, d Dial, radiusLimit, mean float64) {
	lever := math.Abs(mean*math.Sin(d.LeverAngle)) * FromLimit(d.LeverLimit)
	for _, x := range []Input{
		{Name: name + " radius", U: FromLimit(radiusLimit), Cure: "measure the " + name},
		{Name: name + " dial error", U: FromLimit(d.ErrorLimit) * d.scale(),
			Cure: "bring the readings near zero, or have the dial checked"},
		{Name: name + " lever angle", U: lever, Cure: "lay the lever along the surface, or bring the readings near zero"},
	} {
		x.Sensitivity, x.Dof = 1, math.Inf(1)
		m.Add(x)
	}
}

// priorOf is the standard deviation of one reading (travel of the tip) as far as it is stated, and its
// degrees of freedom; 0 and +Inf where nothing is.
func priorOf(d Dial) (u, dof float64) {
	if p := d.prior(); p.Sigma > 0 {
		return p.Sigma, p.Dof
	}
	return d.prior().Floor, math.Inf(1)
}
