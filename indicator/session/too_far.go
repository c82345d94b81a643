package session

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// tooFar reports whether a needle that went off the dial while a slide was wound under it did so on the side that it is sent to, first
// to where the hand turns back: then it was wound too far, and its sense is right.
func (s *State) tooFar(off Off) bool {
	p := s.Told.Park
	to := p.Goal
	if p.Past != nil {
		to = *p.Past
	}
	up := off == Pressed == (s.Set.Job.Dial.Gain() > 0) // pressed, the figures rise, or fall
	return off != NotOff && to != p.Now && up == (to > p.Now)
}

// beyondGoal refuses to question a sign for that, and says how the needle comes back.
func (s *State) beyondGoal() error {
	p, w, u := s.Told.Park, s.Told.Wind, s.Set.Job.Unit
	at := func(mm float64) string { return geom.FormatSigned(u.From(mm), s.Set.Job.Dial.Places(u)) }
	sl, _ := s.Set.Machine.Slide(w.Slide)
	up := slide.Turn(sl.TakeUp) * slide.Turn(sl.Clockwise)
	how := fmt.Sprintf("wind back %v until it is on the dial again, and on up to %s %v", up, at(p.Goal), u)
	if len(w.Moves) < 2 { // it came up past the goal
		short := p.Goal - float64(sl.TakeUp)*(sl.PastParked()-sl.Backlash)*p.Act
		how = fmt.Sprintf("wind back %v until it is on the dial again and at %s %v, then come up %v to %s %v", -up, at(short), u, up,
			at(p.Goal), u)
	}
	return refuse(how+"; was it off before anything was wound? then again, and the sweep begins anew",
		"too far: the needle has left the dial on the side that it is sent to, and no sign is in question for that")
}
