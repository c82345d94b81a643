package advice

import (
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Errand is what one slide would have to do.
type Errand struct {
	Slide   slide.Slide
	Travel  indicator.Value // + increases the slide's coordinate
	Half    float64         // half of the tolerance that it serves
	Verdict indicator.Verdict
}

// Worth reports whether a slide should be wound: not when it stands inside half its tolerance
// with its uncertainty, nor when a hand cannot set so little, nor when the doubt is larger than
// the error and nothing is proven wrong, for then not even the way to wind is known.
func (e *Errand) Worth() bool {
	a := math.Abs(e.Travel.V)
	switch {
	case math.IsNaN(a), a+e.Travel.U <= e.Half, a < e.Slide.Finest():
		return false
	case e.Verdict != indicator.Outside && a <= e.Travel.U:
		return false
	}
	return true
}

// Worthwhile lists the errands that a sweep with these verdicts makes worth winding, in order; none where all is
// proven inside.
func Worthwhile(all []Errand, v indicator.Verdicts) []Errand {
	if !v.Has(indicator.Outside) && !v.Has(indicator.Undecided) {
		return nil
	}
	var out []Errand
	for _, e := range all {
		if e.Worth() {
			out = append(out, e)
		}
	}
	return out
}

// Find returns the errand of a slide, nil where there is none.
func Find(all []Errand, name string) *Errand {
	for i := range all {
		if all[i].Slide.Name == name {
			return &all[i]
		}
	}
	return nil
}

// A slide that stands beside its goal is wound once more under the needle where its error is more than
// this part of its doubt, and twice where a lock moves it, whose shift is known by then only: such a
// wind costs no sweep, so it may be told on less than what 95 % asks for. (1000 drawn machines: 2.09
// trials against 2.11 at the whole doubt, with locks 2.20 against 2.32.)
const (
	mostTimes   = 2
	mostLocked  = 3
	sureOfDoubt = 0.7
)

// Short reports whether a slide that was wound so many times under the needle has come to stand so far from where it
// should, by the needle's own word after locking, that it is wound again: by more than a quarter of the
// tolerance that it serves, than a hand leaves, and than most of the doubt of it. e is what it would
// have to do from where it stands; read says that the needle was read behind the last of them.
func (e *Errand) Short(times int, read bool) bool {
	most := mostTimes
	if e.Slide.Lock {
		most = mostLocked
	}
	return times > 0 && times < most && read &&
		math.Abs(e.Travel.V) > max(e.Half/2, e.Slide.Finest(), sureOfDoubt*e.Travel.U)
}

// Blind reports whether so much is open of where a slide that was wound once stands, that it is brought in under
// the needle once more: one wound by the collar because the needle would have left the dial, for a long
// wind leaves more than half its tolerance open, or one that long winds of the others have carried along.
// e is what the slide would have to do, swept how well the sweep knew; parked says that it was wound under the needle.
func (e *Errand) Blind(parked bool, swept float64) bool {
	open := e.Half
	if parked {
		open = max(2*open, 1.2*swept)
	}
	return e.Travel.U > open
}
