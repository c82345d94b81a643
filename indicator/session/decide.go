package session

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
)

// Command is what a person (or a program in their place) wants.
type Command interface{ command() }

type (
	// Open begins a setting.
	Open struct{ Opened }
	// Take enters what the dial shows at the station that is asked for, millimetres.
	Take struct{ Reading float64 }
	// Skip leaves the station out; Off says that the needle is beyond the dial there.
	Skip struct{ Off Off }
	// Confirm says that the load or the wind that was told has been done.
	Confirm struct{}
	// Undo takes back the last entry.
	Undo struct{}
	// Restart begins the sweep anew.
	Restart struct{}
	// Enough closes the sweep with what is there.
	Enough struct{}
	// Accept ends the setting.
	Accept struct{}
	// Keep says that the doubted reading stands as it is.
	Keep struct{}
	// AskClosing asks for the first station once more.
	AskClosing struct{}
	// Even takes the drift out of the readings.
	Even struct{}
	// Correct takes the value that is proposed for the doubted reading.
	Correct struct{}
	// At says where a slide's scale stands, millimetres.
	At struct {
		Slide string
		At    float64
	}
	// Note writes a remark into the journal, about an event of it, or with 0 about what stands.
	Note struct {
		Text  string
		About int
	}
)

func (Open) command()       {}
func (Take) command()       {}
func (Skip) command()       {}
func (Confirm) command()    {}
func (Undo) command()       {}
func (Restart) command()    {}
func (Enough) command()     {}
func (Accept) command()     {}
func (Keep) command()       {}
func (AskClosing) command() {}
func (Even) command()       {}
func (Correct) command()    {}
func (At) command()         {}
func (Note) command()       {}

// Refusal says why a command cannot be carried out: what was seen, what is needed; Hint says
// what to do. Nothing has happened.
type Refusal struct {
	Because string
	Hint    string
}

func (r *Refusal) Error() string { return r.Because }

func refuse(hint, format string, args ...any) error {
	return &Refusal{Because: fmt.Sprintf(format, args...), Hint: hint}
}

// Decide holds every rule: it returns the event that a command causes in a state, or a
// *[Refusal]. It changes nothing.
func Decide(s State, c Command) (Event, error) {
	if o, ok := c.(Open); ok {
		return decideOpen(s, o)
	}
	note, remark := c.(Note)
	switch {
	case s.Phase == Unopened:
		return nil, refuse("open one with a job and a machine file", "no setting is open")
	case remark: // at any time, behind the accepted setting too
		return decideNote(&s, note)
	case s.Phase == Ended:
		return nil, refuse("begin the next setting", "the setting is accepted and closed")
	}
	if s.touches() && needsNeedle(c) {
		return nil, refuse(s.hint(), "points are touched and read off the readouts, and have no needle for that")
	}
	switch c := c.(type) {
	case Take:
		if _, _, _, ok := s.chore(); ok && s.Told == nil {
			return decideChore(s, false, &c.Reading)
		}
		return decideReading(s, c.Reading)
	case TouchPoint:
		return decideTouch(s, c.At)
	case Skip:
		if _, _, _, ok := s.chore(); ok && c.Off == NotOff {
			return decideChore(s, true, nil)
		}
		if err := c.Off.check(); err != nil {
			return nil, refuse("", "%v", err)
		}
		if b, ok := s.NextBearing(); ok {
			return Skipped{Bearing: b, Off: c.Off, Again: s.again()}, nil
		}
		return nil, refuse(s.hint(), "no station is asked for")
	case Confirm:
		return decideConfirm(s)
	case Undo:
		if s.LastEntry() == "" {
			return nil, refuse("", "there is no entry to take back")
		}
		return Undone{}, nil
	case Restart:
		switch s.Phase {
		case Preparing, Loading:
			return nil, refuse(s.hint(), "the sweep has not begun")
		case Cutting:
			return nil, refuse(s.hint(), "the setting is accepted")
		case Unopened, Sweeping, Winding, SettledDown, Ended:
		}
		return Restarted{}, nil
	case Enough:
		return decideEnough(s)
	case Accept:
		return decideAccept(s)
	case Keep:
		switch {
		case s.Sweep.Drift != nil:
			return Kept{Station: s.Sweep.closed()}, nil
		case s.Doubt == nil:
			return nil, refuse(s.hint(), "no reading is in doubt")
		}
		return Kept{Station: s.Doubt.Station}, nil
	case AskClosing:
		return decideClosing(s)
	case Hold:
		return decideHold(s, c)
	case Release:
		if h := s.setup(); h.HeldRadius == 0 || !s.canHold() {
			return nil, refuse(s.hint(), "no sweep stands that a held radius serves")
		}
		return Released{}, nil
	case Bias:
		return decideBias(s, c)
	case Even:
		if s.Sweep.Drift == nil {
			return nil, refuse(s.hint(), "no drift waits to be taken out")
		}
		return Evened{}, nil
	case Correct:
		return decideCorrect(s)
	case At:
		return decideAt(s, c)
	case Bezel:
		return decideBezel(s, c)
	case Raise:
		return decideHeight(s, c)
	case Sense:
		return decideSense(s, c)
	}
	return nil, refuse("", "unknown command %T", c)
}

func decideOpen(s State, o Open) (Event, error) {
	if s.Phase != Unopened && !s.Accepted() {
		return nil, refuse("go on with it, or accept it", "a setting is open already")
	}
	if n := o.Job.Sweep.Stations; n < fit.MinStations || n > indicator.MaxStations {
		return nil, refuse("", "the sweep has %d stations, need %d to %d", n, fit.MinStations, indicator.MaxStations)
	}
	if len(o.Job.Sweep.Obstacles) > 0 && o.Job.Sweep.Left() <= 0 {
		return nil, refuse("", "the obstacles leave nothing of the sweep, need a part of it")
	}
	if err := o.Bearings.Check(); err != nil {
		return nil, refuse("", "%v", err)
	}
	if err := job.Match(&o.Job, &o.Machine, "machine"); err != nil {
		return nil, refuse("", "%v", err)
	}
	o.Job.Setup.Taps = job.Taps(&o.Job, &o.Machine)
	if s.Accepted() && s.Set.Machine.Name == o.Machine.Name {
		// What was loaded for the last setting has been brought up the take-up way ever since, and
		// what it taught is known, wherever the store of it may be.
		o.Opened.Loaded = s.loaded()
		if len(o.Opened.Lessons) == 0 {
			o.Opened.Lessons = s.Lessons
		}
	}
	if s.Accepted() {
		o.Opened.Arcs = s.Arcs // those that the first opening brought with it are among them
	}
	return o.Opened, nil
}

func decideAt(s State, c At) (Event, error) {
	names := make([]string, len(s.Set.Machine.Slides))
	for i, sl := range s.Set.Machine.Slides {
		if names[i] = sl.Name; sl.Name == c.Slide && !math.IsNaN(c.At) && !math.IsInf(c.At, 0) {
			return StoodAt(c), nil
		}
	}
	return nil, refuse("at SLIDE COORDINATE, like at x 23.415", "slide %q at %v, need one of %s and a number", c.Slide, c.At, strings.Join(names, ", "))
}

func decideReading(s State, reading float64) (Event, error) {
	if s.touches() || (s.Told != nil && s.goesTo()) {
		return decideStop(s, reading)
	}
	b, ok := s.NextBearing()
	parked := s.Phase == Winding && s.Told != nil && s.Told.Park != nil
	switch {
	case ok || parked:
	case s.Phase == Winding:
		return nil, refuse(s.hint(), "this wind goes by the collar, and no reading is asked for")
	default:
		return nil, refuse(s.hint(), "no reading is asked for")
	}
	if parked && s.Told.Tap != nil {
		return decideTapped(s, reading)
	}
	if err := s.checkDial(reading, "if the needle is beyond the dial, say so (off pressed, off free)"); err != nil {
		return nil, err
	}
	if parked {
		if p := s.Told.Park; math.Abs(reading-p.Goal) > mostShift*math.Abs(p.Act) {
			u := s.Set.Job.Unit
			if p.stoodStill(reading) {
				return nil, refuse("wound as far as told, and the needle stood still? then this handwheel moves another slide, or the ring's zero is a quarter turn off; else wind on",
					"the needle hardly went, from %.4g to %.4g %v, need it to go to %.4g %v", u.From(p.Now), u.From(reading), u, u.From(p.Goal), u)
			}
			if p.wentBack(reading) {
				return nil, refuse("was the other way wound? else touch, or what clockwise does to this slide, is stated wrong: sense "+s.Told.Wind.Slide+" tells which",
					"the needle went the other way, from %.4g to %.4g %v, need it to go to %.4g %v", u.From(p.Now), u.From(reading), u, u.From(p.Goal), u)
			}
			hint := "wind on until the needle shows the goal, or look again; done confirms the wind without a reading"
			if p.Past != nil {
				hint = "wind on until the needle shows the goal; if it never went where to turn back, touch, or what clockwise does to this slide, is stated wrong: sense " + s.Told.Wind.Slide + " tells which"
			}
			return nil, refuse(hint,
				"%.6g %v is %.4g %v beside the goal of %.4g %v, need it within %.4g %v", u.From(reading), u, u.From(math.Abs(reading-p.Goal)), u, u.From(p.Goal), u, u.From(mostShift*math.Abs(p.Act)), u)
		}
		return Wound{Slide: s.Told.Wind.Slide, Reading: &reading}, nil
	}
	return Took{Bearing: b, Reading: reading, Again: s.again()}, nil
}

// checkDial refuses a reading that the dial cannot show.
func (s *State) checkDial(reading float64, hint string) error {
	d, u := s.Set.Job.Dial, s.Set.Job.Unit
	err := d.Check(reading)
	var beyond *indicator.RangeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &beyond):
		return refuse(hint, "reading %.6g %v is beyond the dial, need %.6g to %.6g %v", u.From(reading), u, u.From(d.From), u.From(d.To), u)
	}
	return refuse("", "%v", err)
}

func decideCorrect(s State) (Event, error) {
	switch {
	case s.Doubt == nil:
		return nil, refuse(s.hint(), "no reading is in doubt")
	case s.Doubt.WouldBeAt != nil:
		return Took{Bearing: s.Sweep.Stations[s.Doubt.Station-1].Bearing, At: s.Doubt.WouldBeAt, Again: s.Doubt.Station, Corrected: true}, nil
	case s.Doubt.WouldBe == nil:
		return nil, refuse(s.hint(), "no value is proposed for station %d", s.Doubt.Station)
	}
	e, err := decideReading(s, *s.Doubt.WouldBe)
	if took, ok := e.(Took); ok {
		took.Corrected = true
		e = took
	}
	return e, err
}

func decideConfirm(s State) (Event, error) {
	switch {
	case s.Phase == Loading:
		return Loaded{Slide: s.Set.Job.Needs()[s.Loads]}, nil
	case s.Told != nil && s.Told.Tap != nil:
		return nil, refuse(s.hint(), "a tap goes as far as it goes, need what the needle shows now")
	case s.Told != nil:
		return Wound{Slide: s.Told.Wind.Slide}, nil
	}
	return decideChore(s, false, nil)
}

func decideEnough(s State) (Event, error) {
	if s.Phase != Sweeping {
		return nil, refuse(s.hint(), "no sweep is open")
	}
	if _, ok := s.Pair(); ok && s.Doubt == nil && !s.Sweep.Paired {
		return Paired{}, nil
	}
	if n := s.Sweep.Readings(); n < 3 {
		return nil, refuse("take more stations", "%d readings, need at least 3", n)
	}
	if s.Sweep.Drift != nil {
		return nil, refuse(s.hint(), "the readings drifted, and nothing is decided on it")
	}
	if _, err := s.Fit(); err != nil {
		return nil, refuse("undo the reading that is wrong, or begin the sweep again", "%v", err)
	}
	return Swept{Why: ByPerson}, nil
}

// decideClosing lets the first station be read once more, in a sweep that has enough readings to
// tell a drift from a centre error.
func decideClosing(s State) (Event, error) {
	switch n := s.Sweep.Readings(); {
	case s.Phase != Sweeping:
		return nil, refuse(s.hint(), "no sweep is open")
	case s.Doubt != nil || s.Sweep.Drift != nil:
		return nil, refuse(s.hint(), "a reading waits for a decision first")
	case s.Sweep.Closing:
		return nil, refuse(s.hint(), "the closing reading is asked for already")
	case n <= fit.MinStations:
		return nil, refuse("take more stations first", "%d readings, need at least %d for a closing reading to tell anything", n, fit.MinStations+1)
	case s.Sweep.N >= indicator.MaxStations:
		return nil, refuse(s.hint(), "the sweep holds %d entries, need room for one more", s.Sweep.N)
	}
	return ClosingAsked{Wish: true}, nil
}

func decideAccept(s State) (Event, error) {
	switch {
	case s.Phase == Cutting:
		return nil, refuse(s.hint(), "the setting is accepted")
	case s.Phase != SettledDown:
		return nil, refuse(s.hint(), "nothing has settled yet")
	case s.headDue():
		return nil, refuse("close it and read the dial, or skip", "the head's lock has not been closed and read")
	}
	f, err := s.Fit()
	if err != nil {
		return nil, refuse("begin the sweep again", "%v", err)
	}
	a := Accepted{Centre: [2]float64{f.Circle.Centre.X, f.Circle.Centre.Y}, Program: s.Set.Program}
	if v, ok := s.Swing(&f); ok {
		a.Swing = &v.V
	}
	if s.touches() {
		t, _ := s.Located()
		g, _ := s.Standing()
		a.Goal, a.Centre = (*Place)(&t.Centre), [2]float64{g.Circle.Centre.X, g.Circle.Centre.Y}
	}
	return a, nil
}

// Follow returns the decision that is due in a state, if one is: a sweep that has to be closed,
// a wind that has to be told, a setting that has settled. The live session appends these after
// every entry until none is due, and again on resume, so that a journal cut between an entry and
// its consequences goes on where it was.
func Follow(s State) (Event, bool) {
	switch {
	case s.Phase == Sweeping && s.Sweep.N == 0 && s.SetOff.Winds > 0:
		return s.setBack(), true
	case s.Phase == Sweeping && s.Sweep.Closed == "":
		return s.due()
	case s.Raising != nil && s.Phase == Sweeping:
		return s.tilt(), true
	case s.Phase == Sweeping, s.Phase == Winding && s.Told == nil:
		return s.nextWind(), true
	case s.Phase == Cutting:
		if told, ok := s.stockWind(); ok {
			return told, true
		}
	}
	return nil, false
}

// again is the station that is asked for once more, 0 where a new one is.
func (s *State) again() int {
	if s.Doubt == nil {
		return 0
	}
	return s.Doubt.Station
}
