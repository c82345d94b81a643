package practice

import (
	"fmt"
	"math"

	"example.org/trammel/indicator/session"
)

// Sense answers a sign check with the simulated hands: the tip is pressed in, or the slide is wound
// clockwise a division at a time until the needle moves, and brought back the take-up way.
func (m *Machine) Sense(s *session.State, name string) (session.Command, error) {
	if name == session.Tip {
		return session.Sense{Slide: name, Went: session.Up}, nil // a dial counts up as it is pressed
	}
	plan, ok := s.SensePlanFor(name)
	sl, has := s.Set.Machine.Slide(name)
	if !ok || !has {
		return nil, fmt.Errorf("slide %q, need one that moves the needle here", name)
	}
	return m.feel(plan, sl.Divisions, sl.TakeUp == sl.Clockwise, func() { m.look(plan.Bearing) })
}

// check answers what is in question: a sign by hand, or else the likeliest of what is left; what no file says is looked after,
// and the sweep begun again.
func (m *Machine) check(p session.Prompt) session.Command {
	switch c := p.Check; {
	case c.Plan.Slide != "":
		answer, err := m.feel(c.Plan, c.Slide.Divisions, c.Slide.TakeUp == c.Slide.Clockwise, func() { m.Stand(p) })
		if err != nil {
			return session.Skip{}
		}
		return answer
	case c.Causes[0].Key != "":
		return session.Restate{N: 1}
	}
	return session.Restart{}
}

// back winds the last winds back.
func (m *Machine) back(b session.BackAsked) error {
	for _, w := range b.Winds {
		if err := m.Turn(w.Slide, moves(w.Moves)...); err != nil {
			return err
		}
	}
	return nil
}

// feel stands where it is told, winds a slide clockwise until the needle moves, and brings it back the take-up way, which is
// clockwise or not.
func (m *Machine) feel(plan session.SensePlan, divisions float64, clockwise bool, stand func()) (session.Command, error) {
	name := plan.Slide
	if err := m.unlockSlide(name); err != nil {
		return nil, err
	}
	stand()
	before, seen := m.quiet(), 3*m.world.Graduation
	for n := 1.0; ; n++ {
		if err := m.Turn(name, Move{Clockwise: true, Divisions: 1}); err != nil {
			return nil, err
		}
		by := m.quiet() - before
		if !(math.Abs(by) > seen) && n < 10*divisions {
			continue
		}
		went := session.Up
		if by < 0 {
			went = session.Down
		}
		half := divisions / 2
		back := []Move{{Clockwise: false, Divisions: n}}
		if clockwise {
			back = []Move{{Clockwise: false, Divisions: n + half}, {Clockwise: true, Divisions: half}}
		}
		return session.Sense{Slide: name, Went: went}, m.Turn(name, back...)
	}
}
