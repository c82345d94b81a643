// Package lines is what the program says of each step of a session: the same objects as JSON for a program
// and as plain text for a pipe or a screen reader. Units are applied here.
package lines

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Line is one thing the program says: an object for encoding/json, and text for a person.
type Line interface{ Text() string }

type (
	// Load asks for a slide to be wound off and brought up in its take-up way.
	Load struct {
		Say   string `json:"say"`
		Slide string `json:"slide"`
		Moves []Move `json:"moves"`
		Turn  *Turn  `json:"turn,omitempty"`
		shown slide.Slide
	}
	// Move is one movement of the hand.
	Move struct {
		Turn      slide.Turn    `json:"turn"`
		Turns     int           `json:"turns"`
		Divisions record.Number `json:"divisions"`
	}
	// Ask asks for a reading.
	Ask struct {
		Say      string        `json:"say"`
		Trial    int           `json:"trial"`
		Station  int           `json:"station"`
		Of       int           `json:"of"`
		Bearing  record.Number `json:"bearing"`
		Table    record.Number `json:"table"`
		Collar   record.Number `json:"collar"`
		Expected *record.Value `json:"expected"`
		Again    bool          `json:"again"`
		Closing  bool          `json:"closing,omitempty"`
		// Vernier is Collar as a table's ring is set with its vernier, where it has one.
		Vernier *setup.Mark `json:"vernier,omitempty"`
		// Handle is how the table's own handwheel comes there from where it stood; left out where the machine has none.
		Handle []record.HandleMove `json:"handle,omitempty"`
		// WholeNumbers is what a number without a point counts here, where that is not the job's unit.
		WholeNumbers indicator.WholeNumbers `json:"whole_numbers,omitempty"`
		by           session.Bearings
		// point says that it is a place to touch, in setup points, with what.
		point bool
		touch indicator.Touch
	}
	// FitLine is the fit of a sweep.
	FitLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
		record.Fit
		// Early is set of a sweep that was closed by itself before its planned stations were in.
		Early *Early `json:"early,omitempty"`
	}
	// WindLine tells one wind.
	WindLine struct {
		Say     string        `json:"say"`
		Trial   int           `json:"trial"`
		Step    int           `json:"step"`
		Of      int           `json:"of"`
		Slide   string        `json:"slide"`
		Travel  record.Number `json:"travel"`
		Moves   []Move        `json:"moves"`
		Park    *Park         `json:"park"`
		Collar  FromTo        `json:"collar"`
		Turn    *Turn         `json:"turn,omitempty"`
		Readout *FromTo       `json:"readout"`
		// SetOff: "out" where the slide carries the axis off the place of the sweep, by the swing radius or to the arc's
		// centre, "back" where over it again.
		SetOff string `json:"set_off,omitempty"`
		// TakenBack is said of a slide that stands as a wind that was confirmed and taken back has left it: see [RewoundWords].
		TakenBack string `json:"taken_back,omitempty"`
		// First is what the hand sees to before it winds: see [FirstWords]. Last is what it does behind the wind: see [LastWords].
		First string   `json:"first,omitempty"`
		Last  string   `json:"last,omitempty"`
		Notes []string `json:"notes"`
		// WholeNumbers: as of an [Ask].
		WholeNumbers indicator.WholeNumbers `json:"whole_numbers,omitempty"`
		unit         geom.Unit
		shown        slide.Slide
		// goes says that the slide is sent to a coordinate, in setup points; places is how finely that is shown.
		goes   bool
		places int
		heads  string // counts the wind and names its slide, or says what it carries where
		// from is the collar's figure at which the wind begins, empty where it is set to 0, and moves are those from figure to figure.
		from  string
		moves []string
	}
	// Park is where the head is parked for a wind, or the table, and what the needle shows: now, where to turn back
	// (null where the wind is not turned back), and where to stop, before the slide is locked.
	Park struct {
		Bearing     record.Number  `json:"bearing"`
		Table       record.Number  `json:"table"`
		Collar      record.Number  `json:"collar"`
		ReadingNow  record.Number  `json:"reading_now"`
		ReadingPast *record.Number `json:"reading_past"`
		ReadingGoal record.Number  `json:"reading_goal"`
		Vernier     *setup.Mark    `json:"vernier,omitempty"`
		places      int
		by          session.Bearings
	}
	// Turn is how far a table is turned counter-clockwise, degrees, for a handwheel that can be reached
	// there, and what its ring shows then.
	Turn struct {
		Table   record.Number `json:"table"`
		Collar  record.Number `json:"collar"`
		Vernier *setup.Mark   `json:"vernier,omitempty"`
	}
	// FromTo is where a scale stands before and after.
	FromTo struct {
		From record.Number `json:"from"`
		To   record.Number `json:"to"`
	}
	// SettledLine says that nothing is left to wind.
	SettledLine struct {
		Say     string         `json:"say"`
		Trial   int            `json:"trial"`
		Swing   *record.Value  `json:"swing"`
		Centre  *record.Centre `json:"centre"`
		Verdict record.Verdict `json:"verdict"`
		record.Assumed
		// Goal is where the centre lies by the readouts, in setup points; Centre is what is left to go.
		Goal *record.XY `json:"goal,omitempty"`
		// SetOff is what the doubt of a swing radius that a slide has set off the axis is made of, U95 each.
		SetOff *SetOffBudget `json:"set_off,omitempty"`
		// About is how the axis has come to an arc's centre about which there is nothing to sweep.
		About *AboutBudget `json:"about,omitempty"`
		// RadiusBy is "trial cut" where no sweep shows the swing radius, but a measured cut will.
		RadiusBy string `json:"radius_by,omitempty"`
		// Notes are what this sweep has not seen of a later part: the radius, which is carried over, and how the part lies.
		Notes  []string `json:"notes,omitempty"`
		unit   geom.Unit
		places int
	}
	// ResumedLine says where a resumed session stands.
	ResumedLine struct {
		Say      string `json:"say"`
		Trial    int    `json:"trial"`
		Readings int    `json:"readings"`
		// Note warns of a wind that may have been made before the break.
		Note string `json:"note,omitempty"`
	}
	// RefusedLine says why an input was not taken.
	RefusedLine struct {
		Say     string `json:"say"`
		Input   string `json:"input"`
		Because string `json:"because"`
		Hint    string `json:"hint,omitempty"`
	}
	// PausedLine ends the program with the session still open.
	PausedLine struct {
		Say          string `json:"say"`
		JournalLines int    `json:"journal_lines"`
	}
)

var nan = math.NaN()
