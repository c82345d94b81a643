package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Origin is where the spindle's axis stands beside the head axis, the slide standing near R = 0.
type Origin struct {
	// Apart is S − A, the spindle's axis as seen from the head axis, in the machine's frame with the
	// head parked as it was for the spin.
	Apart geom.Point
	// Along is k(s − s₀): how far the slide stands beyond the place where the spindle is nearest to
	// the head axis, measured along the slide. Miss is h: how far to the left of the slide's
	// direction, seen from above, its line passes the head axis.
	Along, Miss Measure
}

// FindOrigin compares two sweeps of one ring, or one plug, which stays where it is, the slide standing
// near R = 0. spin: the spindle was spun by hand with the head parked, so its centre error is C − S.
// swing: the head was swung with the spindle locked, so it is C − A. Their difference is S − A.
//
//	(k(s − s₀), h) = ((S − A)·u(β), (S − A)·v(β))
//
// β is the bearing in which the slide carries the spindle outwards, with the head parked as for the
// spin; slideLimit bounds, ±, the angle between it and the bearings of the sweeps (radians). Bearings of
// both sweeps are those in which the tip points; for the swing the tip points along the slide.
//
// In the swing the tip's line passes the head axis at h, which turns its centre by h/ρ: that is in the
// budget, and vanishes as the ring is brought to the middle. A tip whose line passes the spindle's axis
// by c turns both by c/ρ; put it into slideLimit.
func FindOrigin(spin, swing *Estimate, slide geom.Bearing, slideLimit float64) Origin {
	u := slide.Unit()
	v := geom.Point{X: -u.Y, Y: u.X}
	o := Origin{Apart: swing.Circle.Centre.Sub(spin.Circle.Centre)}
	along, miss := o.Apart.Dot(u), o.Apart.Dot(v)
	turned := 0.0
	if s := swing.Setup; s.ReferenceRadius > 0 { // the ball's middle runs on the smaller circle, or the larger
		turned = math.Abs(miss) / (s.ReferenceRadius + float64(s.Touch.sign()*s.TipDiameter/2))
	}
	o.Along, o.Miss = Measure{V: along}, Measure{V: miss}
	for _, m := range []struct {
		into       *Measure
		on, across geom.Point
	}{{&o.Along, u, v}, {&o.Miss, v, u}} {
		m.into.centre("spin readings", spin, m.on, -1)
		m.into.centre("swing readings", swing, m.on, 1)
		m.into.Add(Input{Name: "slide's bearing", U: math.Abs(o.Apart.Dot(m.across)) * FromLimit(slideLimit), Sensitivity: 1,
			Dof:  math.Inf(1),
			Cure: "wind the slide nearer to the head axis, and repeat"})
		if line := turned * math.Abs(swing.Circle.Centre.Dot(m.across)); line > 1e-9 { // a picometre: rounding
			m.into.Add(Input{Name: "tip's line in the swing", U: FromLimit(line), Sensitivity: 1, Dof: math.Inf(1),
				Cure: "bring the ring nearer to the head axis, and repeat"})
		}
	}
	return o
}

// centre adds what a sweep's readings leave open of its centre along a direction.
func (m *Measure) centre(name string, f *Estimate, on geom.Point, sensitivity float64) {
	if f.Dof <= 0 {
		m.Open = true
		return
	}
	c, dof := f.centre()
	m.Add(Input{Name: name, U: math.Sqrt(max(0, c.Quadratic([3]float64{0, on.X, on.Y}))), Sensitivity: sensitivity, Dof: dof,
		Cure: "read more places, or take a finer dial"})
}

// Swing returns R = √((k(s − s₀))² + h²) at the place where the slide stands.
func (o Origin) Swing() float64 { return o.Apart.Norm() }

// MissError: a swing radius that no place of the slide has. Millimetres.
type MissError struct{ Swing, Miss float64 }

func (e *MissError) Error() string { return e.In(geom.Millimetre) }

// In spells the error in a unit.
func (e *MissError) In(u geom.Unit) string {
	return fmt.Sprintf("swing radius %.6g %v where the slide misses the head axis by %.6g %v, need at least as much", u.From(e.Swing), u,
		u.From(math.Abs(e.Miss)), u)
}

// SpindleBearing returns the bearing at which the spindle stands when the head's collar stands at a
// bearing (its figure turned into one, in its sense) and the collar's zero is at zero:
//
//	θ = collar + zero + asin(h/R)
//
// with the slide on its own side of the head axis. miss h is signed as in [Origin]; a miss of 0.2 at a
// swing radius of 10 turns the arc by 1.1°. A *[MissError] is returned where |h| > R, or R is not above 0.
func SpindleBearing(collar, zero geom.Bearing, miss, swing float64) (geom.Bearing, error) {
	if !(swing > 0) || !(math.Abs(miss) <= swing) {
		return 0, &MissError{swing, miss}
	}
	return (collar + zero + geom.Bearing(math.Asin(miss/swing))).Normalized(), nil
}
