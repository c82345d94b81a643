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
	ForCheck // what is stated is in question: a sign to be checked, or a statement to be put right
	ForBack  // the needle is off the dial everywhere: the way back
	ForAgain // no circle fits the readings, and no station is left to ask for
	ForSize  // the touched radius contradicts what is stated of the reference
	ForMoved // something has moved since the setting was accepted, or may have: sweep again, or go on as it stands
)

// Prompt is the one thing to do now: the question that Waits names, whose struct says what it asks; the others are zero.
type Prompt struct {
	Waits   Waits
	Load    LoadAsked
	Reading ReadingAsked
	Wind    WindAsked
	// Chore is set for a wind too that belongs to one.
	Chore ChoreAsked
	// Drift is what came of the closing reading.
	Drift Drifted
	// Size is the radius that contradicts what is stated.
	Size  SizeAsked
	Check CheckAsked
	Back  BackAsked
}

// LoadAsked: a slide is to be wound off and brought up in its take-up way, the Nth of so many.
type LoadAsked struct {
	Position
	Slide slide.Slide
	Moves []slide.Move
	N, Of int
}

// ReadingAsked: what the dial shows at a station.
type ReadingAsked struct {
	Position
	// Station counts from 1, Of is how many are planned so far; Bearing is where the reference is met.
	Station, Of int
	Bearing     geom.Bearing
	Expected    indicator.Value
	// Again says that the station has been read and is asked for once more, Doubt why.
	Again bool
	Doubt Doubted
	// Closing says that the first station is asked for once more at the sweep's end.
	Closing bool
	// Between says that it is a look at the needle between two winds, and no station of a sweep.
	Between bool
	// Touch says that the setup is points: the station is touched, and answered with two coordinates.
	Touch bool
}

// How is the way in which a wind is done and answered.
type How int

const (
	// ByCollar: wound by the collar, and confirmed.
	ByCollar How = iota
	// UnderNeedle: wound until the needle shows the goal, and answered with what it shows.
	UnderNeedle
	// ByTap: tapped under the needle, and answered with what it shows.
	ByTap
	// ByCoordinate: sent to a coordinate, and may be answered with the one where the slide stands.
	ByCoordinate
)

// WindAsked: a wind, or a tap.
type WindAsked struct {
	Position
	Slide slide.Slide
	Moves []slide.Move
	Told  Told
	How   How
	// Goal is the coordinate that a wind [ByCoordinate] goes to, millimetres. Zero says that the readout is set to 0 before:
	// nobody has said where it stands.
	Goal float64
	Zero bool
	// Reads says that the wind goes by a collar that keeps its figures, and is answered with the one that it shows before it is told.
	Reads bool
	// Which is a number that may be where the slide stopped, or the next station's reading, and waits for a word; nil else.
	Which *Wondered
}

// CheckAsked: which of the causes it is. Plan is the sign that is checked for that; its slide is empty where no check would
// tell more, and one of them is to be put right.
type CheckAsked struct {
	Position
	Plan   SensePlan
	Slide  slide.Slide
	Causes []Cause
}

// BackAsked: the needle is off the dial everywhere, and the last winds are wound back, newest first; none where nothing was
// wound. Clear says that the tip is pressed beyond the dial, and has to be brought clear first.
type BackAsked struct {
	Winds  []slide.Wind
	Slides []slide.Slide
	Clear  bool
}

// ChoreAsked: a step of the order at the machine, the Nth of so many; Bearing is where the head stands as it is locked.
type ChoreAsked struct {
	Position
	Step    Chore
	N, Of   int
	Bearing geom.Bearing
	// May says that it may be answered with a number, and need not.
	May bool
	// Seen says that the ring's figure at the stop may answer it, degrees.
	Seen bool
}

// Position is how the head or the table has to be set: for a station, a parked wind, or a handwheel that
// can be reached only there. Ring is what its ring shows then in degrees, and Table how far the
// table stands turned counter-clockwise in setup turned, else 0. Set is false where it may stand anywhere.
type Position struct {
	Set   bool
	Ring  float64
	Table geom.Bearing
}

// Position returns how the head or the table has to be set for what is asked.
func (p *Prompt) Position() Position {
	switch p.Waits {
	case ForLoad:
		return p.Load.Position
	case ForReading:
		return p.Reading.Position
	case ForWind:
		return p.Wind.Position
	case ForChore:
		return p.Chore.Position
	case ForCheck:
		return p.Check.Position
	case ForNothing, ForAccept, ForDrift, ForBack, ForAgain, ForSize, ForMoved:
	}
	return Position{}
}

// Handwheel returns the slide that is to be loaded or wound, and how; nothing else has one.
func (p *Prompt) Handwheel() (s slide.Slide, moves []slide.Move) {
	if p.Waits == ForLoad {
		return p.Load.Slide, p.Load.Moves
	}
	return p.Wind.Slide, p.Wind.Moves
}

// TakesReading reports whether a number is an answer: at a station, and where a wind has stopped
// under the needle.
func (p *Prompt) TakesReading() bool {
	switch p.Waits {
	case ForReading, ForSize: // which is answered by a number too
		return true
	case ForWind:
		return p.Wind.How != ByCollar || p.Wind.Reads
	case ForChore:
		return p.Chore.Step.measured() || p.Chore.May || p.Chore.Seen
	case ForNothing, ForLoad, ForAccept, ForDrift, ForCheck, ForBack, ForAgain, ForMoved:
	}
	return false
}

// Needle reports whether a number is what the dial shows, and no coordinate, radius or answer.
func (p *Prompt) Needle() bool {
	switch p.Waits {
	case ForReading:
		return !p.Reading.Touch
	case ForWind:
		return p.Wind.How == UnderNeedle || p.Wind.How == ByTap
	case ForChore:
		return p.Chore.Step == LockHead
	case ForNothing, ForLoad, ForAccept, ForDrift, ForCheck, ForBack, ForAgain, ForSize, ForMoved:
	}
	return false
}

// measured reports whether a number is a length that was measured on the work, and not read off an instrument in its own
// figures.
func (p *Prompt) measured() bool {
	return p.Waits == ForChore && (p.Chore.Step.row().answer == arcRadius || p.Chore.May)
}

// Station is the station whose dial is to be read; 0 where none is.
func (p *Prompt) Station() int {
	if p.Waits != ForReading || p.Reading.Touch {
		return 0
	}
	return p.Reading.Station
}

// TakesNumber reports whether a number is an answer: a reading, or the digit of a choice.
func (p *Prompt) TakesNumber() bool { return p.Waits == ForCheck || p.TakesReading() }

// Prompt returns what the session waits for. It is meaningful once nothing is due any more (see
// [Follow]).
func (s *State) Prompt() Prompt { return s.question().prompt(s) }

// meet has the head or the table set so that the reference is met at a bearing.
func (p *Position) meet(s *State, b geom.Bearing) {
	if s.SetUp().Under().Table {
		p.turn(s, s.Set.Job.Setup.Stands(b))
		return
	}
	p.Set, p.Ring = true, s.RingAt(b)
}

// turn has the table turned counter-clockwise by t.
func (p *Position) turn(s *State, t geom.Bearing) {
	p.Set, p.Table, p.Ring = true, t, s.Set.Machine.Table.Shows(t)
}
