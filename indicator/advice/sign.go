package advice

import (
	"iter"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// Tip stands in the place of a slide where the tip is pressed by hand.
const Tip = "tip"

// SignCheck is what came of the check of a slide's sign, or of the tip's: whether the needle went the way that is stated.
type SignCheck struct {
	Slide  string // or Tip
	Agrees bool
}

// SignAt is where a sign is checked: at the mark where the slide acts most on the needle and its handwheel can be reached, of
// equals the first. act is what the needle does for a millimetre of its coordinate; ok is false where it does too little.
func SignAt(act func(geom.Bearing) float64, marks iter.Seq[geom.Bearing], reached func(geom.Bearing) bool) (
	at geom.Bearing, most float64, ok bool) {
	for b := range marks {
		if a := math.Abs(act(b)); a > most*(1+1e-9) && reached(b) {
			most, at = a, b.Normalized()
		}
	}
	return at, most, most >= LeastAct
}

// Blame returns the one statement that would explain the sign checks that disagree; slides are the ones whose clockwise is
// in question.
func Blame(checks []SignCheck) (f Fault, slides []string) {
	right := 0
	offset, tip := false, false
	for _, c := range checks {
		switch {
		case c.Slide == Tip:
			tip = !c.Agrees
		case c.Agrees:
			right++
			offset = offset || c.Slide == "offset"
		default:
			slides = append(slides, c.Slide)
		}
	}
	slices.Sort(slides)
	switch {
	case tip:
		return DialFault, nil
	case len(slides) == 0:
		return NoFault, nil
	case right == 0 && len(slides) > 1:
		return TouchFault, nil
	case right == 0:
		return EitherFault, slides
	case len(slides) == 2 && offset && !slices.Contains(slides, "offset"):
		return BearingsFault, slides
	}
	return ScrewFault, slides
}
