package session

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Suspicion compares the last trial's winds with what the closed sweep says of them; ok is false where they went as
// stated, and where nothing explains them.
func (s *State) Suspicion() (x advice.Suspicion, ok bool) {
	if s.Past == nil || s.Past.Void || s.Sweep.Closed == "" || s.Hold != nil || !s.SetUp().Does().Plain || s.Raising != nil {
		return x, false
	}
	now, err := s.Fit()
	if err != nil || !(now.Dof >= 1) {
		return x, false
	}
	then, err := s.fitPast()
	if err != nil || !(then.Dof >= 1) || then.Circle.Hold || now.Circle.Hold {
		return x, false
	}
	b := s.bench()
	cross := b.Cross()
	a := advice.Astray{Then: &then, Now: &now, Winds: b.Pushes(s.Past.Winds), Clamped: s.clamped(&cross), Cross: &cross,
		Mirror: s.Set.Job.Setup.Surface(s.Ring().Zero)}
	return a.Explain()
}

// clamped are what the slides whose clamps are closed do to the circle, those that were not wound included.
func (s *State) clamped(c *advice.Cross) (out []indicator.Axis) {
	for _, name := range s.Set.Job.Needs() {
		a, ok := c.Axis(name)
		if sl, has := s.Set.Machine.Slide(name); ok && has && sl.Lock {
			out = append(out, a)
		}
	}
	return out
}
