package session

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

const (
	// angleNudge is the change of a slide's angle that shows what the angle does to a forecast, radians.
	angleNudge = 1e-3
	// vagueAngle is how many times its limit the doubt of an angle may be for it to be kept.
	vagueAngle = 2
	// lockMoves is what a lock that was open in the first sweep and is shut since may have moved its slide
	// by, a standard uncertainty, millimetres (common practice, no source).
	lockMoves = 0.02
)

// learnAngles learns from the winds between two sweeps which way the cross slides really go. Each wind
// carries the circle along its slide; what the later sweep finds beside the forecast of the earlier one
// and the winds lies to the slides' sides. What an angle does to the forecast is had by forecasting
// again with the angle a little changed, so that needle and collar, and any order of winds, are taken
// alike; a needle that stopped a later wind has taken part of it out, and it counts so much less.
//
// The two angles are estimated one beside the other, the other's doubt counted as noise: their winds go
// nearly square to each other, and what one does the other hardly can.
func (s *State) learnAngles(then, now *indicator.Estimate) {
	c := s.bench().Cross()
	if s.Past.Winds == nil || (c.Doubt[0] == 0 && c.Doubt[1] == 0) {
		return
	}
	sure := c
	sure.Doubt = [2]float64{}
	at, ok := s.forecast(*then, &sure)
	if !ok {
		return
	}
	noise, seen := at.Scatter(), now.Scatter()
	for i := range noise {
		for j := range noise[i] {
			noise[i][j] += seen[i][j]
		}
	}
	off := now.Circle.Centre.Sub(at.Circle.Centre)
	var per [2][2]float64 // of each slide, what the centre does per radian
	for i := range per {
		nudged := sure
		nudged.Askew[i] += angleNudge
		f, _ := s.forecast(*then, &nudged)
		by := f.Circle.Centre.Sub(at.Circle.Centre)
		per[i] = [2]float64{by.X / angleNudge, by.Y / angleNudge}
	}
	for i, name := range c.Names {
		b, ok := s.Lesson(name)
		if !ok || c.Doubt[i] == 0 {
			continue
		}
		by, u := advice.Angle(per[i], per[1-i], c.Doubt[1-i], noise, [2]float64{off.X, off.Y})
		if !(u < vagueAngle*b.Assumed.AskewLimit) {
			continue
		}
		b, found := b.SeenAngle(slide.AngleSeen{Askew: c.Askew[i] + c.MissTurn + by, U: u})
		s.teach(name, b, found)
	}
}

// forecast returns where the circle should stand after the last trial's winds, with the cross slides
// where c has them.
func (s *State) forecast(f indicator.Estimate, c *advice.Cross) (indicator.Estimate, bool) {
	if s.Past.Before == nil {
		for _, name := range c.Names {
			if sl, _ := s.machineSlide(name); sl.Lock {
				a, _ := c.Axis(name)
				f = f.Moved(a, 0, lockMoves)
			}
		}
	}
	b := s.bench()
	var winds []*setup.Done
	for d := s.Past.Winds; d != nil; d = d.Before {
		winds = append(winds, d)
	}
	ok := true
	for i := len(winds) - 1; i >= 0 && ok; i-- {
		f, ok = s.SetUp().After(b, f, winds[i], c)
	}
	return f, ok
}
