package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// BringsTip is how a slide brings the tip to the wall, at the station that is read first: the turns of its handwheel, the last of
// which goes the take-up way, as every wind's does. Two where the way in goes against that.
type BringsTip struct {
	Slide slide.Slide
	Turns []slide.Turn
	At    geom.Bearing
}

// BringsTip is how the slide that sets the swing radius brings the tip in: the way that presses it, as the needle is known to go for
// it. ok is false where the sweep does not show what that slide has done, or the radius stands already: then it is the indicator that
// gives way.
func (s *State) BringsTip() (t BringsTip, ok bool) {
	sl, _, has := s.RadiusSlide()
	if !has || !s.Set.Job.SweepsSwing() || s.carries() {
		return t, false
	}
	t = BringsTip{Slide: sl, At: s.firstStation()}
	in := slide.Increase
	if s.bench().Acts(sl.Name, t.At) < 0 {
		in = slide.Decrease
	}
	for _, m := range sl.WindParked(float64(in) * sl.Finest()).Moves {
		t.Turns = append(t.Turns, m.Turn)
	}
	return t, true
}

// firstStation is where the sweep begins that comes behind the steps ahead of it.
func (s *State) firstStation() geom.Bearing {
	then := *s
	then.Phase, then.Readying = Sweeping, false
	at, _ := then.NextBearing()
	return at
}
