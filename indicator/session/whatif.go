package session

import (
	"fmt"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Change is what a what-if does to one reading: it is left out, or another value stands in its place.
type Change struct {
	Event   int // number of the reading's event, from 1
	Out     bool
	Reading float64 // millimetres, where it is not left out
}

// WhatIf is a sweep as it went, and as it would have gone with changed readings.
type WhatIf struct {
	// As is the state in which the sweep was closed, or stands; Now the same with the changes.
	As, Now State
	// Told are the winds that followed the sweep; WouldTell those that would have been told, each wound
	// by the collar's word and without a reading under the needle.
	Told, WouldTell []Told
	// Used counts the entries that still answer what would have been asked, of Entries.
	Used, Entries int
	// Why says why not all of them do, or why the sweep would not be closed; empty where it would be by
	// its last entry.
	Why string
}

// numbered is an entry of a sweep with its event's number.
type numbered struct {
	n      int
	e      Event
	behind bool // it came behind the close, and what follows from the sweep was asked again
}

// course is how the present sweep has come about: the state in which it was open and empty, and the
// entries since that still stand.
type course struct {
	base    State
	entries []numbered
	told    []Told
}

// Try answers what a sweep would have said with other readings. The changes must belong to one sweep of
// the events. That sweep's entries, as far as none was taken back, are decided again from the state in
// which it was empty, and what follows from each follows again; an entry that answers nothing that is
// asked any more (a station read again that would not have been in doubt) is passed over, and a
// question that no entry answers ends it. Nothing is recorded.
func Try(events []Event, changes []Change) (WhatIf, error) {
	if len(changes) == 0 {
		return WhatIf{}, fmt.Errorf("no reading is changed, need one")
	}
	for _, c := range changes {
		if c.Event < 1 || c.Event > len(events) {
			return WhatIf{}, fmt.Errorf("event %d, need 1 to %d", c.Event, len(events))
		}
		if _, ok := events[c.Event-1].(Took); !ok {
			return WhatIf{}, fmt.Errorf("event %d is no reading of a sweep", c.Event)
		}
	}
	w, how, ok := wentAs(events, changes[0].Event)
	if !ok {
		return WhatIf{}, fmt.Errorf("event %d belongs to no sweep", changes[0].Event)
	}
	for _, c := range changes {
		if !how.holds(c.Event) {
			return WhatIf{}, fmt.Errorf("events %d and %d belong to two sweeps, need readings of one", changes[0].Event, c.Event)
		}
	}
	w.again(how, changes)
	return w, nil
}

func (c *course) holds(n int) bool {
	return slices.ContainsFunc(c.entries, func(x numbered) bool { return x.n == n })
}

// standing lists the events of a setting that still stand, the opening first.
func (s *State) standing() []numbered {
	var out []numbered
	for x := s.log; x != nil; x = x.before {
		out = append(out, numbered{n: x.n, e: x.event})
	}
	slices.Reverse(out)
	return out
}

// stoodWith are the events of a reading's setting that stood when it did so last.
func stoodWith(events []Event, reading int) []numbered {
	var s State
	for i, e := range events {
		_, opens := e.(Opened)
		_, back := e.(Undone)
		if n := s.TakesBack(); i >= reading && (opens || back && n > 0 && n <= reading) {
			break
		}
		s = s.Apply(e)
	}
	return s.standing()
}

// wentAs follows the events, and keeps the sweep that a reading belongs to as it stood last.
func wentAs(events []Event, reading int) (w WhatIf, last course, ok bool) {
	var s State
	var now course
	var under course // the first sweep's, while the one for the tilt is taken
	for _, x := range stoodWith(events, reading) {
		before := s
		s.Events = x.n - 1
		s = s.Apply(x.e)
		tilted := false
		switch e := x.e.(type) {
		case Raised:
			under = now
		case Tilted: // the first sweep goes on
			now, tilted = under, true
		case Told:
			if before.Phase != Cutting { // the winds of the order at the machine follow from no sweep
				now.told = append(slices.Clip(now.told), e)
			}
		default:
			x.behind = before.Phase != Sweeping && s.Phase == Sweeping && s.Sweep.Closed != ""
			if x.behind { // what had been told is told anew
				now.told = nil
			}
			if IsEntry(e) && (before.Phase == Sweeping || x.behind) {
				now.entries = append(slices.Clip(now.entries), x)
			}
		}
		if s.fresh() {
			now = course{base: s}
		}
		if !tilted && now.holds(reading) {
			if s.Phase == Sweeping || before.Phase == Sweeping {
				w.As = s
			}
			last, ok = now, true
		}
	}
	w.Told, w.Entries = last.told, len(last.entries)
	return w, last, ok
}

// fresh reports whether a sweep is open and nothing has been entered in it.
func (s *State) fresh() bool {
	return s.Phase == Sweeping && s.Sweep.N == 0 && s.Sweep.Closed == "" && s.Winds == nil
}

// again decides a sweep's entries once more, with the changes.
func (w *WhatIf) again(how course, changes []Change) {
	s := how.base
	w.Used = 0
	for _, x := range how.entries {
		if x.behind && s.Phase == Sweeping && s.Sweep.Closed == "" {
			break // it would not have come to it
		}
		if !x.behind && (s.Phase != Sweeping || s.Sweep.Closed != "") {
			w.Why = fmt.Sprintf("the sweep would be closed after %d of its %d entries", w.Used, w.Entries)
			break
		}
		c, why := s.answerTo(x, changes)
		if c == nil {
			continue
		}
		if why != "" {
			w.Why = why
			break
		}
		e, err := Decide(s, c)
		if err != nil {
			w.Why = err.Error()
			break
		}
		w.Used++
		s = s.Apply(e)
		for s.Phase == Sweeping && s.Sweep.Closed == "" {
			next, due := Follow(s)
			if !due {
				break
			}
			s = s.Apply(next)
		}
	}
	w.Now = s
	w.WouldTell = w.Now.wouldTell()
	if p := s.Prompt(); w.Why == "" && s.Phase == Sweeping && s.Sweep.Closed == "" && w.As.Sweep.Closed != "" {
		w.Why = fmt.Sprintf("the sweep would still be open, and ask for station %d", p.Reading.Station)
	}
}

// answerTo turns an entry of the past into the command that it would be now; nil where nothing like it is asked any more.
// why is set where something else is asked.
func (s *State) answerTo(x numbered, changes []Change) (c Command, why string) {
	var change *Change
	if i := slices.IndexFunc(changes, func(c Change) bool { return c.Event == x.n }); i >= 0 {
		change = &changes[i]
	}
	return x.e.row().anew(s, x.e, change)
}

// otherThan says what is asked where it is not the bearing that was read.
func (s *State) otherThan(b geom.Bearing) string {
	p := s.Prompt()
	switch {
	case p.Waits == ForDrift:
		return "the readings would have drifted, which waits for a decision"
	case p.Waits != ForReading:
		return "no reading would be asked for any more"
	case p.Reading.Bearing.Apart(b) > 1e-9 && p.Reading.Again:
		return fmt.Sprintf("station %d would be in doubt and asked for once more", p.Reading.Station)
	case p.Reading.Bearing.Apart(b) > 1e-9:
		return fmt.Sprintf("station %d would be asked for elsewhere, at %.4g°", p.Reading.Station, p.Reading.Bearing.Degrees360())
	}
	return ""
}

// wouldTell lists the winds that the sweep, closed now if it is open, asks for, each done as told.
func (s State) wouldTell() (told []Told) {
	if s.Phase == Sweeping && s.Sweep.Closed == "" {
		if _, err := s.Fit(); err != nil || s.Sweep.Readings() < fit.MinStations {
			return nil
		}
		s.Doubt, s.Sweep.Drift, s.Sweep.Closed = nil, nil, ByPerson
	}
	const most = 4 * maxSlides
	for range most {
		if s.Phase != Sweeping && (s.Phase != Winding || s.Told != nil) {
			return told
		}
		e := s.nextWind()
		t, ok := e.(Told)
		if !ok {
			return told
		}
		told = append(told, t)
		s = s.Apply(t).Apply(Wound{Slide: t.Wind.Slide})
	}
	return told
}
