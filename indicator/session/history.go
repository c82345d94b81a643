package session

import "slices"

// History is a journal to step back and forth in: what stood after each event, and the step that led
// there. It keeps a state every so many events and folds the few behind it anew, so any place costs
// the same. It is never changed, and may be used by several goroutines at once.
type History struct {
	records []Record
	kept    []State // after 0, keepHistory, 2·keepHistory … events
}

// keepHistory is how many events lie between two states that are kept.
const keepHistory = 64

// HistoryOf folds events once, and hands every step to each where that is not nil. The events are
// shared, not copied.
func HistoryOf(records []Record, each func(Step)) *History {
	h := &History{records: records, kept: []State{{}}}
	h.fold(0, State{}, each)
	return h
}

// And returns the history with more events behind its own; each is handed the steps of those alone. The
// history itself stays as it is.
func (h *History) And(more []Record, each func(Step)) *History {
	longer := &History{records: slices.Concat(h.records, more), kept: slices.Clip(h.kept)}
	longer.fold(h.Len(), h.State(h.Len()), each)
	return longer
}

// fold folds the events behind the first done, after which s stood.
func (h *History) fold(done int, s State, each func(Step)) {
	for i, r := range h.records[done:] {
		s.and(r.Event, each)
		if (done+i+1)%keepHistory == 0 {
			h.kept = append(h.kept, s)
		}
	}
}

// Len returns how many events there are.
func (h *History) Len() int { return len(h.records) }

// Record returns event n, from 1, as it is recorded; ok is false where there is no such event.
func (h *History) Record(n int) (r Record, ok bool) {
	if n < 1 || n > len(h.records) {
		return r, false
	}
	return h.records[n-1], true
}

// State returns what stood after n events; n below 0 counts as 0, above Len as Len.
func (h *History) State(n int) State {
	n = min(max(n, 0), len(h.records))
	from := n / keepHistory
	s := h.kept[from]
	for _, r := range h.records[from*keepHistory : n] {
		s.step(r.Event)
	}
	return s
}

// Step returns event n, from 1, as it is recorded, and the states around it, from which lines.Of
// tells what the program said. ok is false where there is no such event.
func (h *History) Step(n int) (r Record, st Step, ok bool) {
	if r, ok = h.Record(n); !ok {
		return r, st, false
	}
	before := h.State(n - 1)
	return r, Step{Before: before, Event: r.Event, After: before.Apply(r.Event)}, true
}
