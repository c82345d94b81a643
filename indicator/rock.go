package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Extreme is what the needle does at the turning point.
type Extreme uint8

const (
	// NoExtreme: the tip stands under the spindle's axis, and rocking moves no needle.
	NoExtreme Extreme = iota
	// Highest: the reading turns at its largest.
	Highest
	// Lowest: it turns at its smallest.
	Lowest
)

// String is the word that records use.
func (e Extreme) String() string { return [...]string{"none", "highest", "lowest"}[e] }

// MarshalText writes the word.
func (e Extreme) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// ball is how far beyond the spindle's axis the middle of the tip's ball stands: the reach is that of
// the touching point, on the ball's far side in a bore and on its near side round a boss.
func (s Setup) ball() float64 { return s.Reach + float64(s.Touch.sign()*s.TipDiameter/2) }

// Turning returns the extreme at which rocking the spindle turns the needle: the highest reading for
// a bore with t > 0 or a boss with t < 0, the lowest for the other two.
func (s Setup) Turning() Extreme { return extreme(s.Touch, s.ball()) }

func extreme(t Touch, reach float64) Extreme {
	switch up := -t.sign() * reach; {
	case up > 0:
		return Highest
	case up < 0:
		return Lowest
	}
	return NoExtreme
}

// OffLine returns what a tip that stands off the radial line by angle (radians) does to the zero radius
// at a swing radius R (millimetres), in length:
//
//	δz = √((R + t)² − 2Rt(1 − cos φ)) − (R + t) ≈ −(tφ²/2)·R/(R + t)
//
// It has one sign, whichever way the tip is off, so no mean takes it out; rocking to the turning point
// does. R 42, t −12: 2° makes 10 µm, 5° makes 64 µm. The swing radius found is out by as much, the same
// way: the sweep finds the z there is, and takes t off it. The ball's middle is what swings: t is its
// reach here.
func (s Setup) OffLine(swing, angle float64) float64 {
	t := s.ball()
	z := swing + t
	h := math.Sin(angle / 2)
	cut := 4 * swing * t * h * h // 1 − cos φ = 2 sin²(φ/2), without the digits lost
	return -cut / (z + math.Sqrt(max(0, z*z-cut)))
}

// Rocked is the turning point of three readings taken while rocking the spindle.
type Rocked struct {
	// At is the angle of the extreme, Reading the reading there (millimetres).
	At      geom.Bearing
	Reading float64
	Extreme Extreme
	// Beyond says that the extreme lies outside the three angles: rock farther that way.
	Beyond bool
	// Sag is by how much the middle of the span bows away from its ends.
	Sag float64
}

// RockError: three readings that turn nowhere, because two of their angles coincide or because they bow by
// Sag where Need could be scatter. Millimetres.
type RockError struct {
	Coincide  bool
	Sag, Need float64
}

func (e *RockError) Error() string { return e.In(geom.Millimetre) }

// In spells the error in a unit.
func (e *RockError) In(u geom.Unit) string {
	if e.Coincide {
		return "two of the three angles coincide, need three apart"
	}
	return fmt.Sprintf("the three readings bow by %.2g %v, need more than %.2g %v for a turning point", u.From(math.Abs(e.Sag)), u,
		u.From(e.Need), u)
}

// Rock lays a parabola through three readings (millimetres) at three angles of the locked-off spindle,
// which need no common zero with anything. sigma is the standard deviation of a reading, 0 where none
// is known: a bow that could be scatter is refused with a *[RockError], as are angles that coincide.
func Rock(angles [3]geom.Bearing, readings [3]float64, sigma float64) (Rocked, error) {
	a, b, c := float64(angles[0]), float64(angles[1]), float64(angles[2])
	const apart = 1e-4 // about a two hundredth of a degree: no hand sets less
	if math.Abs(a-b) < apart || math.Abs(b-c) < apart || math.Abs(a-c) < apart {
		return Rocked{}, &RockError{Coincide: true}
	}
	// Newton's divided differences.
	slope := (readings[1] - readings[0]) / (b - a)
	curve := ((readings[2]-readings[1])/(c-b) - slope) / (c - a)
	lo, hi := min(a, b, c), max(a, b, c)
	half := (hi - lo) / 2
	r := Rocked{Sag: -curve * half * half}
	// The curve is a sum of the readings over the products of their angles' differences; three standard
	// deviations of it are taken for seen.
	noise := 3 * sigma * half * half * math.Sqrt(1/sq((a-b)*(a-c))+1/sq((b-a)*(b-c))+1/sq((c-a)*(c-b)))
	if !(math.Abs(r.Sag) > noise) || r.Sag == 0 {
		return r, &RockError{Sag: r.Sag, Need: noise}
	}
	at := (a+b)/2 - slope/(2*curve)
	r.At, r.Reading = geom.Bearing(at), readings[0]+slope*(at-a)+curve*(at-a)*(at-b)
	r.Extreme = Highest
	if curve > 0 {
		r.Extreme = Lowest
	}
	r.Beyond = at < lo || at > hi
	return r, nil
}

func sq(x float64) float64 { return x * x }

// Says returns the way of the tip that a turning point proves: independent evidence for the sign of
// the reach.
func (r Rocked) Says(t Touch) Way {
	if extreme(t, 1) == r.Extreme {
		return TipOut
	}
	return TipIn
}
