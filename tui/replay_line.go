package tui

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/pane"
)

// stride is how many events lie between two states that a timeline keeps: to show any other, that many
// are folded at most.
const stride = 64

// timeline is a journal with what there is to jump to. It is built once and never changes.
type timeline struct {
	events    []session.Record
	kept      []session.State // before events 1, 1+stride, …
	trials    []int           // events that a trial or a setting begins with
	accepted  []int
	surprises []surprise // the biggest first
	notes     []int
}

// surprise is a reading that came otherwise than expected, by so many times its 95 % band.
type surprise struct {
	event int
	times float64
}

func newTimeline(events []session.Record) *timeline {
	l := &timeline{events: events}
	var s session.State
	for i, r := range events {
		if i%stride == 0 {
			l.kept = append(l.kept, s)
		}
		before := s
		s = s.Apply(r.Event)
		n := i + 1
		switch e := r.Event.(type) {
		case session.Opened:
			l.trials = append(l.trials, n)
			continue
		case session.Accepted:
			l.accepted = append(l.accepted, n)
		case session.Noted:
			l.notes = append(l.notes, n)
		case session.Took:
			at := s.Sweep.N
			if e.Again > 0 {
				at = e.Again
			}
			if at >= 1 && at <= s.Sweep.N {
				if st := &s.Sweep.Stations[at-1]; st.Surprise && st.OffBy.U > 0 {
					l.surprises = append(l.surprises, surprise{n, math.Abs(st.OffBy.V) / st.OffBy.U})
				}
			}
		}
		if s.Trial > before.Trial {
			l.trials = append(l.trials, n)
		}
	}
	slices.SortStableFunc(l.surprises, func(a, b surprise) int { return cmp.Compare(b.times, a.times) })
	return l
}

func (l *timeline) count() int { return len(l.events) }

// step returns event n (from 1) with the states around it.
func (l *timeline) step(n int) session.Step {
	from := (n - 1) / stride
	s := l.kept[from]
	for _, r := range l.events[from*stride : n-1] {
		s = s.Apply(r.Event)
	}
	e := l.events[n-1].Event
	return session.Step{Before: s, Event: e, After: s.Apply(e)}
}

// since is the time from the event before to event n; a clock that was set back is no time.
func (l *timeline) since(n int) time.Duration {
	if n < 2 {
		return 0
	}
	return max(0, l.events[n-1].T.Sub(l.events[n-2].T))
}

// moment says of event n what the timeline's zone shows.
func (l *timeline) moment(n int, st session.Step) pane.Moment {
	m := pane.Moment{N: n, Of: l.count(), At: l.events[n-1].T, Since: l.since(n), Trials: l.trials, Accepted: l.accepted,
		Said: pane.Happened(st, lines.Of(st, st.After.Set.Job.Unit))}
	for _, s := range l.surprises {
		m.Surprises = append(m.Surprises, s.event)
	}
	return m
}

// notesTo are the notes up to event n, with their numbers and times.
func (l *timeline) notesTo(n int) (out []string) {
	for _, i := range l.notes {
		if e, ok := l.events[i-1].Event.(session.Noted); ok && i <= n {
			out = append(out, fmt.Sprintf("%d  %s  %s", i, l.events[i-1].T.Format("15:04:05"), e.Text))
		}
	}
	return out
}

// next returns the first of some numbers behind n, else none.
func next(all []int, n, none int) int {
	for _, x := range all {
		if x > n {
			return x
		}
	}
	return none
}

// before returns the last of some numbers before n, else none.
func before(all []int, n, none int) int {
	for i := len(all) - 1; i >= 0; i-- {
		if all[i] < n {
			return all[i]
		}
	}
	return none
}
