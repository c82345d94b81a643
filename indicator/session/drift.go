package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Drifted: the closing reading shows that the readings drifted. Change is by how much from the
// first to the last of them, millimetres of reading. It waits to be taken out, kept, or swept again.
type Drifted struct {
	Change float64 `json:"change"`
}

// Evened: the sweep is fitted with a steady drift as one unknown more.
type Evened struct{}

// Even takes the drift out of the readings.
type Even struct{}

func (Drifted) row() *EventRow { return drifted }
func (Evened) row() *EventRow  { return evened }
func (Even) row() *CommandRow  { return even }

var drifted = event[Drifted]{kind: "drifted", apply: func(s *State, e Drifted) { s.Sweep.Drift = &e }}.row()

var evened = event[Evened]{kind: "evened", undo: "the drift taken out",
	apply: func(s *State, _ Evened) { s.Sweep.Even, s.Sweep.Drift = true, nil },
	anew: func(s *State, _ Evened, _ *Change) (Command, string) {
		if s.Sweep.Drift == nil {
			return nil, ""
		}
		return Even{}, ""
	},
}.row()

var even = command[Even]{word: "even", help: "take the drift out of the readings", keys: []string{"e"}, label: "take it out",
	shown:  func(n *Now) bool { return n.Waits == ForDrift },
	needle: needed[Even],
	decide: func(s *State, _ Even) (Event, error) {
		if s.Sweep.Drift == nil {
			return nil, refuse(s.hint(), "no drift waits to be taken out")
		}
		return Evened{}, nil
	},
}.row()

// driftAsked: the readings drifted, which waits to be taken out, kept, or swept again.
type driftAsked struct{ stuckAsked }

func (driftAsked) prompt(s *State) Prompt { return Prompt{Waits: ForDrift, Drift: *s.Sweep.Drift} }

func (driftAsked) hint(*State) string {
	return "even takes the drift out, keep leaves it in, again begins the sweep anew"
}

// Drifting fits a steady drift over the readings of the sweep. Errors are those of
// [indicator.FitDrift].
func (s *State) Drifting() (indicator.Estimate, error) {
	bearings, readings, _ := s.Sweep.Data()
	return indicator.FitDrift(s.Set.Job.Dial, s.setup(), bearings, readings, s.Sweep.places())
}

// drifted reports a drift that the closing reading has brought to light and that nobody has
// decided on. A closing reading that is off may be a misread itself: of the two, what explains the
// readings better is said.
func (s *State) drifted(d Doubted, doubted bool) (e Drifted, ok bool) {
	n := s.Sweep.closed()
	if n == 0 || s.Sweep.Even || s.Sweep.Stations[n-1].Skipped || s.Sweep.Stations[n-1].Kept {
		return e, false
	}
	f, err := s.Drifting()
	if err != nil || !f.Drifts {
		return e, false
	}
	if doubted {
		if g, err := s.fitWithout(d.Station); err == nil && g.Circle.SSR < f.Circle.SSR {
			return e, false
		}
	}
	return Drifted{Change: f.Change.V}, true
}

// Readings returns the bearings and readings that f was fitted to, the drift taken out where it is,
// and the stations' numbers (from 1). Points are distances, as the circle's centre sees them.
func (s *State) Readings(f *indicator.Estimate) (bearings []geom.Bearing, readings []float64, station []int) {
	bearings, readings = s.SetUp().Seen(s.bench(), f)
	return bearings, readings, s.Sweep.taken()
}
