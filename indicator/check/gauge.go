package check

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Bounds are what radius gauges say: above Above and below Below; NaN where nothing is said. They are no
// figure, and never become one.
type Bounds struct {
	Above, Below float64
	Assumed      indicator.Assumed // the gauges, where nobody said how right they are
}

// Gauges turns what the light gaps of gauges prove into bounds: larger than one gauge, smaller than
// another (V is 0 where there is none). A gauge's own Limit widens them. A hollow gauge laid over a boss touches
// in the middle when it is the flatter of the two, a round one laid into a hollow when it is the rounder:
//
//	metal inside   light at the ends: the arc is smaller     in the middle: larger
//	metal outside  light at the ends: the arc is larger      in the middle: smaller
func Gauges(larger, smaller Figure) (Bounds, error) {
	b := Bounds{Above: math.NaN(), Below: math.NaN()}
	for _, g := range []struct {
		input
		into *float64
		way  float64
	}{{input{name: "gauge that is smaller than the arc", Figure: larger}, &b.Above, -1},
		{input{name: "gauge that is larger than the arc", Figure: smaller}, &b.Below, 1}} {
		if g.V == 0 {
			continue
		}
		if err := above(g.input); err != nil {
			return Bounds{}, err
		}
		*g.into = g.V + float64(g.way*g.Limit)
		if !g.doubted() && len(b.Assumed) == 0 {
			b.Assumed = lean(nil, "gauge", 1)
		}
	}
	if math.IsNaN(b.Above) && math.IsNaN(b.Below) {
		return b, &ShapeError{Remark{Form: "no gauge, need one that the arc is larger or smaller than"},
			"lay a gauge on the arc against the light"}
	}
	if b.Above >= b.Below {
		return b, &ShapeError{Remark{Form: "larger than %s and smaller than %s cannot both be, need the second above the first",
			Lengths: []float64{b.Above, b.Below}},
			"light at the ends on a boss, or in the middle in a hollow, means that the arc is smaller than the gauge"}
	}
	return b, nil
}

// Judge holds the bounds against a tolerance. Inside needs a gauge on either side, both in it.
func (b Bounds) Judge(target, tolerance float64) indicator.Verdict {
	lo, hi := target-tolerance, target+tolerance
	switch {
	case b.Above >= hi || b.Below <= lo:
		return indicator.Outside
	case b.Above >= lo && b.Below <= hi:
		return indicator.HoldBack(indicator.Inside, b.Room(target, tolerance))
	}
	return indicator.Undecided
}

// In says the bounds in words.
func (b Bounds) In(u geom.Unit) string {
	switch {
	case math.IsNaN(b.Below):
		return Remark{Form: "larger than %s", Lengths: []float64{b.Above}}.In(u)
	case math.IsNaN(b.Above):
		return Remark{Form: "smaller than %s", Lengths: []float64{b.Below}}.In(u)
	}
	return Remark{Form: "larger than %s and smaller than %s", Lengths: []float64{b.Above, b.Below}}.In(u)
}
