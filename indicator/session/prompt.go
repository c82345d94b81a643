package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Waits names what the session waits for.
type Waits uint8

// What it may wait for.
const (
	ForNothing Waits = iota // no setting is open, or it has ended
	ForLoad
	ForReading
	ForWind
	ForAccept
	ForDrift // the readings drifted: to be taken out, kept, or swept again
	ForAgain // no circle fits the readings, and no station is left to ask for
)

// Prompt is the one thing to do now.
type Prompt struct {
	Waits Waits
	// Slide and Moves: what to load or wind.
	Slide slide.Slide
	Moves []slide.Move
	// Station counts from 1, Of is how many are planned so far; Bearing is where the reference
	// is met, Ring what the head's ring shows there in degrees.
	Station, Of int
	Bearing     geom.Bearing
	Ring        float64
	Expected    indicator.Value
	// Again says that the station has been read and is asked for once more, Doubt why.
	Again bool
	Doubt Doubted
	// Closing says that the first station is asked for once more at the sweep's end; Drift is what
	// came of it, for ForDrift.
	Closing bool
	Drift   Drifted
	// Told is the wind, for ForWind.
	Told Told
}

// TakesReading reports whether a number is an answer: at a station, and where a wind has stopped
// under the needle.
func (p *Prompt) TakesReading() bool {
	return p.Waits == ForReading || (p.Waits == ForWind && p.Told.Park != nil)
}

// Prompt returns what the session waits for. It is meaningful once nothing is due any more (see
// [Follow]).
func (s *State) Prompt() Prompt {
	switch s.Phase {
	case Loading:
		sl, _ := s.Set.Machine.Slide(s.Set.Job.Needs()[s.Loads])
		return Prompt{Waits: ForLoad, Slide: sl, Moves: sl.Load(), Station: s.Loads + 1, Of: len(s.Set.Job.Needs())}
	case Sweeping:
		if s.Sweep.Drift != nil {
			return Prompt{Waits: ForDrift, Drift: *s.Sweep.Drift}
		}
		b, ok := s.NextBearing()
		if !ok {
			return Prompt{Waits: ForAgain}
		}
		n := s.Sweep.N + 1
		p := Prompt{Waits: ForReading, Station: n, Of: max(n, s.Set.Job.Sweep.Stations), Bearing: b,
			Ring: s.Set.Machine.Head.Shows(b), Expected: s.Expect(b), Closing: s.Sweep.Closing}
		if s.Doubt != nil {
			p.Station, p.Of = s.Doubt.Station, max(s.Sweep.N, s.Set.Job.Sweep.Stations)
			p.Again, p.Doubt = true, *s.Doubt
		}
		return p
	case Winding:
		if s.Told != nil {
			sl, _ := s.Set.Machine.Slide(s.Told.Wind.Slide)
			return Prompt{Waits: ForWind, Slide: sl, Moves: s.Told.Wind.Moves, Told: *s.Told}
		}
	case SettledDown:
		return Prompt{Waits: ForAccept}
	case Unopened, Ended:
	}
	return Prompt{}
}

// LastEntry names what undo would take back; empty when there is nothing.
func (s *State) LastEntry() string {
	if s.log == nil || s.log.entry == nil || s.Phase == Ended {
		return ""
	}
	return s.log.entry.event.kind()
}
