package session

import (
	"fmt"
)

// Refusal says why a command cannot be carried out: what was seen, what is needed; Hint says
// what to do. Nothing has happened.
type Refusal struct {
	Because string
	Hint    string
	// Pressed is the hint of a screen, where Hint says words to type; empty where one serves both.
	Pressed string
}

func (r *Refusal) Error() string { return r.Because }

func refuse(hint, format string, args ...any) error {
	return &Refusal{Because: fmt.Sprintf(format, args...), Hint: hint}
}

// pressed is a refusal with the hint of a screen.
func pressed(refusal error, hint string) error {
	r, ok := refusal.(*Refusal)
	if !ok {
		return refusal
	}
	with := *r
	with.Pressed = hint
	return &with
}

// Decide holds every rule: it returns the event that a command causes in a state, or a
// *[Refusal]. It changes nothing.
func Decide(s State, c Command) (Event, error) {
	if c == nil {
		return nil, refuse("", "unknown command %T", c)
	}
	r := c.row()
	switch {
	case s.Phase == Unopened && !r.opens:
		return nil, refuse("open one with a job and a machine file", "no setting is open")
	case s.Phase == Ended && !r.always:
		return nil, refuse("say part for the next part on it, or begin the next setting", "the setting is accepted and closed")
	case s.Set != nil && s.SetUp().Under().Pair && r.needle(c):
		return nil, refuse(s.hint(), "points are touched and read off the readouts, and have no needle for that")
	}
	e, err := r.decide(&s, c)
	if err == nil {
		err = s.recordable(e)
	}
	if err != nil {
		return nil, err
	}
	return e, nil
}

// Follow returns the decision that is due in a state, if one is: a sweep that has to be closed,
// a wind that has to be told, a setting that has settled. The live session appends these after
// every entry until none is due, and again on resume, so that a journal cut between an entry and
// its consequences goes on where it was.
func Follow(s State) (Event, bool) { return s.follow() }

func (s *State) follow() (Event, bool) {
	if s.Phase == Sweeping && s.Sweep.N == 0 {
		if back, some := s.SetUp().Back(s.bench()); some {
			return Told(back), true
		}
	}
	switch {
	case s.Accused != nil:
		return nil, false
	case s.Phase == Sweeping && s.Sweep.Closed == "":
		return s.due()
	case s.Raising != nil && s.Phase == Sweeping:
		return s.tilt(), true
	case s.Phase == Sweeping:
		if e, ok := s.accuse(); ok {
			return e, true
		}
		return s.nextWind(), true
	case s.Phase == Winding && s.Told == nil:
		e := s.nextWind()
		return e, e != nil
	case s.Bump != nil:
		return s.lookDue()
	case s.Phase == Cutting:
		if told, ok := s.stockWind(); ok {
			return told, true
		}
	}
	return nil, false
}
