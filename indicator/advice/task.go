package advice

import (
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Task is what one slide would have to do.
type Task struct {
	Slide   slide.Slide
	Travel  indicator.Value // + increases the slide's coordinate
	Half    float64         // half of the tolerance that it serves
	Verdict indicator.Verdict
	// Moot says that the verdict is held back for what nobody has stated, and that no wind could change it.
	Moot bool
}

// Worth reports whether a slide should be wound: not when it stands inside half its tolerance
// with its uncertainty, nor when a hand cannot set so little, nor when the doubt is larger than
// the error and nothing is proven wrong, for then not even the way to wind is known, nor when it is moot.
func (t *Task) Worth() bool {
	a := math.Abs(t.Travel.V)
	switch {
	case t.Moot, math.IsNaN(a), a+t.Travel.U <= t.Half, a < t.Slide.Finest():
		return false
	case t.Verdict != indicator.Outside && a <= t.Travel.U:
		return false
	}
	return true
}

// Worthwhile lists the tasks that a sweep with these verdicts makes worth winding, in order; none where all is
// proven inside.
func Worthwhile(all []Task, v indicator.Verdicts) []Task {
	if !v.Has(indicator.Outside) && !v.Has(indicator.Undecided) {
		return nil
	}
	var out []Task
	for _, t := range all {
		if t.Worth() {
			out = append(out, t)
		}
	}
	return out
}

// Find returns the task of a slide, nil where there is none.
func Find(all []Task, name string) *Task {
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
func (t *Task) Short(times int, read bool) bool {
	most := mostTimes
	if t.Slide.Lock {
		most = mostLocked
	}
	return times > 0 && times < most && read &&
		math.Abs(t.Travel.V) > max(t.Half/2, t.Slide.Finest(), sureOfDoubt*t.Travel.U)
}

// Blind reports whether so much is open of where a slide that was wound once stands, that it is brought in under
// the needle once more: one wound by the collar because the needle would have left the dial, for a long
// wind leaves more than half its tolerance open, or one that long winds of the others have carried along.
// e is what the slide would have to do, swept how well the sweep knew; parked says that it was wound under the needle.
func (t *Task) Blind(parked bool, swept float64) bool {
	open := t.Half
	if parked {
		open = max(2*open, 1.2*swept)
	}
	return t.Travel.U > open
}
