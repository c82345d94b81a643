package part

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Lay is how a straight comes to lie along a slide, and where the readout stands then.
//
// The work is turned about the datum, and the readout stands at zero over the datum before and after: of a place P
// of the drawing it then shows R(Turn)·(P − datum). With work that is clamped anew the datum is found again (its
// edges, or its bore), and the readout set to zero over it; on a rotary table whose cross slides stand at zero the
// datum lies over the table's axis, and stays there.
type Lay struct {
	// Turn is how far the work is turned, + counter-clockwise: the least that will do, so between two slides square
	// to each other never more than 45°. 0 where Turned is false: it lies along Slide already.
	Turn   geom.Bearing
	Turned bool
	Slide  geom.Bearing // that cuts it then
	// Across is the coordinate of the cutter's axis on the other slide, which is locked, and Run the coordinates
	// along Slide where the cut begins and where it stops. Meaningless without a cutter.
	Across float64
	Run    [2]float64
}

// lay finds how a straight is laid along a slide: the nearest one; of two as near the first.
func (w *work) lay(l *Line) {
	const alike = 1e-9
	run := l.End.Sub(l.Start)
	least := math.Inf(1)
	for _, b := range w.Slides {
		// Half a turn is no matter to it: in (−90°, 90°].
		turn := math.Remainder(float64(b-run.Bearing()), math.Pi)
		if math.Abs(turn) < least-alike {
			least, l.Lay.Slide, l.Lay.Turn = math.Abs(turn), b, geom.Bearing(turn)
		}
	}
	l.Lay.Turned = math.Abs(l.Lay.Slide.Unit().Cross(run)) > w.Limits.Gap
	if !l.Lay.Turned {
		l.Lay.Turn = 0
	}
	first, last := turned(l.Axis[0].Sub(w.Datum), l.Lay.Turn), turned(l.Axis[1].Sub(w.Datum), l.Lay.Turn)
	along, across := l.Lay.Slide.Unit(), otherSlide(l.Lay.Slide)
	l.Lay.Across = (first.Dot(across) + last.Dot(across)) / 2
	l.Lay.Run = [2]float64{first.Dot(along), last.Dot(along)}
}

// turned is p turned counter-clockwise about the origin.
func turned(p geom.Point, by geom.Bearing) geom.Point {
	u := by.Unit()
	return geom.Point{X: float64(u.X*p.X) - float64(u.Y*p.Y), Y: float64(u.Y*p.X) + float64(u.X*p.Y)}
}

// NamedX reports whether a slide is the one along X, or nearest to it: the other is the one along Y.
func NamedX(slide geom.Bearing) bool {
	u := slide.Unit()
	return math.Abs(u.X) >= math.Abs(u.Y)
}

// otherSlide is the way that the coordinate of the other slide grows: Y of the one along X, X of the one along Y.
func otherSlide(slide geom.Bearing) geom.Point {
	u := slide.Unit()
	if NamedX(slide) {
		return geom.Point{X: -u.Y, Y: u.X}
	}
	return geom.Point{X: u.Y, Y: -u.X}
}

// ownU is the standard uncertainty of a straight's normal error at a place on it, millimetres, from two limits: how
// right the angle is that it is laid at (radians), and how right the slide is that is locked across it.
//
// An angle out by ε turns the straight about the datum, where the readout stands at zero; at a place that lies s
// along the straight from the datum's foot on it, it is out by ε·s along its normal. (What is left out, the datum's
// distance q across times ε²/2, is 0.04 µm for ε = 0.05° and q = 100 mm.) A straight that lies along a slide as the
// arcs are cut is not laid anew, and the angle does not enter; on a table every one is.
func (l *Line) ownU(at, datum geom.Point, rotary bool, d Doubts) float64 {
	across := indicator.FromLimit(d.Slide)
	if !l.Lay.Turned && !rotary {
		return across
	}
	run := l.End.Sub(l.Start)
	s := at.Sub(datum).Dot(run.Times(1 / run.Norm()))
	return math.Hypot(indicator.FromLimit(d.Angle)*s, across)
}
