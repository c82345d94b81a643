package main

import (
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// watchedLines is the wind in hand as a cable indicator watches it, in plain lines.
type watchedLines struct {
	told   *session.Told
	wind   *gauge.Approach // nil where none is watched
	unsure bool            // where the head stands: something was taken back
}

// follow has the wind in hand watched from its beginning, with the needle at a figure where it has one.
func (l *gaugedLines) follow() {
	s := l.live.State()
	w, ok := s.Wanted()
	switch x := &l.watched; {
	case !ok:
		x.told, x.wind = nil, nil
	case x.told != s.Told:
		w.Parked = w.Parked && !x.unsure
		a := gauge.NewApproach(w)
		if m := l.reader.Moment(l.w.now()); m.Has {
			a.Before(m.Shown())
		}
		x.told, x.wind = s.Told, &a
	}
}

// watch shows the wind in hand what the needle went through, and where it stands still now.
func (l *gaugedLines) watch(through []float64) {
	a := l.watched.wind
	if a == nil {
		return
	}
	for _, v := range through {
		a.See(v, nil)
	}
	if m, err := l.reader.Mean(l.w.now()); err == nil {
		a.See(m.Value, &m.Value)
	}
}

// windWants says what the wind in hand still wants before what the needle stands at is taken; empty for nothing. insists says that it
// was asked for a second time, which takes one that was not seen from its beginning.
func (l *gaugedLines) windWants(insists bool) (because, hint string) {
	a := l.watched.wind
	if a == nil {
		return "", ""
	}
	s := l.live.State()
	because, hint = lines.WatchRefuses(&s, a, lines.WatchLeft(&s, a, s.Prompt().Wind.Moves, l.u), l.u)
	switch {
	case a.Progress == gauge.Astray:
		return because, "wind back; where it is wound as told, sense checks the sign"
	case a.Progress != gauge.Unseen || insists:
		return because, hint
	}
	return lines.WatchUnseen(&s, a, l.u), "take once more takes it; or type the reading"
}
