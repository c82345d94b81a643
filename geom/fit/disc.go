package fit

import (
	"math"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mathext"
)

// Beyond returns the probability that the true centre lies farther than radius from the axis,
// when it is distributed about the fitted centre as a bivariate t with the fit's cofactor, a
// reading's standard deviation s and dof degrees of freedom (+Inf for the normal law). Lengths
// are millimetres. NaN where s or dof mean nothing.
//
// Along the ellipse's long axis the centre follows a t with ν degrees of freedom, and across it,
// given how far along it lies, a t with ν + 1; the chord of the disc at that place is integrated
// by Gauss–Legendre over pieces that follow the distribution, to about 1e-7 of probability
// (TestBeyond).
//
// Source of the conditional law: P. Ding, The American Statistician 70 (2016) 293–295, "On the
// conditional distribution of the multivariate t distribution" (from memory).
func (r *Radial) Beyond(radius, s, dof float64) float64 {
	if !(s >= 0) || !(dof > 0) || !(radius >= 0) {
		return math.NaN()
	}
	ell := r.Cofactor.Ellipse()
	a, b := s*ell.Major, s*ell.Minor
	u := ell.Along.Unit()
	x0, y0 := r.Centre.Dot(u), r.Centre.Dot(geom.Point{X: -u.Y, Y: u.X})
	if a == 0 {
		if math.Hypot(x0, y0) > radius {
			return 1
		}
		return 0
	}
	// Substituting the along-part's own distribution, p = F(x), spends the points where the
	// probability is. The disc bounds p; the chord begins and ends like a square root there, which
	// the half cosine takes away.
	lo, hi := tCDF((-radius-x0)/a, dof), tCDF((radius-x0)/a, dof)
	const pieces = 8
	inside := 0.0
	for k := range pieces {
		for i, node := range legendreNodes {
			sin, cos := math.Sincos(math.Pi * (float64(k) + (1+node)/2) / pieces)
			p := lo + (hi-lo)*(1-cos)/2
			weight := legendreWeights[i] / 2 / pieces * (hi - lo) * math.Pi / 2 * sin
			inside += weight * across(p, x0, y0, a, b, radius, dof)
		}
	}
	return min(1, max(0, 1-inside))
}

// across is the probability of lying in the disc's chord at the place that the along-part has
// with cumulative probability p.
func across(p, x0, y0, a, b, radius, dof float64) float64 {
	z := Student(p, dof)
	x := x0 + a*z
	half := math.Sqrt(max(0, float64((radius-x)*(radius+x))))
	wide := b
	if !math.IsInf(dof, 1) {
		wide *= math.Sqrt((dof + z*z) / (dof + 1))
	}
	if wide == 0 {
		if math.Abs(y0) <= half {
			return 1
		}
		return 0
	}
	return tCDF((half-y0)/wide, dof+1) - tCDF((-half-y0)/wide, dof+1)
}

// tCDF is the distribution function of Student's t: Abramowitz and Stegun 26.7.1, from memory.
func tCDF(t, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return math.Erfc(-t/math.Sqrt2) / 2
	}
	if math.IsInf(t, 0) {
		return (1 + math.Copysign(1, t)) / 2
	}
	tail := mathext.RegIncBeta(dof/2, 0.5, dof/(dof+t*t)) / 2
	if t > 0 {
		return 1 - tail
	}
	return tail
}

// Gauss–Legendre nodes and weights on [−1, 1] for eight points (Abramowitz and Stegun table 25.4,
// from memory; TestLegendre holds them to the exact integrals of polynomials).
var (
	legendreNodes = [8]float64{-0.9602898564975363, -0.7966664774136267, -0.5255324099163290, -0.1834346424956498,
		0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	legendreWeights = [8]float64{0.1012285362903763, 0.2223810344533745, 0.3137066458778873, 0.3626837833783620,
		0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
)
