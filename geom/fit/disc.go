package fit

import (
	"math"

	"example.org/trammel/geom"
)

// beyondRays is over how many directions Beyond sums. The sum over a period converges faster than any
// power while the ellipse is no thinner than about 1 : beyondRays/4; at 1 : 100 it is still good to 1e-6.
const beyondRays = 360

// Beyond returns the probability that the true centre lies farther than radius from the axis,
// when it is distributed about the fitted centre as a bivariate t with the fit's cofactor, a
// reading's standard deviation s and dof degrees of freedom (+Inf for the normal law). Lengths
// are millimetres. NaN where s or dof mean nothing.
//
// In coordinates that make the law circular, half the squared distance from the fitted centre
// follows F with 2 and ν degrees of freedom in every direction alike, so a ray holds more than k
// with probability (1 + k²/ν)^(−ν/2) (exp(−k²/2) for the normal law; both closed forms of the F
// distribution). A ray from inside the disc leaves it once, one from outside may enter and leave:
// what lies beyond is the mean over the rays. With the fitted centre inside, errors are below 1e-9
// for ellipses of up to 1 : 20 (TestBeyond…); outside, where rays may graze the disc, about 1e-3.
func (r *Radial) Beyond(radius, s, dof float64) float64 {
	if !(s >= 0) || !(dof > 0) || !(radius >= 0) {
		return math.NaN()
	}
	ell := r.Cofactor.Ellipse()
	u := ell.Along.Unit()
	e := geom.Point{X: r.Centre.Dot(u), Y: r.Centre.Dot(geom.Point{X: -u.Y, Y: u.X})}
	sum := 0.0
	for i := range beyondRays {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / beyondRays)
		near, far := rayCrossing(e, geom.Point{X: s * ell.Major * cos, Y: s * ell.Minor * sin}, radius)
		sum += 1 - rayHolds(near, dof) + rayHolds(far, dof)
	}
	return min(1, max(0, sum/beyondRays))
}

// rayCrossing returns where the ray e + k·d, k ≥ 0, enters and leaves the disc of the given radius
// about the origin: twice the same where it misses it, 0 for the entry where e lies inside.
func rayCrossing(e, d geom.Point, radius float64) (near, far float64) {
	a, b, c := d.Dot(d), e.Dot(d), float64((e.Norm()-radius)*(e.Norm()+radius))
	if a == 0 {
		if c > 0 {
			return 0, 0
		}
		return 0, math.Inf(1)
	}
	disc := float64(b*b) - float64(a*c)
	if disc < 0 || (c > 0 && b >= 0) {
		return 0, 0
	}
	// The two roots' product is c/a; the sum that does not cancel gives the one, and it the other.
	if q := math.Sqrt(disc); b > 0 {
		far = -c / (b + q)
	} else {
		far = (q - b) / a
	}
	if c <= 0 {
		return 0, far
	}
	return c / a / far, far
}

// rayHolds is the probability that a ray holds more than k.
func rayHolds(k, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return math.Exp(-k * k / 2)
	}
	return math.Pow(1+k*k/dof, -dof/2)
}
