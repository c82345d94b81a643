package session

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom/fit"
)

// Swept closes a sweep.
type Swept struct {
	Why Why `json:"why"`
}

// Why says why a sweep was closed.
type Why string

// The reasons.
const (
	ByVerdict Why = "verdict" // nothing is undecided any more
	ByWind    Why = "wind"    // winding helps sooner than further stations can
	ByLimit   Why = "limit"   // as many stations as make sense, and still undecided
	ByPerson  Why = "enough"  // the person said so
	ByTilt    Why = "tilt"    // a second sweep at another height is complete
)

// Whys are all reasons.
func Whys() []Why { return []Why{ByVerdict, ByWind, ByLimit, ByPerson, ByTilt} }

func (w Why) check() error {
	if slices.Contains(Whys(), w) {
		return nil
	}
	known := make([]string, 0, len(Whys()))
	for _, k := range Whys() {
		known = append(known, string(k))
	}
	last := len(known) - 1
	return fmt.Errorf("why %q, need %s or %s", w, strings.Join(known[:last], ", "), known[last])
}

// Enough closes the sweep with what is there.
type Enough struct{}

func (Swept) row() *EventRow    { return swept }
func (Enough) row() *CommandRow { return enough }

var swept = event[Swept]{kind: "swept", undo: "the close of the sweep",
	entry: func(e Swept) bool { return e.Why == ByPerson },
	quick: func(payload []byte) (e Swept, ok bool) {
		c := cursor{rest: payload}
		c.take(`{"why":`)
		e.Why = Why(c.word())
		c.take("}")
		return e, c.done()
	},
	check: func(e Swept) error { return e.Why.check() },
	apply: func(s *State, e Swept) {
		s.Sweep.Closed, s.Sweep.Closing, s.Sweep.Drift, s.Doubt = e.Why, false, nil, nil
		s.judgeAnew()
		if s.Raising == nil {
			s.enters()
		}
		if s.Raising == nil && !s.astray() {
			s.learnWinds()
			s.learnForm()
		}
	},
	anew: func(*State, Swept, *Change) (Command, string) { return Enough{}, "" },
}.row()

var enough = command[Enough]{word: "enough", help: "close the sweep with what is there", keys: []string{">"}, label: "enough",
	not:    func(n *Now) string { return unless(n.reading() && !n.Looking, "no station is asked for") },
	decide: decideEnough}.row()

// TooFew reports whether the open sweep has fewer readings than a fit needs: no word ends it yet.
func (s *State) TooFew() bool { return s.Sweep.Readings() < fit.MinStations }

func decideEnough(s *State, _ Enough) (Event, error) {
	if s.Phase != Sweeping {
		return nil, refuse(s.hint(), "no sweep is open")
	}
	if _, ok := s.Pair(); ok && s.Doubt == nil && !s.Sweep.Paired {
		return Paired{}, nil
	}
	if s.TooFew() {
		return nil, refuse("take more stations", "%d readings, need at least %d", s.Sweep.Readings(), fit.MinStations)
	}
	if s.Sweep.Drift != nil {
		return nil, refuse(s.hint(), "the readings drifted, and nothing is decided on it")
	}
	if _, err := s.Fit(); err != nil {
		return nil, refuse("undo the reading that is wrong, or begin the sweep again", "%v", err)
	}
	if s.Contradiction != nil {
		return sizeAsked{}.done(s)
	}
	if e, against := s.contradiction(); against { // asked before anything is wound by it
		return e, nil
	}
	return Swept{Why: ByPerson}, nil
}
