package slide

import (
	"math"

	"example.org/trammel/indicator"
)

// AngleSeen is how far a slide was seen to be turned from what its name says, radians counter-clockwise,
// by what its wind has carried the circle to its side; U is the standard uncertainty of that.
type AngleSeen struct {
	Askew float64 `json:"askew"`
	U     float64 `json:"u"`
}

const (
	// mostAskew bounds a slide's angle, radians: any direction at all, which a machine file may state.
	mostAskew = 7
	// mostAskewLimit bounds its doubt, radians: past some 30° nobody knows which slide is which.
	mostAskewLimit = 0.55
)

func (o AngleSeen) check() error {
	return checkNumbers(
		number{"angle", o.Askew, -mostAskew, mostAskew},
		number{"uncertainty of the angle", o.U, least, most})
}

// Facing returns the lesson with what the machine file says today of the slide's direction; what was seen
// of it stands.
func (b Lesson) Facing(s Slide) Lesson {
	b.Assumed.Askew, b.Assumed.AskewLimit = s.Askew, s.AskewLimit
	return b
}

// Askew returns how far the slide is turned from what its name says, radians counter-clockwise, and the
// standard uncertainty of that: what the machine file states, and every angle seen, each weighed by its
// variance. Where the file states it as exact, that is all.
//
// Source: the linear Gaussian update of a mean (S. Särkkä, Bayesian Filtering and Smoothing, 2013,
// chapter 3, from memory); a rectangular limit a counts as a/√3 (JCGM 100:2008, 4.3.7, from memory).
func (b Lesson) Askew() (mean, u float64) {
	u = b.Assumed.AskewLimit / math.Sqrt(3)
	if !(u > 0) {
		return b.Assumed.Askew, 0
	}
	weight := 1 / float64(u*u)
	sum := float64(weight * b.Assumed.Askew)
	for _, o := range b.Angles {
		w := 1 / float64(o.U*o.U)
		weight, sum = weight+w, sum+float64(w*o.Askew)
	}
	return sum / weight, 1 / math.Sqrt(weight)
}

// SeenAngle takes in an angle, unless it is too far from what was believed: a slide does not turn on its
// base, so the wind was not what it was told to be. Finding.Off is then in radians.
func (b Lesson) SeenAngle(o AngleSeen) (Lesson, Finding) {
	if err := o.check(); err != nil {
		return b, refused(err)
	}
	mean, u := b.Askew()
	if u == 0 {
		return b, Finding{}
	}
	sd := math.Hypot(u, o.U)
	if by := o.Askew - mean; math.Abs(by) > alarm*sd {
		return b, Finding{Kind: OddAngle, Off: indicator.Value{V: by, U: coverage * sd}}
	}
	b.Angles = kept(b.Angles, o)
	return b, Finding{}
}
