package check

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Readout is what is known of coordinates: Limit bounds what the readout may put into a radius, ±,
// Resolution is what it counts in, Repeat the standard deviation of one touch. Tip is the diameter of
// the ball that touched; 0 for a point, or where its radius has been taken out already.
type Readout struct {
	Limit, Resolution, Repeat float64
	Stated                    bool // somebody has said what Limit is, 0 too
	Tip                       Figure
}

// Points measures an arc by coordinates touched on it: the orthogonal circle fit ([fit.Orthogonal])
// through where the tip's middle stood, which is half the tip outside of a boss and inside of a hollow:
//
//	r = ρ ∓ d/2        − with the metal inside, + with it outside
//
// Three points without a stated repeatability leave nothing to judge the spread by, and the uncertainty
// is open. The errors are those of [fit.Orthogonal], and of figures that no arc has.
func Points(p []geom.Point, o Readout, s Side) (Arc, error) {
	tip := input{name: "tip", Figure: o.Tip, known: true, slope: -s.sign() / 2}
	read := input{name: "readout", Figure: Figure{Limit: o.Limit, Resolution: o.Resolution, Repeat: o.Repeat}}
	if err := finite(tip, read); err != nil {
		return Arc{}, err
	}
	if o.Tip.V < 0 {
		return Arc{}, &indicator.PlaceError{What: "tip", V: o.Tip.V}
	}
	l, err := indicator.Locate(indicator.Dial{Graduation: o.Resolution, ReadsTo: 1, Repeatability: o.Repeat}, p)
	if err != nil {
		return Arc{}, err
	}
	// The touches' own scatter is a figure already worked out; the readout's step is in it.
	found := input{name: "readout", Figure: Figure{V: l.Circle.Radius, Limit: o.Limit, Stated: o.Stated}, slope: 1, known: true}
	formula, in := "least sum of squares of the distances", []input{found}
	if o.Tip.V > 0 {
		formula += map[Side]string{Inside: ", less d/2", Outside: ", and d/2"}[s]
		in = append(in, tip)
	}
	r := l.Circle.Radius + float64(tip.slope*o.Tip.V)
	if !(r > 0) {
		return Arc{}, &ShapeError{Remark{Form: "a tip of %s on a circle of radius %s leaves a radius of %s, need one above 0",
			Lengths: []float64{o.Tip.V, l.Circle.Radius, r}}, "check the side of the metal and the tip's diameter"}
	}
	a, err := arc("points", formula, r, in...)
	a.Step = o.Resolution
	a.scatter(&l)
	// No hard bound follows from a scatter: what lies beyond the stated ones counts four times over.
	a.Farthest += 4 * math.Sqrt(max(0, l.Circle.Cofactor[0][0])) * math.Max(o.Resolution, l.Sigma)
	return a, err
}

// scatter puts the touches' line in front of the budget.
func (a *Arc) scatter(l *indicator.Located) {
	if l.Dof <= 0 {
		a.Radius.Open = true
		a.remark(false, "three points leave nothing to judge the spread by: touch a fourth, or state the repeatability")
		return
	}
	m := indicator.Measure{V: a.Radius.V}
	m.Add(indicator.Input{Name: "touches", U: l.Sigma * math.Sqrt(max(0, l.Circle.Cofactor[0][0])), Sensitivity: 1, Dof: l.Dof,
		Cure: "touch more places, spread over more of the arc"})
	m.Terms = append(m.Terms, a.Radius.Terms...)
	a.Radius = m
	if l.Sigma == 0 { // exactly on a circle, and nothing stated
		a.Radius.Open = true
	}
}
