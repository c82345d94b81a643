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
	ForChore // a step of the order at the machine
	ForAgain // no circle fits the readings, and no station is left to ask for
)

// Prompt is the one thing to do now.
type Prompt struct {
	Waits Waits
	// Slide and Moves: what to load or wind.
	Slide slide.Slide
	Moves []slide.Move
	// Station counts from 1, Of is how many are planned so far; Bearing is where the reference
	// is met.
	Station, Of int
	Bearing     geom.Bearing
	// Set says that the head or the table has to be set: for a station, a parked wind, or a handwheel that
	// can be reached only there. Ring is what its ring shows then in degrees, and Table how far the
	// table stands turned counter-clockwise in setup turned, else 0.
	Set      bool
	Ring     float64
	Table    geom.Bearing
	Expected indicator.Value
	// Again says that the station has been read and is asked for once more, Doubt why.
	Again bool
	Doubt Doubted
	// Closing says that the first station is asked for once more at the sweep's end; Drift is what
	// came of it, for ForDrift.
	Closing bool
	Drift   Drifted
	// Touch says that the setup is points: a station is touched, and answered with two coordinates.
	Touch bool
	// To says that a wind goes to a coordinate, Goal in millimetres, and may be answered with the one where the
	// slide stands.
	To   bool
	Goal float64
	// Zero says that the readout is set to 0 before that wind: nobody has said where it stands.
	Zero bool
	// Told is the wind, for ForWind.
	Told Told
	// Chore is the step of the order at the machine, for ForChore and a wind that belongs to it; Station
	// and Of count it.
	Chore Chore
}

// TakesReading reports whether a number is an answer: at a station, and where a wind has stopped
// under the needle.
func (p *Prompt) TakesReading() bool {
	return p.Waits == ForReading || (p.Waits == ForWind && (p.Told.Park != nil || p.To)) || (p.Waits == ForChore && p.Chore.measured())
}

// Prompt returns what the session waits for. It is meaningful once nothing is due any more (see
// [Follow]).
func (s *State) Prompt() Prompt { return s.question().prompt(s) }

// meet has the head or the table set so that the reference is met at a bearing.
func (p *Prompt) meet(s *State, b geom.Bearing) {
	if s.Set.Job.Setup.Kind == indicator.Turned {
		p.turn(s, s.Set.Job.Setup.Stands(b))
		return
	}
	p.Set, p.Ring = true, s.Set.Machine.Head.Shows(b)
}

// turn has the table turned counter-clockwise by t.
func (p *Prompt) turn(s *State, t geom.Bearing) {
	p.Set, p.Table, p.Ring = true, t, s.Set.Machine.Table.Shows(t)
}
