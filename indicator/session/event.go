// Package session is the whole job at the machine without a screen: what a person may say, what
// follows from it, and the state that both lead to. State is a fold over events; the live
// session, a resumed one and a replay are the same fold over the same journal.
package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

// Event is one thing that happened or was decided. Events are plain data: they hold what was
// put in and what was told, never only what can be computed again.
type Event interface{ kind() string }

// Opened begins a setting. It holds everything the fold needs, so that a replay never depends on
// today's files.
type Opened struct {
	Program string      `json:"program"` // name and version of the program that opened it
	Job     job.Job     `json:"job"`
	Machine job.Machine `json:"machine"`
	// By is the operator's initials, where they want them on record; nothing else of a person is kept.
	By    string `json:"by,omitempty"`
	Files []File `json:"files,omitempty"`
	// Arc is the arc of a plan that the setting is for, nil where the job stands alone.
	Arc *job.Arc `json:"arc,omitempty"`
	// Outline is the part that the arc belongs to, as it was drawn: closed and open runs of elements.
	Outline []geom.Chain `json:"outline,omitempty"`
	// Lessons is what the machine has taught before, and Loaded which slides stand loaded.
	Lessons []Lesson `json:"lessons,omitempty"`
	Loaded  []string `json:"loaded,omitempty"`
	// Arcs are those that were cut and measured before, which may teach this setting.
	Arcs []Finished `json:"arcs,omitempty"`
	// Steps says that the order at the machine is asked for step by step, before and behind the sweeps.
	Steps bool `json:"steps,omitempty"`
	// Bearings says by which figures places are told.
	Bearings Bearings `json:"bearings,omitempty"`
}

// File names a file the setting was read from, with a digest, so that a resumed session can say
// that it has changed since.
type File struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Place is a point by the readouts of x and y, millimetres.
type Place struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Loaded: a slide was wound off and brought up in its take-up way.
type Loaded struct {
	Slide string `json:"slide"`
}

// Took: a reading was taken. Bearing is where the reference is met, radians; Reading is
// millimetres.
type Took struct {
	Bearing geom.Bearing `json:"bearing"`
	Reading float64      `json:"reading"`
	// At is what the readout showed where the tip touched, in setup points; null else. Bearing then is about
	// where that was to be, seen from the middle.
	At *Place `json:"at,omitempty"`
	// Again is the station (from 1) whose reading this one replaces; 0 for a new station.
	Again int `json:"again,omitempty"`
	// Corrected says that the value proposed for a doubted reading was taken, and the dial not
	// read again.
	Corrected bool `json:"corrected,omitempty"`
}

// Skipped: a station was left out; Off says that the needle stood beyond the dial there.
type Skipped struct {
	Bearing geom.Bearing `json:"bearing"`
	Off     Off          `json:"off,omitempty"`
	// Again is the station (from 1) whose doubted reading is left out; 0 for a new station.
	Again int `json:"again,omitempty"`
}

// Doubted: a reading does not fit the others, and its station is asked for once more. WouldBe is
// null where no cause is known.
type Doubted struct {
	Station int             `json:"station"` // from 1
	Because indicator.Cause `json:"because"`
	WouldBe *float64        `json:"would_be"`
	// WouldBeAt is the point that is proposed, in setup points.
	WouldBeAt *Place `json:"would_be_at,omitempty"`
}

// Kept: the doubted reading stands as it is.
type Kept struct {
	Station int `json:"station"`
}

// ClosingAsked asks for the first station once more, behind all others. Wish says that the person
// wanted it.
type ClosingAsked struct {
	Wish bool `json:"wish,omitempty"`
}

// Drifted: the closing reading shows that the readings drifted. Change is by how much from the
// first to the last of them, millimetres of reading. It waits to be taken out, kept, or swept again.
type Drifted struct {
	Change float64 `json:"change"`
}

// Evened: the sweep is fitted with a steady drift as one unknown more.
type Evened struct{}

// StoodAt: a slide's scale was read where it stands: its readout, or its collar's turns and divisions
// as a length, millimetres.
type StoodAt struct {
	Slide string  `json:"slide"`
	At    float64 `json:"at"`
}

// Off says beyond which end of the dial the needle stood.
type Off string

// The two ends: the tip pressed beyond the dial's travel, and the tip standing free.
const (
	NotOff  Off = ""
	Pressed Off = "pressed"
	Free    Off = "free"
)

// Undone takes back the last entry.
type Undone struct{}

// Restarted begins the sweep anew; its readings stay in the journal.
type Restarted struct{}

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

// Told: a wind was told.
type Told struct {
	Step int        `json:"step"` // from 1
	Of   int        `json:"of"`
	Wind slide.Wind `json:"wind"`
	// Park says where to park the head and which reading to stop at; null where the wind goes by the
	// collar.
	Park *Park `json:"park,omitempty"`
	// Table says how far to turn the table counter-clockwise for a wind by the collar, radians, where the
	// slide's handwheel cannot be reached everywhere.
	Table *geom.Bearing `json:"table,omitempty"`
	// Tap says that the work is tapped into place; Wind.Travel is then how far it is to go, and the wind has no
	// moves. How many taps it will take nobody knows: Of is Step.
	Tap *Tap `json:"tap,omitempty"`
	// SetOff says that the slide carries the spindle off the axis by the swing radius; Back, home again.
	SetOff bool `json:"set_off,omitempty"`
	Back   bool `json:"back,omitempty"`
	// Open says that the trial goes on behind this wind until Reswept ends it. Older journals do not
	// say so, and their trials end with wind Of.
	Open bool `json:"open,omitempty"`
}

// Reswept: nothing is left to wind in this trial, and the next sweep begins.
type Reswept struct{}

// Wound: the wind that was told has been done. Reading is what the needle shows, the head still
// parked and the slide locked, millimetres; null where nobody said.
type Wound struct {
	Slide   string   `json:"slide"`
	Reading *float64 `json:"reading,omitempty"`
	// At is the coordinate at which the slide stands, where it is sent to one and somebody has read it.
	At *float64 `json:"at,omitempty"`
}

// Settled: nothing is left to wind.
type Settled struct {
	Radius indicator.Verdict `json:"radius"`
	Centre indicator.Verdict `json:"centre"`
}

// Accepted ends the setting. The figures are a witness of what the screen showed; the fold
// computes its own. Lengths are millimetres; Swing is null where no swing radius is known.
type Accepted struct {
	Swing   *float64   `json:"swing"`
	Centre  [2]float64 `json:"centre"`
	Program string     `json:"program"`
	// Goal is the centre's coordinates by the readout, in setup points.
	Goal *Place `json:"goal,omitempty"`
}

// Noted: a remark for the journal.
type Noted struct {
	Text string `json:"text"`
	// About is the event, from 1, that a later remark is about; 0 where it is about what stood when it was
	// written.
	About int `json:"about,omitempty"`
}

func (Opened) kind() string       { return "opened" }
func (Loaded) kind() string       { return "loaded" }
func (Took) kind() string         { return "reading" }
func (Skipped) kind() string      { return "skipped" }
func (Doubted) kind() string      { return "doubted" }
func (Kept) kind() string         { return "kept" }
func (ClosingAsked) kind() string { return "closing" }
func (Drifted) kind() string      { return "drifted" }
func (Evened) kind() string       { return "evened" }
func (StoodAt) kind() string      { return "at" }
func (Reswept) kind() string      { return "resweep" }
func (Undone) kind() string       { return "undone" }
func (Restarted) kind() string    { return "again" }
func (Swept) kind() string        { return "swept" }
func (Told) kind() string         { return "told" }
func (Wound) kind() string        { return "wound" }
func (Settled) kind() string      { return "settled" }
func (Accepted) kind() string     { return "accepted" }
func (Noted) kind() string        { return "note" }
