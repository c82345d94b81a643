package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Pair is what two readings across from each other say: where the centre lies along the line between them, and
// nothing of where it lies across.
type Pair struct {
	// Bearing is that of the line, in the reference's frame, towards the first of the two; Along is the centre
	// error's part in that direction.
	Bearing geom.Bearing
	Along   Value
	// Swing is what the swing radius would be with the centre on the line, unknown unless the reference's radius
	// and the reach are known: a centre that lies across by a makes it a²/(2ρ) less. ρ is the reference's radius, 0
	// where it is not known.
	Swing     Value
	Reference float64
}

// opposite is how far from half a turn apart two stations may stand and still be a pair, radians.
const opposite = float64(5 * geom.Degree)

// opposed reports whether two stations stand across from each other.
func opposed(a, b geom.Bearing) bool { return math.Pi-a.Apart(b) <= opposite }

// Half returns what two opposite readings (millimetres) say. With d₁, d₂ the wall's distances and u₁, u₂ the
// directions, e·(u₁ − u₂) = d₁ − d₂, which across from each other is half the difference; and half the sum is
// √(ρ² − (e·v)²), which is ρ less (e·v)²/(2ρ) of the part across, that nobody knows. The doubt is that of two
// readings that repeat as stated, and unknown where nothing is. ok is false for stations that are no pair.
func Half(d Dial, s Setup, bearings [2]geom.Bearing, readings [2]float64) (p Pair, ok bool) {
	if !opposed(bearings[0], bearings[1]) || math.IsNaN(readings[0]+readings[1]) || math.IsInf(readings[0]+readings[1], 0) {
		return p, false
	}
	f := Estimate{Setup: s, Dial: d}
	line := bearings[0].Unit().Sub(bearings[1].Unit())
	y := [2]float64{f.distance(readings[0]), f.distance(readings[1])}
	p = Pair{Bearing: line.Bearing().Normalized(), Along: Value{(y[0] - y[1]) / line.Norm(), math.NaN()}, Swing: unknown,
		Reference: s.ReferenceRadius}
	if s.ReferenceRadius > 0 && s.ReachKnown {
		p.Swing = Value{s.ReferenceRadius - s.Reach - (y[0]+y[1])/2, math.NaN()}
	}
	if prior := d.prior(); prior.Dof > 0 {
		u := fit.Coverage(prior.Dof) * prior.Sigma * math.Sqrt2
		p.Along.U = u / line.Norm()
		if p.Swing.Known() {
			p.Swing.U = u / 2
		}
	}
	return p, true
}

// Short is by how much a centre that lies across by a makes the swing radius less than p.Swing: exactly
// ρ − √(ρ² − a²).
func (p *Pair) Short(a float64) float64 {
	if rho := p.Reference; rho > 0 && math.Abs(a) < rho {
		return rho - math.Sqrt(float64(rho*rho)-float64(a*a))
	}
	return math.NaN()
}
