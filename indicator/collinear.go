package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Collinearity is what a part of a circle cannot tell apart: the radius, and the centre's part along one
// bearing. The uncertainties are expanded, 95 %, of what the readings give, in millimetres.
type Collinearity struct {
	Along geom.Bearing
	// Radius and Part are the doubts of either, Together that of their sum or difference, whichever
	// the readings know, and Held that of the centre's part if the radius were known.
	Radius, Part, Together, Held float64
	// Difference says that the two are known together as radius less centre, not as their sum.
	Difference bool
}

// closely is the correlation from which radius and centre count as collinear: an even sweep of less
// than about 150° (see [fit.Sym3.Collinear]). There the doubt is three times what it would be if one
// of the two were known.
const closely = 0.95

// Collinear says what the sweep cannot tell apart; ok is false where it can, where a radius is held,
// and where no doubt is known.
func (f *Estimate) Collinear() (t Collinearity, ok bool) {
	if f.Circle.Hold || f.Dof <= 0 {
		return t, false
	}
	c := f.Circle.Cofactor.Collinear()
	if !(c.Correlation > closely) {
		return t, false
	}
	k := fit.Coverage(f.Dof) * f.spread()
	t = Collinearity{c.Along, k * c.Level, k * c.Part, k * c.Together, k * c.Held, true}
	if f.Circle.Sought != fit.ZeroDistance {
		// The level falls as the centre comes nearer along the arc's middle.
		t.Along, t.Difference = (c.Along + math.Pi).Normalized(), false
	}
	return t, true
}

// HeldOff returns by how much the radius that the readings alone give exceeds the held one, with the
// uncertainty of that difference; unknown where none is held, or the readings give none.
func (f *Estimate) HeldOff(bearings []geom.Bearing, readings []float64) Value {
	if !f.Circle.Hold {
		return unknown
	}
	s := f.Setup
	s.HeldRadius, s.HeldLimit = 0, 0
	free, err := Fit(f.Dial, s, bearings, readings)
	if err != nil {
		return unknown
	}
	r := free.Swing()
	if f.Circle.Sought == fit.SurfaceRadius {
		r = free.Radius()
	}
	return Value{r.V - f.Setup.HeldRadius, math.Hypot(r.U, f.Setup.HeldLimit)}
}
