package session

// History is a journal to step back and forth in: what stood after each event, and the step that led
// there. It keeps a state every so many events and folds the few behind it anew, so any place costs
// the same. It is never changed, and may be used by several goroutines at once.
type History struct {
	lines [][]byte
	kept  []State // after 0, keepHistory, 2·keepHistory … events
}

// keepHistory is how many events lie between two states that are kept.
const keepHistory = 64

// NewHistory folds a journal's lines once. On a *[LineError] the history goes as far as the lines
// before it. The lines are shared, not copied.
func NewHistory(lines [][]byte) (*History, error) {
	h := &History{kept: []State{{}}}
	s, err := Fold(lines, func(st Step) {
		if st.After.Events%keepHistory == 0 {
			h.kept = append(h.kept, st.After)
		}
	})
	h.lines = lines[:s.Events]
	return h, err
}

// Len returns how many events there are.
func (h *History) Len() int { return len(h.lines) }

// State returns what stood after n events; n below 0 counts as 0, above Len as Len.
func (h *History) State(n int) State {
	n = min(max(n, 0), len(h.lines))
	s := h.kept[n/keepHistory]
	for s.Events < n {
		r, err := Decode(s.Events+1, h.lines[s.Events])
		if err != nil {
			return s // not since it was decoded once before
		}
		s = s.Apply(r.Event)
	}
	return s
}

// Step returns event n, from 1, as it is recorded, and the states around it, from which lines.Of
// tells what the program said. ok is false where there is no such event.
func (h *History) Step(n int) (r Record, st Step, ok bool) {
	if n < 1 || n > len(h.lines) {
		return r, st, false
	}
	r, err := Decode(n, h.lines[n-1])
	if err != nil {
		return r, st, false
	}
	before := h.State(n - 1)
	return r, Step{Before: before, Event: r.Event, After: before.Apply(r.Event)}, true
}
