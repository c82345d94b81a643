package session

import (
	"math"

	"example.org/trammel/indicator"
)

// A first wind of about twice the reach asks whether the sign of the reach is right. Where no scale tells
// where the slide stands, it has been roughed in to about a millimetre (common practice, no source), and
// a reach that is shorter than that cannot be told from it.
const (
	roughIn    = 1.0
	leastReach = 1.5
)

// ReachDoubt reports whether the offset wind that is told, the first of the setting, would be explained
// by a reach whose sign is turned, and travel is that wind. byScale says that the slide's own scale
// tells, by what its collar has taught, else only that the slide was roughed in.
func (s *State) ReachDoubt() (travel float64, byScale, doubt bool) {
	t, u := s.Told, s.Set
	if t == nil || u == nil || t.Wind.Slide != "offset" || !u.Job.Setup.ReachKnown || !u.Job.Target.WantsSwing() || s.everWound("offset") {
		return 0, false, false
	}
	f, err := s.Fit()
	if err != nil || f.Circle.Hold {
		return 0, false, false
	}
	r := f.Swing()
	zero := indicator.Value{V: f.Circle.Level, U: r.U}
	scale := indicator.Value{V: s.Target().SwingRadius, U: roughIn}
	if start, ok := s.Start(); ok && s.Stand("offset").Known {
		byScale = true
		scale = indicator.Value{V: s.Target().SwingRadius + s.Stand("offset").At - start.V, U: start.U}
	} else if math.Abs(u.Job.Setup.Reach) < leastReach {
		return 0, false, false
	}
	given, turned := indicator.PlausibleReach(zero, u.Job.Setup.Reach, scale, s.Target().SwingRadius)
	return t.Wind.Travel, byScale, given.Contradicts && !turned.Contradicts
}

// everWound reports whether a slide has been wound in this setting.
func (s *State) everWound(name string) bool {
	if n, _ := s.Winds.Times(name); n > 0 {
		return true
	}
	for t := s.Past; t != nil; t = t.Before {
		for d := t.Winds; d != nil; d = d.Before {
			if d.Wind.Slide == name {
				return true
			}
		}
	}
	return false
}
