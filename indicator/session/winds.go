package session

import (
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

// errand is what one slide would have to do.
type errand struct {
	slide   slide.Slide
	travel  indicator.Value // + increases the slide's coordinate
	half    float64         // half of the tolerance that it serves
	verdict indicator.Verdict
}

// errands lists what is asked of each slide where the circle stands as f says, cross slides first,
// the offset slide last; v is what the sweep has proven. What the cross slides have to do, [cross] says.
func (s *State) errands(f *indicator.Found, v job.Verdicts) []errand {
	t, c := s.Target(), s.cross()
	var out []errand
	for _, name := range s.Set.Job.Needs() {
		sl, ok := s.Set.Machine.Slide(name)
		if !ok {
			continue
		}
		e := errand{slide: sl, half: t.CentreTolerance / 2, verdict: v.Centre}
		if i := c.of(name); i >= 0 {
			e.travel = f.Part(c.row(i))
		} else {
			r := f.Swing()
			e.travel = indicator.Value{V: t.SwingRadius - r.V, U: r.U}
			e.half, e.verdict = t.Tolerance/2, v.Radius
		}
		out = append(out, e)
	}
	return out
}

// worth reports whether a slide should be wound: not when it stands inside half its tolerance
// with its uncertainty, nor when a hand cannot set so little, nor when the doubt is larger than
// the error and nothing is proven wrong, for then not even the way to wind is known.
func (e *errand) worth() bool {
	a := math.Abs(e.travel.V)
	switch {
	case math.IsNaN(a), a+e.travel.U <= e.half, a < e.slide.Finest():
		return false
	case e.verdict != indicator.Outside && a <= e.travel.U:
		return false
	}
	return true
}

// plan lists the errands that the fitted sweep makes worth winding, in order; none where all is
// proven inside.
func (s *State) plan(f *indicator.Found) []errand {
	v := s.Judge(f)
	if !v.Has(indicator.Outside) && !v.Has(indicator.Undecided) {
		return nil
	}
	var out []errand
	for _, e := range s.errands(f, v) {
		if e.worth() {
			out = append(out, e)
		}
	}
	return out
}

// times counts the winds of a slide since the sweep, and returns the last of them.
func (s *State) times(name string) (n int, last *Done) {
	for d := s.Winds; d != nil; d = d.Before {
		if d.Wind.Slide == name {
			if n++; last == nil {
				last = d
			}
		}
	}
	return n, last
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

// short reports whether a slide that was wound under the needle has come to stand so far from where it
// should, by the needle's own word after locking, that it is wound again: by more than a quarter of the
// tolerance that it serves, than a hand leaves, and than most of the doubt of it. e is what it would
// have to do from where it stands.
func (s *State) short(e *errand) bool {
	n, last := s.times(e.slide.Name)
	most := mostTimes
	if e.slide.Lock {
		most = mostLocked
	}
	return n > 0 && n < most && last.Reading != nil &&
		math.Abs(e.travel.V) > max(e.half/2, e.slide.Finest(), sureOfDoubt*e.travel.U)
}

// blind reports whether so much is open of where a slide that was wound stands, that it is brought in under
// the needle once more: one wound by the collar because the needle would have left the dial, for a long
// wind leaves more than half its tolerance open, or one that long winds of the others have carried along.
// b is what is known of the circle now, e what the slide would have to do and swept how well the sweep knew.
func (s *State) blind(b *indicator.Found, e *errand, swept float64) bool {
	n, last := s.times(e.slide.Name)
	if n != 1 || e.slide.ByCollar || (last.Park != nil && last == s.Winds) {
		return false
	}
	open := e.half
	if last.Park != nil {
		open = max(2*open, 1.2*swept)
	}
	if !(e.travel.U > open) {
		return false
	}
	_, park := s.park(b, e.slide, e.travel)
	return park != nil
}

// nextWind tells the next wind that the closed sweep asks for, or that there is none: then the next
// sweep begins, or, where nothing was to be wound at all, the setting has settled. What a slide
// has to do is asked of what is known now: a slide that was stopped beside its goal moves the goals
// of those behind it.
func (s *State) nextWind() Event {
	if s.touches() {
		return s.nextGo()
	}
	f, err := s.Fit()
	if err != nil {
		if s.Winds != nil {
			return Reswept{}
		}
		return Settled{Radius: indicator.Undecided, Centre: indicator.Undecided}
	}
	v := s.Judge(&f)
	b, err := s.believed()
	if err != nil {
		b = f
	}
	if s.Set.Job.Setup.Taps {
		if tap, more := s.nextTap(&f, &b); more {
			return tap
		}
	}
	now := s.errands(&b, v)
	var next, blind *errand
	left, done := 0, 0
	for _, planned := range s.plan(&f) {
		e := find(now, planned.slide.Name)
		n, _ := s.times(e.slide.Name)
		switch done += n; {
		case n == 0 || s.short(e):
			if left++; next == nil {
				next = e
			}
		case s.blind(&b, e, planned.travel.U): // after the others: a long wind carries the other slides' place along a little
			if left++; blind == nil {
				blind = e
			}
		}
	}
	if next == nil {
		next = blind
	}
	switch {
	case next == nil && s.Winds != nil:
		return Reswept{}
	case next == nil:
		if told, more := s.nextSetOff(&f); more {
			return told
		}
		v = s.setOffVerdict(v)
		return Settled{Radius: v.Radius, Centre: v.Centre}
	}
	w, park := s.park(&b, next.slide, next.travel)
	told := Told{Step: done + 1, Of: done + left, Wind: w, Park: park, Open: true}
	if t, some := s.ReachedAt(next.slide); some && park == nil {
		told.Table = &t
	}
	return told
}

// find returns the errand of a slide, of which errands lists one for every slide that is planned for.
func find(all []errand, name string) *errand {
	for i := range all {
		if all[i].slide.Name == name {
			return &all[i]
		}
	}
	return nil
}

// OffTravel returns by how much the wind that is told would take its slide beyond its travel: at its end,
// and at the farthest where it is wound past. 0 where the slide's scale or its travel is not known.
func (s *State) OffTravel() (end, past float64) {
	if s.Told == nil {
		return 0, 0
	}
	w := s.Told.Wind
	sl, ok := s.Set.Machine.Slide(w.Slide)
	at := s.Stand(w.Slide)
	if !ok || !at.Known {
		return 0, 0
	}
	over := 0.0
	if len(w.Moves) > 1 {
		over = sl.Past()
		if s.Told.Park != nil {
			over = sl.PastParked()
		}
	}
	stop := at.At + w.By()
	return sl.Beyond(stop), sl.Beyond(stop - float64(sl.TakeUp)*over)
}
