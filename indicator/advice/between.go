package advice

import (
	"iter"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// mostLooks is how many readings are taken between the winds of one trial. A coarse sweep, of a few stations near to each other, leaves
// one direction of (R, x, y) open, and the long winds carry the axis aside by what the ring's zero is out, which is another. (1000 drawn
// machines from coarse starts: 2.62 trials without, 2.45 with one, 2.38 with two and with three, each as it was before [Search].)
const mostLooks = 2

// Between is where the needle is read once more before slides are wound again that stand near their goals: at the mark where most
// is open of what it should show, of those where it is on the dial for certain. ok is false where nowhere more is open than
// the tolerance, or where as many looks as are worth it have been taken: then the sweep says more.
func Between(f *indicator.Estimate, d indicator.Dial, taken []geom.Bearing, tolerance float64, marks iter.Seq[geom.Bearing]) (
	at geom.Bearing, ok bool) {
	if len(taken) >= mostLooks || !(f.Dof > 0) {
		return 0, false
	}
	most := tolerance
	for b := range marks {
		// Equal to a thousandth is equal, or else rounding would choose.
		x := f.Expect(b)
		if x.U > most*(1+1e-3) && OnDial(d, x.V, x.U) && Nearest(b, taken) > float64(MarkStep)*0.99 {
			at, most, ok = b.Normalized(), x.U, true
		}
	}
	return at, ok
}
