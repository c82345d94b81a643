package record

import (
	"slices"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Journal is a journal among others, with what its settings reached.
type Journal struct {
	Name, Path string
	Last       time.Time     // when its last event was recorded; zero where there is none
	State      session.State // after the last line that could be read
	Accepted   []Accepted
	Torn       int    // bytes of an unfinished last line
	Wrong      string // what is wrong with the file; empty where nothing is
}

// Accepted is an accepted setting as its journal leaves it, with what was cut behind it.
type Accepted struct {
	State session.State
	At    time.Time // when it was accepted; where the clock was put back meanwhile, not before the one that it came behind
}

// Follow follows a step: a setting that is accepted is kept, its last state in the place of the ones before, and
// one that is taken back is not. Each part that was swept is kept so; a part that is only counted leaves the figures of the one before.
// at says when an event was recorded.
func (l *Journal) Follow(st session.Step, at func(event int) time.Time) {
	_, undone := st.Event.(session.Undone)
	_, anew := st.Event.(session.Restarted)
	was, is := st.Before.Accepted(), st.After.Accepted()
	switch last := len(l.Accepted) - 1; {
	case is && st.After.Unswept:
	case is && !was && st.Before.Part <= st.After.Part: // a part that is taken back leaves the acceptance before it
		when := at(st.After.Events)
		if last >= 0 && when.Before(l.Accepted[last].At) { // the journal's order is that of what was done, whatever a clock says
			when = l.Accepted[last].At
		}
		l.Accepted = append(l.Accepted, Accepted{st.After, when})
	case is:
		l.Accepted[last].State = st.After
	case was && (undone || anew):
		l.Accepted = l.Accepted[:last]
	}
	l.State = st.After
}

// Open reports whether a setting waits to be gone on with.
func (l *Journal) Open() bool {
	return l.Wrong == "" && l.State.Set != nil && !l.State.Accepted()
}

// Unfinished reports whether something of the journal's last setting is left to do: it is open, or accepted with steps
// of the order at the machine to come.
func (l *Journal) Unfinished() bool {
	return l.Open() || l.Wrong == "" && l.State.Set != nil && l.State.Phase == session.Cutting
}

// Begun reports whether anything that a person entered stands in the journal's last setting; else it was only opened.
func (l *Journal) Begun() bool {
	return l.State.Phase == session.Cutting || l.State.LastEntry() != nil
}

// Read reports whether a reading stands in the journal's last setting.
func (l *Journal) Read() bool { return l.State.Trial > 1 || l.State.Sweep.Readings() > 0 }

// InTurn puts journals in the order in which one of them is gone on with: those that are begun before those that were only
// opened, perhaps by mistake, and each kind as they stand.
func InTurn(all []Journal) {
	slices.SortStableFunc(all, func(a, b Journal) int {
		switch begun := a.Begun(); {
		case begun == b.Begun():
			return 0
		case begun:
			return -1
		}
		return 1
	})
}

// NewSession tells of a journal, each setting in the unit that unit makes of its job's.
func NewSession(l *Journal, unit func(geom.Unit) geom.Unit) SessionLine {
	out := SessionLine{Say: "session", Name: l.Name, Journal: l.Path, Open: l.Open(),
		Events: l.State.Events, TornBytes: l.Torn, Wrong: l.Wrong, Accepted: []Reached{}}
	if !l.Last.IsZero() {
		out.Last = l.Last.Format(time.RFC3339)
	}
	for i := range l.Accepted {
		s := &l.Accepted[i].State
		out.Accepted = append(out.Accepted, ReachedBy(s, unit(s.Set.Job.Unit)))
	}
	if set := l.State.Set; set != nil {
		out.Machine = set.Machine.Name
		if !l.State.Accepted() {
			stands := ReachedBy(&l.State, unit(set.Job.Unit))
			out.Stands = &stands
		}
		if n, last := len(out.Accepted), l.State.Parts; n > 0 && last != nil && last.Unswept {
			out.Accepted[n-1].count(last.Part)
		}
	}
	return out
}
