package fit

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Points is a circle fitted to coordinates by orthogonal distance.
type Points struct {
	Centre geom.Point // millimetres, in the frame of the coordinates
	Radius float64    // millimetres
	// N counts the points.
	N int
	// SSR is Σ wᵢ rᵢ² in mm², r being the distance from the centre minus the radius.
	SSR float64
	// Cofactor is (JᵀWJ)⁻¹ over (Radius, x, y); times the variance of one point of weight 1,
	// square to the circle, it is the covariance. Cofactor.Ellipse is the centre's ellipse.
	Cofactor Sym3
	// Condition bounds the condition number of √W·J from above (Frobenius norms). A 1° arc
	// stands near 1e5; nearly straight sets go far beyond what a fit in radius and centre
	// could bear, and this one does not need to.
	Condition float64
	// Iterations counts the steps taken.
	Iterations int

	// arc is the same circle seen from a point of it, in millimetres: a centre kilometres away
	// has lost the digits that residuals of micrometres need.
	arc arc
}

// MinPlaces is the least number of distinct points that fixes a circle.
const MinPlaces = 3

// grain is the part of the largest coordinate that counts as nothing: fifty times the rounding
// of a float64, which is what computed coordinates of one and the same line or place differ by.
const grain = 1e-14

// dust is the rounding of a distance, in parts of the points' extent.
const dust = 1e-15

// CoincidentError: the points lie in too few places to fix a circle.
type CoincidentError struct{ Have, Need int }

func (e *CoincidentError) Error() string {
	return fmt.Sprintf("points in %d distinct places, need at least %d", e.Have, e.Need)
}

// StraightError: the points lie on a straight line, or no circle fits them better than one.
// Bow is the sagitta of the best curve over the points' length, Need what rounding of the
// coordinates alone can make of a straight line; millimetres.
type StraightError struct{ Bow, Need float64 }

func (e *StraightError) Error() string {
	return fmt.Sprintf("the points lie on a straight line (they bow by %.2g mm, need more than %.2g mm)", e.Bow, e.Need)
}

// UnsettledError: the search for the best circle did not come to rest. Step is how far the last
// step still moved, as a part of the points' extent.
type UnsettledError struct {
	Steps      int
	Step, Need float64
}

func (e *UnsettledError) Error() string {
	return fmt.Sprintf("no circle is best for these points (after %d steps still moving by %.1g of their extent, need below %.1g)", e.Steps,
		e.Step, e.Need)
}

// Orthogonal fits a circle to points by minimising Σ wᵢ (|Pᵢ − C| − ρ)² over the centre C and
// the radius ρ. Points are millimetres; w are relative weights, nil for all alike.
//
// The points are seen from their mean and scaled. The start is Taubin's algebraic circle, which
// unlike the plain linear one does not shrink on short arcs; from there Newton steps run on the
// circle's offset, direction and curvature at a point of the arc. Those stay regular through the
// straight line, so that a nearly straight set is fitted like any other, with the doubt its
// cofactor shows, and a start that bends the wrong way turns round. The minimum found is the only
// one unless the scatter reaches about a third of the radius. Nothing is allocated, whatever the
// number of points.
//
// It returns a *[CoincidentError] for points in fewer than MinPlaces places, a *[StraightError]
// when they lie on a straight line, a *[SingularError] when hardly more than two places carry
// weight, an *[UnsettledError] for heaps of points that no circle suits, and a *[ValueError] for
// numbers that are not finite.
//
// Sources, from memory: G. Taubin, IEEE Trans. PAMI 13 (1991) 1115–1138 (algebraic start);
// W. Gander, G. H. Golub, R. Strebel, BIT 34 (1994) 558–578 (orthogonal distance);
// N. Chernov, Circular and Linear Regression, CRC 2010, ch. 3 and 5 (a parametrisation that
// holds lines too). Held to printed answers by TestPublishedCircles.
func Orthogonal(p []geom.Point, w []float64) (Points, error) {
	f := Points{N: len(p)}
	c, err := centred(p, w)
	if err != nil {
		return f, err
	}
	a, err := c.algebraic()
	if err != nil {
		return f, err
	}
	q, err := f.refine(&c, &a)
	if err != nil {
		return f, err
	}
	if bow, need := c.bow(&a, &q); !(bow > need) {
		return f, &StraightError{Bow: bow, Need: need}
	}
	f.take(&c, a, &q)
	return f, nil
}

// refine steps from a to the arc of the least sum of squares. It stops as the radial fit does: near
// the answer the sum's own rounding hides what a step gains, so steps are then trusted whole until
// they shrink no more.
func (f *Points) refine(c *cloud, a *arc) (q qr, err error) {
	sum := c.sumSquares(a)
	near, size, last := false, 0.0, math.Inf(1)
	for f.Iterations = 1; f.Iterations <= maxSteps; f.Iterations++ {
		var bent Sym3
		q, bent = c.factor(a)
		if err := singular(q.condition()); err != nil {
			return q, err
		}
		step := q.solve()
		// Far out the residuals are those of the start, and their curvature says nothing of what is
		// ahead; nor does that of mere rounding.
		if left := max(0, sum-q.gain()); q.gain() <= left && left > dust*dust*c.weight {
			step = newton(&q, &bent, step)
		}
		size = math.Abs(step[0]) + math.Abs(step[1]) + math.Abs(step[2])
		to := a.moved(step, 1)
		after := c.sumSquares(&to)
		near = c.near(&q, size, sum, after)
		if !near {
			if !c.advance(a, step, &sum) {
				break
			}
			last = math.Inf(1)
			continue
		}
		*a, sum = to, after
		if size <= 1e-13 || size >= last {
			return q, nil
		}
		last = size
	}
	if near || size <= nearStep { // a small step that leads nowhere is rounding
		return q, nil
	}
	return q, &UnsettledError{Steps: min(f.Iterations, maxSteps), Step: size, Need: nearStep}
}

// near reports whether a whole step is to be trusted without asking that the sum of squares fall:
// it is small, or can gain hardly anything; and the sum does not rise by more than its rounding
// (where points crowd in two places far apart, even a small step can swing the circle away).
func (c *cloud) near(q *qr, size, before, after float64) bool {
	gain, rounding := q.gain(), dust*math.Sqrt(c.weight)
	small := size <= nearStep || gain <= nearGain*max(0, before-gain) || gain <= rounding*rounding
	return small && (after <= before*(1+nearGain) || math.Sqrt(after) <= math.Sqrt(before)+float64(10*rounding))
}

// take sets the result from the arc in scaled coordinates and the factor at it.
func (f *Points) take(c *cloud, a arc, q *qr) {
	f.SSR = c.size * c.size * c.sumSquares(&a)
	f.Cofactor = a.cofactor(q)
	// Each row of J is (−1, −cos, −sin), so that its squares add up to 2.
	trace := f.Cofactor[0][0] + f.Cofactor[1][1] + f.Cofactor[2][2]
	f.Condition = math.Sqrt(2*c.weight) * math.Sqrt(trace)
	if a.bend < 0 {
		a.bend, a.to = -a.bend, geom.Point{X: -a.to.X, Y: -a.to.Y}
	}
	f.arc = arc{at: c.back(a.at), to: a.to, bend: a.bend / c.size}
	f.Radius = c.size / a.bend
	f.Centre = c.back(geom.Point{X: a.at.X + a.to.X/a.bend, Y: a.at.Y + a.to.Y/a.bend})
}

// Residual returns how far p lies outside the fitted circle: its distance from the centre minus
// the radius, millimetres. It keeps its digits where the centre is too far away for that
// difference to have any.
func (f *Points) Residual(p geom.Point) float64 {
	d, _ := f.arc.depth(f.arc.local(p))
	return -d
}

// Spread returns the standard deviation of one point of weight 1, square to the circle, in
// millimetres, and its degrees of freedom, as [Radial.Spread] does.
func (f *Points) Spread(p Prior) (s, dof float64, ok bool) { return p.spread(f.N, f.SSR) }
