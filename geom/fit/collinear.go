package fit

import (
	"math"

	"example.org/trammel/geom"
)

// Collinearity is a combination of the unknowns that short arcs know badly: the level and the centre's
// part along one bearing, each wide open while the two together are known.
type Collinearity struct {
	// Along is the bearing whose part of the centre goes with the level; Correlation is how closely
	// (0 to 1, the multiple correlation of the level with the centre).
	Along       geom.Bearing
	Correlation float64
	// Level, Part, Together and Held are standard deviations for a reading's of 1: of the level, of
	// the centre along Along, of their sum or difference (whichever the readings know), and of the
	// centre along Along if the level were known.
	Level, Part, Together, Held float64
}

// Collinear finds what goes with the level. For a full circle of equal stations the correlation is 0;
// on an arc of half-angle φ that is swept evenly its square is 2·sinc²φ/(1 + sinc 2φ).
func (c *Sym3) Collinear() Collinearity {
	l, x, y := c[0][0], c[0][1], c[0][2]
	// C_ee⁻¹·c_el is the direction of the centre that the level follows.
	det := float64(c[1][1]*c[2][2]) - float64(c[1][2]*c[1][2])
	u := geom.Point{X: (float64(c[2][2]*x) - float64(c[1][2]*y)) / det, Y: (float64(c[1][1]*y) - float64(c[1][2]*x)) / det}
	n := u.Norm()
	if !(det > 0) || !(l > 0) || !(n > 0) {
		return Collinearity{Level: math.Sqrt(max(0, l)), Held: math.NaN(), Together: math.NaN(), Part: math.NaN()}
	}
	u = geom.Point{X: u.X / n, Y: u.Y / n}
	part, with := c.Quadratic([3]float64{0, u.X, u.Y}), float64(x*u.X)+float64(y*u.Y)
	// The difference where they grow together, which u's sign makes them do.
	return Collinearity{Along: u.Bearing(), Correlation: math.Sqrt(min(1, with*n/l)), Level: math.Sqrt(l), Part: math.Sqrt(part),
		Together: math.Sqrt(max(0, l+part-2*with)), Held: math.Sqrt(max(0, part-with*with/l))}
}
