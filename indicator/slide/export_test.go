package slide

import (
	"math"

	"example.org/trammel/indicator"
)

// MissSquared returns q = h² (mm²): its mean, and the interval of Miss squared.
func (l Posterior) MissSquared() Bounds {
	if !l.Known() {
		return Bounds{math.NaN(), math.NaN(), math.NaN()}
	}
	h := l.Miss()
	return Bounds{l.by.miss(l.z), h.Low * h.Low, h.High * h.High}
}

// Expect returns the radius that a sweep should see: o.R is not looked at, all else counts, and
// U holds the sweep's, the hand's and the set-up's part. Unknown before the origin is known.
func (l Posterior) Expect(o RadiusSeen) indicator.Value {
	r, sd, ok := l.predict(o)
	if !ok {
		return unknown
	}
	return indicator.Value{V: r, U: coverage * sd}
}
