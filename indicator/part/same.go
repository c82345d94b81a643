package part

import (
	"math"
	"slices"

	"example.org/trammel/geom"
)

// sameMM is how far the figures of one arc may lie apart, millimetres, and radians.
const sameMM = 1e-6

// same reports whether two settings are for one arc, whatever its number: that follows from the flags that the
// plan was asked for with.
func (a *Picked) same(b *Picked) bool {
	far := func(x, y float64) bool { return math.Abs(x-y) > sameMM }
	return a.Centre.Sub(b.Centre).Norm() <= sameMM && !far(a.Radius, b.Radius) && !far(a.Swing, b.Swing) &&
		!far(float64((a.From-b.From+1).Normalized()), 1) && !far(float64(a.To-a.From), float64(b.To-b.From))
}

// Numbers lists the arcs of the plan that a setting for an arc is for, by their numbers.
func (p *Plan) Numbers(of *Picked) (numbers []int) {
	for swung := range p.Swings() {
		if a, err := Pick(p, swung.N, ""); err == nil && a.same(of) {
			numbers = append(numbers, swung.N)
		}
	}
	return numbers
}

// SameOutline reports whether two outlines are the same run by run; of none no one can say so.
func SameOutline(a, b []geom.Chain) bool {
	near := func(p, q geom.Point) bool { return p.Sub(q).Norm() <= sameMM }
	same := func(e, o geom.Element) bool {
		return near(e.Start, o.Start) && near(e.End, o.End) && near(e.At(0.5), o.At(0.5))
	}
	return len(a) > 0 && slices.EqualFunc(a, b, func(c, d geom.Chain) bool { return slices.EqualFunc(c, d, same) })
}
