package advice

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Lean is how far a reference leans by two sweeps, one of them height above the other (below where that is negative): by how
// much its centre goes aside for a millimetre upwards, and the expanded uncertainty of that in the direction in which it is
// known least. What is the same in both, reach and reference, cancels; only the readings' scatter is left. ok is false where
// the two cannot be compared.
func Lean(low, high *indicator.Estimate, height float64) (per geom.Point, u float64, ok bool) {
	if high.Dof <= 0 || low.Dof <= 0 || !(math.Abs(height) > 0) {
		return per, 0, false
	}
	by := high.Circle.Centre.Sub(low.Circle.Centre)
	a, b := high.Scatter(), low.Scatter()
	xx, yy, xy := a[0][0]+b[0][0], a[1][1]+b[1][1], a[0][1]+b[0][1]
	most := (xx+yy)/2 + math.Hypot((xx-yy)/2, xy) // the larger eigenvalue
	per = geom.Point{X: by.X / height, Y: by.Y / height}
	u = fit.Coverage(min(high.Dof, low.Dof)) * math.Sqrt(max(0, most)) / math.Abs(height)
	bad := per.X + per.Y + u
	return per, u, !math.IsNaN(bad) && !math.IsInf(bad, 0)
}
