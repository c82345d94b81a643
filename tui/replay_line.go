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

// timeline is a journal with what there is to jump to. It is built once and never changes.
type timeline struct {
	*session.History
	trials    []int // events that a trial or a setting begins with
	accepted  []int
	surprises []surprise // the biggest first, those that were overtaken behind the others
	surprised []int      // the events of those that were not
	overtaken []int      // and of those that were
	notes     []int
	sweep     int // the event behind which the present sweep was begun
}

// surprise is a reading that came otherwise than expected, by so many times its 95 % band.
type surprise struct {
	event   int
	times   float64
	station int
	// overtaken says that it is none any more to the sweep as it stood when it was closed, or a doubt in it settled.
	overtaken bool
}

// is reports whether a station's entry, as it stands in a sweep, is the one that came as the surprise.
func (x *surprise) is(n int, st *session.Station) bool {
	return x.station == n && st.Surprise && st.OffBy.U > 0 && x.times == math.Abs(st.OffBy.V)/st.OffBy.U
}

func newTimeline(events []session.Record) *timeline {
	return (&timeline{History: session.HistoryOf(nil, nil)}).and(events)
}

// and returns the line with more events behind its own; it stays as it is itself.
func (l *timeline) and(more []session.Record) *timeline {
	longer := &timeline{trials: slices.Clip(l.trials), accepted: slices.Clip(l.accepted), notes: slices.Clip(l.notes),
		surprises: slices.Clone(l.surprises), sweep: l.sweep}
	n := l.Len()
	longer.History = l.And(more, func(st session.Step) {
		n++
		longer.mark(n, st)
	})
	slices.SortStableFunc(longer.surprises, func(a, b surprise) int {
		switch {
		case a.overtaken == b.overtaken:
			return cmp.Compare(b.times, a.times)
		case a.overtaken:
			return 1
		}
		return -1
	})
	for _, s := range longer.surprises {
		if s.overtaken {
			longer.overtaken = append(longer.overtaken, s.event)
		} else {
			longer.surprised = append(longer.surprised, s.event)
		}
	}
	return longer
}

// mark notes what event n is worth jumping to for.
func (l *timeline) mark(n int, st session.Step) {
	s := &st.After
	if s.Sweep.N == 0 {
		l.sweep = n
	}
	l.judgeAnew(s)
	switch e := st.Event.(type) {
	case session.Opened:
		l.trials = append(l.trials, n)
		return
	case session.Accepted:
		l.accepted = append(l.accepted, n)
	case session.Undone: // what was accepted and taken back is no place to go to
		if from := st.Before.TakesBack(); from > 0 {
			l.accepted = slices.DeleteFunc(slices.Clone(l.accepted), func(at int) bool { return at >= from })
		}
	case session.Noted:
		l.notes = append(l.notes, n)
	case session.Took:
		at := s.Sweep.N
		if e.Again > 0 {
			at = e.Again
		}
		if at >= 1 && at <= s.Sweep.N {
			if st := &s.Sweep.Stations[at-1]; st.Surprise && st.OffBy.U > 0 {
				l.surprises = append(l.surprises, surprise{n, math.Abs(st.OffBy.V) / st.OffBy.U, at, st.Overtaken})
			}
		}
	}
	if s.Trial > st.Before.Trial {
		l.trials = append(l.trials, n)
	}
}

// judgeAnew takes over what the present sweep makes of the surprises in it.
func (l *timeline) judgeAnew(s *session.State) {
	for i := range l.surprises {
		if x := &l.surprises[i]; x.event > l.sweep && x.station <= s.Sweep.N && x.is(x.station, &s.Sweep.Stations[x.station-1]) {
			x.overtaken = s.Sweep.Stations[x.station-1].Overtaken
		}
	}
}

// since is the time from the event before to event n; a clock that was set back is no time.
func (l *timeline) since(n int) time.Duration {
	before, has := l.Record(n - 1)
	this, ok := l.Record(n)
	if !has || !ok {
		return 0
	}
	return max(0, this.T.Sub(before.T))
}

// moment says of event n what the timeline's zone shows.
func (l *timeline) moment(n int, st session.Step) pane.Moment {
	r, _ := l.Record(n)
	m := pane.Moment{N: n, Of: l.Len(), At: r.T, Since: l.since(n), Trials: l.trials, Accepted: l.accepted, Surprises: l.surprised,
		Overtaken: l.overtaken,
		Said:      lines.Happened(st, st.After.Set.Job.Unit)}
	return m
}

// notesTo are the notes up to event n and later ones about it or what was before, with their numbers and times.
func (l *timeline) notesTo(n int) (out []string) {
	for _, i := range l.notes {
		r, _ := l.Record(i)
		e, ok := r.Event.(session.Noted)
		switch {
		case ok && e.About > 0 && (e.About <= n || i <= n): // what was written later is shown with what it is about
			out = append(out, fmt.Sprintf("%d  %s  of event %d: %s", i, r.T.Format("15:04:05"), e.About, e.Text))
		case ok && i <= n:
			out = append(out, fmt.Sprintf("%d  %s  %s", i, r.T.Format("15:04:05"), e.Text))
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
