package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Verdict is what may be said of a tolerance.
type Verdict uint8

const (
	// NoVerdict: nothing was asked, or the value itself is not known.
	NoVerdict Verdict = iota
	// Inside: inside the tolerance, its uncertainty included.
	Inside
	// Outside: outside the tolerance, its uncertainty included.
	Outside
	// Undecided: the uncertainty reaches across the limit.
	Undecided
)

var verdictWords = [...]string{"none", "inside", "outside", "undecided"}

// String is the verdict's word.
func (v Verdict) String() string { return verdictWords[v] }

// Words is the verdict for a person: where nothing was judged, that.
func (v Verdict) Words() string {
	if v == NoVerdict {
		return "not judged"
	}
	return v.String()
}

// MarshalText writes the word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText is the inverse of MarshalText.
func (v *Verdict) UnmarshalText(b []byte) error {
	for i, w := range verdictWords {
		if w == string(b) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("verdict %q, need one of %v", b, verdictWords)
}

// Verdicts are what a sweep proves.
type Verdicts struct{ Radius, Centre Verdict }

// Has reports whether either verdict is w.
func (v Verdicts) Has(w Verdict) bool { return v.Radius == w || v.Centre == w }

// FixedTail is the risk of a false "inside" at the limit, on each side, that a single look at a
// sweep may take: what a 95 % interval leaves.
const FixedTail = 0.025

// Judge compares an error with ± tolerance: inside when |error| + U ≤ tolerance, outside when
// |error| − U > tolerance, undecided between, and undecided without an uncertainty. guard ≥ 1
// widens U: a sweep that may stop as soon as it looks right, or wrong, has to look more so (see
// [Estimate.Guard]).
//
// Source: ISO 14253-1, editions 1998 and 2013, guard band U (known through summaries; the
// standard itself was not at hand).
func Judge(err Value, tolerance, guard float64) Verdict {
	switch a := math.Abs(err.V); {
	case math.IsNaN(a):
		return NoVerdict
	case a+guard*err.U <= tolerance:
		return Inside
	case a-guard*err.U > tolerance:
		return Outside
	}
	return Undecided
}

// Guard is how much wider than U the band must be for a false verdict to be rarer than tail.
func (f *Estimate) Guard(tail float64) float64 {
	if tail >= FixedTail || f.Dof <= 0 {
		return 1
	}
	return fit.Student(1-tail, f.Dof) / fit.Coverage(f.Dof)
}

// JudgeCentre compares the centre error with a tolerance on its length. It is inside when the
// probability that the true centre lies beyond the tolerance is at most tail: the uncertainty along
// e alone would be unsafe on a part circle, whose ellipse is long, and |e| near zero is no
// Gaussian. It is outside when the ellipse that leaves 2·tail (the 95 % one, for a single look)
// lies beyond a line that the tolerance circle does not reach.
func (f *Estimate) JudgeCentre(tolerance, tail float64) Verdict {
	e := f.Circle.Centre
	if f.Dof <= 0 || math.IsNaN(f.Sigma) {
		return Undecided
	}
	if f.centreInside(tolerance, tail) {
		return Inside
	}
	// The ellipse's reach along e is √(a²cos² + b²sin²) of the angle between e and its axis.
	ell, _ := f.ellipse(1 - 2*tail)
	s, c := math.Sincos(float64(e.Bearing() - ell.Along))
	if e.Norm()-math.Hypot(ell.Major*c, ell.Minor*s) > tolerance {
		return Outside
	}
	return Undecided
}

// centreInside decides with the cheapest bound that can. The half plane beyond the tolerance
// circle on e's side holds less than lies beyond the circle; an ellipse of the same probability
// that lies inside the circle holds all but that.
func (f *Estimate) centreInside(tolerance, tail float64) bool {
	e := f.Circle.Centre
	n := e.Norm()
	if n >= tolerance {
		return false
	}
	along := f.worst()
	if n > 0 {
		along = [3]float64{0, e.X / n, e.Y / n}
	}
	c, dof := f.centre()
	u := math.Sqrt(max(0, c.Quadratic(along)))
	if n+fit.Student(1-tail, dof)*u > tolerance {
		return false
	}
	ell, _ := f.ellipse(1 - tail)
	if farthest(e, ell.Major, ell.Minor, ell.Along) <= tolerance {
		return true
	}
	known := fit.Radial{Centre: e, Cofactor: c}
	return known.Beyond(tolerance, 1, dof) <= tail
}

// farthest bounds from above the distance from the origin to the farthest point of an ellipse:
// the ellipse lies inside the polygon whose corners stand on the ellipse grown by 1/cos(π/n),
// and a polygon is farthest at a corner. With n = 360 it is at most 4e-5 of an axis too far.
func farthest(centre geom.Point, major, minor float64, along geom.Bearing) float64 {
	const n = 360
	grow := 1 / math.Cos(math.Pi/n)
	u := along.Unit()
	most := 0.0
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		a, b := grow*major*c, grow*minor*s
		most = max(most, math.Hypot(centre.X+a*u.X-b*u.Y, centre.Y+a*u.Y+b*u.X))
	}
	return most
}
