package session

import (
	"fmt"
	"time"
)

// Appender keeps one line for good before it returns.
type Appender interface{ Append(line []byte) error }

// Step is one event and the states around it.
type Step struct {
	Before State
	Event  Event
	After  State

	next *next // nil where nobody has asked yet
}

// next is what comes behind a step: another event that is due, or what is asked.
type next struct {
	due    Event
	prompt Prompt
}

// nextOf asks a state what is due in it, and only then what it waits for.
func nextOf(s *State) *next {
	s.keepFit() // which all that follows goes by
	if e, due := s.follow(); due {
		return &next{due: e}
	}
	return &next{prompt: s.Prompt()}
}

// Asks returns what is asked behind the step; ok is false where something more is due. A live session has decided
// that with the step; else it is found once.
func (st *Step) Asks() (p Prompt, ok bool) {
	if st.next == nil {
		st.next = nextOf(&st.After)
	}
	return st.next.prompt, st.next.due == nil
}

// RecordError: an event could not be put on record, so it has not happened.
type RecordError struct{ Err error }

func (e *RecordError) Error() string { return fmt.Sprintf("not recorded: %v", e.Err) }

// Unwrap returns the cause.
func (e *RecordError) Unwrap() error { return e.Err }

// Live is a session that goes on: every step decides, appends and only then applies. It is not
// safe for use by several goroutines at once.
type Live struct {
	state State
	asked Prompt // what it waits for, once it has settled
	out   Appender
	lost  Event // what a person entered and could not be put on record; nil where nothing is
}

// NewLive goes on from a state, most often the zero State or what [Fold] returned.
func NewLive(s State, out Appender) *Live {
	s.seal()
	return &Live{state: s, asked: s.Prompt(), out: out}
}

// State returns the present state.
func (l *Live) State() State { return l.state }

// Asked returns what the session waits for, as it was found when nothing was due any more.
func (l *Live) Asked() Prompt { return l.asked }

// Do carries out one command and everything that follows from it. The steps that were recorded
// are returned even when a later one failed. The error is a *[Refusal] (nothing happened) or a
// *[RecordError].
func (l *Live) Do(c Command, at time.Time) ([]Step, error) {
	e, err := Decide(l.state, c)
	if err != nil {
		return nil, err
	}
	return l.enter(e, at)
}

// enter records what a person entered, and everything that follows from it.
func (l *Live) enter(e Event, at time.Time) ([]Step, error) {
	step, err := l.record(e, at)
	if err != nil {
		l.lost = e
		return nil, err
	}
	l.lost = nil
	return l.settle([]Step{step}, at)
}

// Retry goes on after a *[RecordError], once the disk does: it has the journal opened anew, where
// that can be done, records what was entered last if that was lost, and what follows. When the
// fault is still there, the error is a *[RecordError] again, and nothing has happened.
func (l *Live) Retry(at time.Time) ([]Step, error) {
	if j, ok := l.out.(interface{ Reopen() error }); ok {
		if err := j.Reopen(); err != nil {
			return nil, &RecordError{err}
		}
	}
	if l.lost != nil {
		return l.enter(l.lost, at)
	}
	return l.Settle(at)
}

// Settle carries out what is due: after an entry, and when a session is resumed from a journal
// that was cut between an entry and its consequences.
func (l *Live) Settle(at time.Time) ([]Step, error) { return l.settle(nil, at) }

// settle carries out what is due behind some steps, and asks every state once: what it finds there, the fit too, goes
// with the step.
func (l *Live) settle(steps []Step, at time.Time) ([]Step, error) {
	for {
		n := nextOf(&l.state)
		if last := len(steps) - 1; last >= 0 {
			steps[last].After, steps[last].next = l.state, n
		}
		if n.due == nil {
			l.asked = n.prompt
			return steps, nil
		}
		step, err := l.record(n.due, at)
		if err != nil {
			l.asked = l.state.Prompt()
			return steps, err
		}
		steps = append(steps, step)
	}
}

func (l *Live) record(e Event, at time.Time) (Step, error) {
	line, err := Encode(l.state.Events+1, at, e)
	if err != nil {
		return Step{}, &RecordError{err}
	}
	if err := l.out.Append(line); err != nil {
		return Step{}, &RecordError{err}
	}
	step := Step{Before: l.state, Event: e, After: l.state.Apply(e)}
	l.state = step.After
	return step, nil
}

// Memory is an Appender that keeps the lines in memory: for practice and tests.
type Memory struct{ Lines [][]byte }

// Append keeps a copy of the line.
func (m *Memory) Append(line []byte) error {
	m.Lines = append(m.Lines, append([]byte(nil), line...))
	return nil
}
