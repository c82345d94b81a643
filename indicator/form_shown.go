package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Lobes are two and three lobes of the reference as an even round has shown them, in the middle of their phase: what the surface
// departs by at a bearing is Σ cos·cos kθ + sin·sin kθ, millimetres outwards.
type Lobes struct {
	cos, sin [2]float64
	// Bound is up to what amplitude the round leaves them, 95 %; 0 where its stations do not see them in every phase.
	Bound [2]float64
	// Is says that they are more than scatter.
	Is [2]bool
}

// stationsInPhase is how many even stations see so many lobes in every phase, and nothing of the circle in them.
var stationsInPhase = [2]int{6, 7}

// blind is the gain up to which lobes count as none of the circle's business: a centre error of a hundredth of the radius bends so much
// of an oval into it.
const blind = 0.02

// Lobes returns what the readings, which are those of the fit, show of ovals and of three lobes.
func (f *Estimate) Lobes(bearings []geom.Bearing, readings []float64) (l Lobes) {
	n := len(readings)
	shape := f.Shape(bearings, readings)
	l.Is = [2]bool{shape.TwoIs, shape.ThreeIs}
	p, rest, seen := f.Dial.prior(), f.Circle.SSR, [2]bool{}
	dof := p.Dof + float64(n-fit.MinStations)
	for i := range l.cos {
		k := fewestLobes + i
		radius, centre := f.FormGain(k)
		if n < stationsInPhase[i] || radius > blind || centre > blind || !(f.Dof > 0) {
			l.Is[i] = false
			continue
		}
		for j, b := range bearings {
			sin, cos := math.Sincos(float64(k) * float64(b))
			r := f.Residual(b, readings[j]) * f.perReading() * 2 / float64(n)
			l.cos[i], l.sin[i] = l.cos[i]+float64(r*cos), l.sin[i]+float64(r*sin)
		}
		l.Bound[i] = math.Hypot(l.cos[i], l.sin[i])
		rest -= float64(n) / 2 * l.Bound[i] * l.Bound[i]
		dof -= 2
		seen[i] = true
	}
	// The spread is what the lobes leave.
	for i, a := range l.Bound {
		switch {
		case dof <= 0:
			l.Bound[i] = 0
		case seen[i]:
			sigma := math.Max(math.Sqrt((p.Dof*p.Sigma*p.Sigma+math.Max(0, rest))/dof), p.Floor)
			l.Bound[i] = a + fit.EllipseFactor(fit.Confidence, dof)*sigma*math.Sqrt(2/float64(n))
		}
	}
	return l
}

// Reading is what those of the lobes that are more than scatter add to a reading at a bearing, millimetres of reading.
func (f *Estimate) Reading(l *Lobes, at geom.Bearing) (by float64) {
	for i, is := range l.Is {
		if is {
			sin, cos := math.Sincos(float64(fewestLobes+i) * float64(at))
			by += (float64(l.cos[i]*cos) + float64(l.sin[i]*sin)) / f.perReading()
		}
	}
	return by
}
