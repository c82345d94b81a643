package session

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Phase is what the session waits for.
type Phase uint8

// The phases, in the order of the job.
const (
	Unopened Phase = iota
	Preparing
	Loading
	Sweeping
	Winding
	SettledDown
	Cutting // accepted; from the change-over to the checked arc
	Ended
)

// Trial is a finished sweep and the winds that followed it. Trials are an immutable list,
// newest first.
type Trial struct {
	Number int
	Sweep  Sweep
	Winds  *Done
	Before *Trial
}

// Done is a list of winds that were done, newest first.
type Done struct {
	Wind slide.Wind
	// Park is where the head stood, nil where the wind went by the collar; Reading what the needle
	// showed at the end, nil where nobody said.
	Park    *Park
	Reading *float64
	// Tap is where the work was tapped, nil for a wind.
	Tap *Tap
	// At is the coordinate where the slide has been stopped, nil where nobody said.
	At *float64
	// Bezel is what the dial's figures had been shifted by then.
	Bezel  float64
	Before *Done
}

// State is everything the session knows. It is a value: [State.Apply] returns a new one and
// leaves the old one as it was, so a replay may keep every state it has passed.
type State struct {
	Set    *Opened // the opening event; nil before
	Phase  Phase
	Trial  int // from 1
	Loads  int // slides loaded so far, in the order of Job.Needs
	Sweep  Sweep
	Told   *Told // the wind that waits to be done
	Winds  *Done // winds done since the sweep
	SetOff SetOff
	Past   *Trial
	Events int // applied since the journal began
	Notes  int
	// Worked are the chores behind of the list that the session is in; HeadLocked is the head's lock
	// closed at the end of this sweep.
	Worked     []Worked
	HeadLocked *Worked
	// Believed is the closed sweep's circle, moved by the winds since, nil before the first of them;
	// Predicted is what it had come to when the last trial ended, nil before the first is over.
	Believed, Predicted *indicator.Found
	// Doubt is the reading that does not fit the others and waits to be read again, replaced or
	// kept; nil most of the time.
	Doubt *Doubted
	// Hold is the swing radius that is held by the person's word, nil where the job's setup stands.
	Hold *Held

	// Bias is what the swing radius is set larger by than the job asks for; Arcs are those that were cut and
	// measured so far, of earlier settings too.
	Bias Biased
	Arcs []Finished

	// Bezel is what the dial's figures have been shifted by since the setting was opened, millimetres.
	Bezel float64
	// Stands is where the slides are known to stand by their own scales, in the order of the machine's
	// file; Lessons is what the machine has taught, and Odd the trials of this setting that went otherwise.
	Stands  [maxSlides]Stand
	Lessons []Lesson
	Odd     []Odd
	// Senses are the newest sign check of each slide and of the tip.
	Senses []Sensed
	// Raising is a second sweep at another height, nil most of the time; Tilt is what such a one has found.
	Raising *Raising
	Tilt    *Tilted

	log *logged // the setting's events so far, for undo
}

// Apply folds one event into the state. It is total and pure: whatever it is given, it neither
// fails nor looks at anything but its arguments.
func (s State) Apply(e Event) State {
	s.Events++
	if _, undo := e.(Undone); undo {
		return s.undone()
	}
	if _, opens := e.(Opened); s.Set == nil && !opens {
		return s // a damaged journal: there is no setting that this could belong to
	}
	s.fold(e)
	s.note(e, IsEntry(e))
	return s
}

// fold carries an event out.
func (s *State) fold(e Event) {
	switch e := e.(type) {
	case Opened:
		*s = State{Set: &e, Phase: Preparing, Trial: 1, Events: s.Events, Lessons: e.Lessons, Arcs: e.Arcs}
		s.onward()
	case Swept:
		s.Sweep.Closed, s.Sweep.Closing, s.Sweep.Drift, s.Doubt = e.Why, false, nil, nil
		if s.Raising == nil {
			s.learnWinds()
		}
	case Told:
		if s.Told = &e; s.Phase != Cutting {
			s.Phase = Winding
		}
	case Settled:
		s.Phase = SettledDown
	case Reswept:
		s.endTrial()
	case Loaded:
		s.Loads++
		s.skipLoaded()
	case StoodAt:
		s.stands(e)
	case BezelSet:
		s.turned(e.by())
	case Raised:
		s.raised(e)
	case Tilted:
		s.tilted(e)
	case Sensed:
		s.sensed(e)
	case Doubted:
		s.doubt(e)
	case ClosingAsked:
		s.Sweep.Closing = true
	case Drifted:
		s.Sweep.Drift = &e
	case Held:
		s.hold(e)
	case Paired:
		s.Sweep.Paired = true
	case Released:
		s.hold(Held{})
	case Biased:
		s.bias(e)
	case Evened:
		s.Sweep.Even, s.Sweep.Drift = true, nil
	case Kept:
		if st := s.station(e.Station); st != nil {
			st.Kept = true
		}
		s.Doubt, s.Sweep.Drift = nil, nil
	case Took:
		s.put(s.entered(e), e.Again)
		if e.At != nil {
			s.stop(geom.Point(*e.At))
		}
	case Skipped:
		s.put(Station{Bearing: e.Bearing, Skipped: true, Off: e.Off}, e.Again)
	case Restarted:
		s.restart()
	case Wound:
		s.wound(e)
	case Accepted:
		s.learnRadius()
		s.Phase, s.Worked = Cutting, nil
		s.onward()
	case Worked:
		s.worked(e)
	case Noted:
		s.Notes++
	}
}

// maxSlides is how many slides a machine's file may describe.
const maxSlides = 8

// skipLoaded passes over the slides that stand loaded from an earlier setting.
func (s *State) skipLoaded() {
	needs := s.Set.Job.Needs()
	for s.Loads < len(needs) && slices.Contains(s.Set.Loaded, needs[s.Loads]) {
		s.Loads++
	}
	if s.Phase == Loading && (s.Loads >= len(needs) || s.touches()) { // touching goes both ways, and the readout shows where
		s.Phase = Sweeping
	}
}

// put adds an entry to the sweep, as far as there is room, or replaces the station that was asked
// for once more.
func (s *State) put(st Station, again int) {
	if !st.Skipped {
		s.Sweep.Taken++
		st.Order = s.Sweep.Taken
	}
	if again > 0 {
		if old := s.station(again); old != nil {
			st.Asked, st.Closing = true, old.Closing
			*old = st
		}
		s.Doubt = nil
		return
	}
	st.Closing, s.Sweep.Closing = s.Sweep.Closing, false
	if s.Sweep.N < indicator.MaxStations {
		s.Sweep.Stations = append(slices.Clip(s.Sweep.Stations), st)
		s.Sweep.N++
	}
}

// station returns an entry of the sweep by its number from 1, to be changed; nil where there is none.
func (s *State) station(n int) *Station {
	if n < 1 || n > s.Sweep.N {
		return nil
	}
	s.Sweep.own()
	return &s.Sweep.Stations[n-1]
}

// doubt asks for a station once more.
func (s *State) doubt(e Doubted) {
	if st := s.station(e.Station); st != nil {
		st.Asked = true
		s.Doubt = &e
	}
}

// surpriseAlarm is the rate at which a clean reading is called a surprise when it is entered.
const surpriseAlarm = 0.0005

// entered makes a station's entry of a reading: how far it came from what could be expected, and
// whether that is more than chance allows.
func (s *State) entered(e Took) Station {
	if e.At != nil {
		return s.touched(e)
	}
	x, dof := s.expect(e.Bearing)
	st := Station{Bearing: e.Bearing, Reading: e.Reading, OffBy: indicator.Value{V: e.Reading - x.V, U: x.U}, WouldBe: math.NaN()}
	if !(dof > 0) {
		return st
	}
	if math.Abs(st.OffBy.V) <= x.U {
		return st // inside the 95 % band, and so inside the wider one, which costs more to find
	}
	band := x.U * fit.Student(1-surpriseAlarm/2, dof) / fit.Coverage(dof)
	if math.Abs(st.OffBy.V) > band {
		st.Surprise = true
		st.Because, st.WouldBe = s.Set.Job.Dial.Misread(e.Reading, x.V, x.U)
	}
	return st
}

// wound notes the wind that was told as done, with the reading where it stopped if there is one.
func (s *State) wound(e Wound) {
	if s.Told == nil {
		return
	}
	if s.Phase == Cutting {
		s.goes(&Done{Wind: s.Told.Wind})
		c, _, _, _ := s.chore()
		s.worked(Worked{Step: c})
		return
	}
	if s.Told.SetOff {
		s.setOff(e)
		return
	}
	s.Winds = &Done{Wind: s.Told.Wind, Park: s.Told.Park, Tap: s.Told.Tap, Reading: e.Reading, At: e.At, Bezel: s.Bezel, Before: s.Winds}
	s.believe(s.Winds)
	s.goes(s.Winds)
	s.learnLock(s.Winds)
	last := s.Told.Step >= s.Told.Of && !s.Told.Open
	s.Told = nil
	if last {
		s.endTrial()
	}
}

// endTrial puts the sweep and its winds among the past trials, and begins the next sweep. It does
// nothing where no wind has been done.
func (s *State) endTrial() {
	if s.Winds == nil {
		return
	}
	s.carryHold()
	s.Past = &Trial{Number: s.Trial, Sweep: s.Sweep, Winds: s.Winds, Before: s.Past}
	s.Trial++
	s.Predicted, s.Believed = s.Believed, nil
	s.Winds, s.Sweep, s.Phase, s.Doubt, s.Told, s.HeadLocked = nil, Sweep{Bezel: s.Bezel}, Sweeping, nil, nil, nil
}

// restart drops the sweep. Where slides have been wound since it, a new trial begins, and what
// was predicted no longer holds.
func (s *State) restart() {
	if s.Winds != nil {
		s.endTrial()
		s.Predicted = nil
	}
	if s.Told != nil && s.Told.Tap != nil {
		s.Predicted = nil // a tap that drove the needle off the dial has no reading
	}
	s.Sweep, s.Phase, s.Told, s.Doubt, s.HeadLocked = Sweep{Bezel: s.Bezel}, Sweeping, nil, nil, nil
}

// Fit fits the open or just closed sweep. Errors are those of [indicator.Fit].
func (s *State) Fit() (indicator.Found, error) { return s.fitWithout(0) }

// fitWithout is Fit with one station (from 1) left out; 0 leaves out none.
func (s *State) fitWithout(station int) (indicator.Found, error) {
	if s.touches() {
		t, err := s.locatedWithout(station)
		return t.Found, err
	}
	var bearings [indicator.MaxStations]geom.Bearing
	var readings [indicator.MaxStations]float64
	n := 0
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		if st := &s.Sweep.Stations[i]; !st.Skipped && i != station-1 {
			bearings[n], readings[n] = st.Bearing, st.Reading+(s.Bezel-s.Sweep.Bezel)
			n++
		}
	}
	var places []float64
	if s.Sweep.Even && station == 0 {
		places = s.Sweep.places()
	}
	return indicator.FitDrift(s.Set.Job.Dial, s.setup(), bearings[:n], readings[:n], places)
}
