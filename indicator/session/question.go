package session

import "math"

// question is what is asked. What a bare number, Enter and a skip mean belongs to it, and what a person can do is its hint.
type question interface {
	prompt(*State) Prompt
	// number, done and skip answer it; the error is a *[Refusal].
	number(*State, float64) (Event, error)
	done(*State) (Event, error)
	skip(*State, Off) (Event, error)
	hint(*State) string
}

// question returns what is asked, or would be once nothing is due any more.
func (s *State) question() question {
	if c, n, of, ok := s.chore(); ok {
		if s.Told != nil && s.Bump == nil {
			return choreWind{choreAsked{c, n, of}}
		}
		return choreAsked{c, n, of}
	}
	if s.Accused != nil && (s.Phase == Sweeping || s.Phase == Winding) {
		return doubtAsked{}
	}
	if s.Bump != nil {
		return s.lookQuestion()
	}
	switch s.Phase {
	case Loading:
		return loadAsked{}
	case Sweeping:
		return s.sweepQuestion()
	case Winding:
		if s.Told != nil {
			return s.windQuestion()
		}
		if at, ok := s.nextLook(); ok {
			return lookAsked{bearing: at}
		}
	case SettledDown:
		return acceptAsked{}
	case Unopened, Preparing, Cutting, Ended:
	}
	return nothingAsked{}
}

// hint says what can be done about what the session waits for.
func (s *State) hint() string { return s.question().hint(s) }

// unanswered is what most questions make of most answers.
type unanswered struct{}

func (unanswered) number(s *State, _ float64) (Event, error) {
	return nil, refuse(s.hint(), "no reading is asked for")
}

func (unanswered) done(s *State) (Event, error) {
	return nil, refuse(s.hint(), "nothing waits to be confirmed")
}

func (unanswered) skip(s *State, _ Off) (Event, error) {
	return nil, refuse(s.hint(), "no station is asked for")
}

// ordinal is a number that was typed where one of several answers is asked for, from 1, out of what it would be as a length,
// millimetres; 0 of one that is none.
func (s *State) ordinal(v float64) int {
	v = s.Set.Job.Unit.From(v)
	n := math.Round(v)
	if !(n >= 1) || n > maxAnswers || math.Abs(v-n) > 1e-9 {
		return 0
	}
	return int(n)
}

// maxAnswers is more than any question has, and fits an int everywhere.
const maxAnswers = 1e9

// nothingAsked: no setting is open, it has ended, or something is due.
type nothingAsked struct{ unanswered }

func (nothingAsked) prompt(*State) Prompt { return Prompt{} }

func (q nothingAsked) number(s *State, v float64) (Event, error) {
	switch {
	case s.Set != nil && s.SetUp().Under().Pair:
		return nil, refuse(s.hint(), "no coordinate is asked for")
	case s.Phase == Winding:
		return collarAsked{}.number(s, v)
	}
	return q.unanswered.number(s, v)
}

func (nothingAsked) hint(s *State) string {
	switch {
	case s.Phase == Winding && s.SetUp().Under().Pair:
		return goAsked{}.hint(s)
	case s.Phase == Winding:
		return collarAsked{}.hint(s)
	case s.Phase == Preparing || s.Phase == Cutting:
		return choreAsked{}.hint(s)
	}
	return ""
}
