package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// The closing reading is the first station's, read once more behind all others: whatever moved
// while the sweep was taken (the work, the head, the indicator on its rod) shows there.

// ClosingAsked asks for the first station once more, behind all others. Wish says that the person
// wanted it.
type ClosingAsked struct {
	Wish bool `json:"wish,omitempty"`
}

// AskClosing asks for the first station once more.
type AskClosing struct{}

func (ClosingAsked) row() *EventRow { return closingAsked }
func (AskClosing) row() *CommandRow { return askClosing }

var closingAsked = event[ClosingAsked]{kind: "closing", undo: "the closing reading",
	entry: func(e ClosingAsked) bool { return e.Wish },
	apply: func(s *State, _ ClosingAsked) { s.Sweep.Closing = true },
	anew: func(s *State, _ ClosingAsked, _ *Change) (Command, string) {
		if s.Sweep.Closing || s.Sweep.closed() != 0 {
			return nil, ""
		}
		return AskClosing{}, ""
	},
}.row()

var askClosing = command[AskClosing]{word: "closing", help: "read the first station once more", keys: []string{"l"}, label: "closing",
	not:    func(n *Now) string { return unless(n.reading() && !n.Doubt && !n.Looking, "no station is asked for") },
	needle: needed[AskClosing],
	decide: decideClosing,
}.row()

// decideClosing lets the first station be read once more, in a sweep that has enough readings to
// tell a drift from a centre error.
func decideClosing(s *State, _ AskClosing) (Event, error) {
	switch n := s.Sweep.Readings(); {
	case s.Phase != Sweeping:
		return nil, refuse(s.hint(), "no sweep is open")
	case s.Doubt != nil || s.Sweep.Drift != nil:
		return nil, refuse(s.hint(), "a reading waits for a decision first")
	case s.Sweep.Closing:
		return nil, refuse(s.hint(), "the closing reading is asked for already")
	case n <= fit.MinStations:
		return nil, refuse("take more stations first", "%d readings, need at least %d for a closing reading to tell anything", n,
			fit.MinStations+1)
	case s.Sweep.N >= indicator.MaxStations:
		return nil, refuse(s.hint(), "the sweep holds %d entries, need room for one more", s.Sweep.N)
	}
	return ClosingAsked{Wish: true}, nil
}

// Entries counts the sweep's entries, closing readings apart.
func (w *Sweep) Entries() int {
	n := 0
	for i := range w.Stations[:w.N] {
		if !w.Stations[i].Closing {
			n++
		}
	}
	return n
}

// first is the bearing of the first station that has a reading; ok is false where none has.
func (w *Sweep) first() (b geom.Bearing, ok bool) {
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			return st.Bearing, true
		}
	}
	return 0, false
}

// closed is the number (from 1) of the closing reading, if it stands last: readings behind it
// would want another. 0 where there is none.
func (w *Sweep) closed() int {
	if w.N > 0 && w.Stations[w.N-1].Closing {
		return w.N
	}
	return 0
}

// places returns the readings' places in time, from −½ for the first that was taken to ½ for the
// last, in the order of [Sweep.Data]. Readings are taken to follow each other evenly: a hand-swung
// sweep has no clock.
func (w *Sweep) places() []float64 {
	first, last := w.Taken, 1
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			first, last = min(first, st.Order), max(last, st.Order)
		}
	}
	var out []float64
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			out = append(out, float64(st.Order-first)/float64(max(1, last-first))-0.5)
		}
	}
	return out
}

// wantsClosing reports whether the sweep, about to be closed, still lacks the closing reading that
// the job asks for.
func (s *State) wantsClosing() bool {
	_, some := s.Sweep.first()
	return some && s.Set.Job.Sweep.Closing && s.Sweep.closed() == 0 && s.Sweep.N < indicator.MaxStations
}
