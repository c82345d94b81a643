package session

import (
	"cmp"
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Wondered: a number was typed at a parked wind that is far more plausible as the reading of the sweep's next station: the
// sweep was closed before its planned stations were in, and who reads on may not have seen it. It waits for the person's word.
type Wondered struct {
	Reading float64 `json:"reading"`
	// Station (from 1) and Bearing are the station that would have been next.
	Station int          `json:"station"`
	Bearing geom.Bearing `json:"bearing"`
	Gauge   Gauged       `json:"gauge,omitzero"`
}

// Reopened: that number was the station's. The sweep goes on with it as if it had not been closed.
type Reopened struct {
	Bearing geom.Bearing `json:"bearing"`
	Reading float64      `json:"reading"`
	Gauge   Gauged       `json:"gauge,omitzero"`
}

// NextStation says that the number was the next station's reading; Stopped that the slide stopped there.
type (
	NextStation struct{}
	Stopped     struct{}
)

func (Wondered) row() *EventRow      { return wondered }
func (Reopened) row() *EventRow      { return reopened }
func (NextStation) row() *CommandRow { return nextStation }
func (Stopped) row() *CommandRow     { return stopped }

var wondered = event[Wondered]{kind: "wondered", undo: "the number",
	check: func(e Wondered) error { return e.Gauge.check() },
	fits: func(s *State, e Wondered) error {
		if e.Station < 1 || e.Station > indicator.MaxStations {
			return fmt.Errorf("station %d, need 1 to %d", e.Station, indicator.MaxStations)
		}
		return cmp.Or(isBearing(e.Bearing), s.shows(e.Reading))
	},
	apply: func(s *State, e Wondered) { s.Wonder = &e }}.row()

var reopened = event[Reopened]{kind: "reopened", undo: "the reading",
	check: func(e Reopened) error { return e.Gauge.check() },
	fits:  func(s *State, e Reopened) error { return cmp.Or(isBearing(e.Bearing), s.shows(e.Reading)) },
	apply: func(s *State, e Reopened) {
		if at := s.log.newest("swept"); s.Sweep.Closed != "" && at != nil {
			s.goBackTo(at.before)
		}
		if s.Sweep.Closed == "" {
			s.put(s.entered(Took{Bearing: e.Bearing, Reading: e.Reading, Gauge: e.Gauge}), 0)
			s.trembles(e.Gauge)
		}
	},
	anew: func(s *State, e Reopened, _ *Change) (Command, string) {
		return Take{Reading: e.Reading, Gauge: e.Gauge}, s.otherThan(e.Bearing)
	},
}.row()

var nextStation = command[NextStation]{word: "station", help: "the number typed was the next station's reading", keys: []string{"p"},
	label: "station", shown: func(n *Now) bool { return n.Which },
	decide: func(s *State, _ NextStation) (Event, error) {
		if s.Wonder == nil || s.Told == nil {
			return nil, refuse(s.hint(), "no number waits to be told apart")
		}
		return Reopened{Bearing: s.Wonder.Bearing, Reading: s.Wonder.Reading, Gauge: s.Wonder.Gauge}, nil
	},
}.row()

var stopped = command[Stopped]{word: "stopped", help: "the number typed is where the slide stopped", keys: []string{"<"},
	label: "stopped", shown: func(n *Now) bool { return n.Which },
	decide: func(s *State, _ Stopped) (Event, error) {
		if s.Wonder == nil || s.Told == nil {
			return nil, refuse(s.hint(), "no number waits to be told apart")
		}
		e, err := parkAsked{}.stopsAt(s, s.Wonder.Reading)
		if holds, ok := e.(gauged); ok {
			return holds.ofGauge(s.Wonder.Gauge), err
		}
		return e, err
	},
}.row()

// Early reports whether the sweep was closed by itself before its planned stations were in, and nothing has been wound since.
func (s *State) Early() bool {
	w := &s.Sweep
	return s.Set != nil && (w.Closed == ByWind || w.Closed == ByVerdict) && s.Winds == nil && s.Raising == nil &&
		s.Phase != Cutting && s.Phase != Ended && w.Entries() < s.Plan().Stations
}

// farOff is how many times its own band a number must lie from where the needle is to stop, and nearTo how many times
// nearer to the next station, for it to be asked about. Hands that stop beside their goal are within a band or two.
const farOff, nearTo = 5, 10

// wonders returns what is asked about a number at a parked wind; ok is false of one that may well be where the slide stopped.
func (s *State) wonders(reading float64) (e Wondered, ok bool) {
	if s.Set.Rules < statedRules || !s.Early() || s.SetUp().Under().Pair || s.log == nil || s.Told == nil || s.Told.Park == nil {
		return e, false
	}
	if s.Wonder != nil && s.Wonder.Reading == reading {
		return e, false // typed once more as it was: it is where the slide stopped
	}
	last := s.log
	for ; last != nil && (Kind(last.event) == "wondered" || Kind(last.event) == "told"); last = last.before {
		continue
	}
	if last == nil || Kind(last.event) != "swept" {
		return e, false // something else was entered since
	}
	f, err := s.Fit()
	if err != nil || !(f.Dof > 0) {
		return e, false
	}
	n := s.Sweep.Entries()
	at := s.Set.Job.Sweep.Bearing(n)
	x, p := f.Expect(at), s.Told.Park
	band := x.U * fit.Student(1-0.0005/2, f.Dof) / fit.Coverage(f.Dof)
	stop := max(f.Expect(p.Bearing).U, s.Set.Job.Dial.Graduation)
	beside := min(math.Abs(reading-p.Goal), math.Abs(reading-p.Goal-p.Shift*p.Act))
	off := math.Abs(reading - x.V)
	if !(off <= band) || !(beside > farOff*stop) || !(beside > nearTo*off) {
		return e, false
	}
	return Wondered{Reading: reading, Station: s.Sweep.N + 1, Bearing: at}, true
}

// newest is the newest event of a kind, nil where there is none.
func (l *logged) newest(kind string) *logged {
	for ; l != nil; l = l.before {
		if Kind(l.event) == kind {
			return l
		}
	}
	return nil
}

// Reopens is the number of the event that closed the sweep which [Reopened] opens again, in this state; 0 where none does.
func (s *State) Reopens() int {
	if at := s.log.newest("swept"); s.Sweep.Closed != "" && at != nil {
		return at.n
	}
	return 0
}

// whichAsked: a number typed at a parked wind may be the next station's.
type whichAsked struct{ parkAsked }

func (q whichAsked) prompt(s *State) Prompt {
	p := q.parkAsked.prompt(s)
	p.Wind.Which = s.Wonder
	return p
}

func (whichAsked) done(s *State) (Event, error) {
	return nil, refuse(s.hint(), "it is not known what the number was")
}

func (whichAsked) hint(*State) string {
	return "station, where it was the next station's reading; stopped, where the slide stopped there; or type the parked reading anew"
}
