package advice

import (
	"iter"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// MarkStep spaces the bearings that a further station, or a place to park, is chosen from: marks that a person finds
// on a ring without counting.
const MarkStep = 15 * geom.Degree

// NextStation returns the one of the bearings that most lowers the deciding uncertainty, where v is what is proven so far;
// of equals, the one farthest from every station that has been read. far is the angle to the nearest of those.
func NextStation(f *indicator.Estimate, v indicator.Verdicts, marks iter.Seq[geom.Bearing], far func(geom.Bearing) float64) geom.Bearing {
	// Between two looks all may seem inside already, and the next look is still to be met.
	radius, centre := v.Radius == indicator.Undecided, v.Centre == indicator.Undecided
	if !radius && !centre {
		radius, centre = v.Radius != indicator.NoVerdict, v.Centre != indicator.NoVerdict
	}
	radius = radius && !f.Circle.Hold // no reading says anything of a held one
	var bestAt geom.Bearing
	bestVar, bestFar := math.Inf(1), -1.0
	for b := range marks {
		after := f.Circle.Cofactor.After(f.Circle.Row(b))
		q := 0.0
		if radius {
			q += after[0][0] / f.Circle.Cofactor[0][0]
		}
		if centre {
			q += after.Ellipse().Major / f.Circle.Cofactor.Ellipse().Major
		}
		apart := far(b)
		// Equal to a thousandth is equal: a clear place on the ring is worth more than that.
		if q < bestVar*(1-1e-3) || (q < bestVar*(1+1e-3) && apart > bestFar+1e-9) {
			bestAt, bestVar, bestFar = b, q, apart
		}
	}
	return bestAt
}

// Nearest is the angle from a bearing to the nearest of some; +Inf where there are none.
func Nearest(b geom.Bearing, all []geom.Bearing) float64 {
	near := math.Inf(1)
	for _, at := range all {
		near = min(near, at.Apart(b))
	}
	return near
}

// Across returns the next of the two stations that a pair lacks whose first stood at a bearing, as near to square across
// as can be reached; ok is false where none is. full says that every bearing can be reached, marks are those that can.
func Across(first geom.Bearing, full bool, marks iter.Seq[geom.Bearing], far func(geom.Bearing) float64) (b geom.Bearing, ok bool) {
	for _, want := range []geom.Bearing{first + math.Pi/2, first - math.Pi/2} {
		near, at := math.Inf(1), want
		if full {
			near = 0
		} else {
			for m := range marks {
				if off := m.Apart(want); off < near {
					near, at = off, m
				}
			}
		}
		if near < math.Pi/4 && far(at) > float64(MarkStep)*0.99 {
			return at.Normalized(), true
		}
	}
	return 0, false
}
