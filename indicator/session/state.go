package session

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
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
	Winds  *setup.Done
	Before *Trial
	// Void says that the winds teach nothing: what was stated of them has been put right, or they were wound back.
	Void bool
}

// State is everything the session knows. It is a value: [State.Apply] returns a new one and
// leaves the old one as it was, so a replay may keep every state it has passed.
type State struct {
	Set    *Opened // the opening event; nil before
	Phase  Phase
	Trial  int // from 1
	Past   *Trial
	Events int // applied since the journal began
	Notes  int
	Ticks  []int // the elements of the plate that were made by hand, in all settings of the journal

	ofSweep
	ofWinds
	ofLessons
	ofOrder
	ofStatements
	ofBump
	ofParts

	// TakenBack is the last wind that was confirmed and taken back, nil where none was, or where a later one, or a sweep, has shown
	// where its slide stands: only the record has gone back, the hand may have wound.
	TakenBack *Told

	// Trembling is what the readings of an indicator with a cable tell of its needle.
	Trembling Trembling

	log *logged // the setting's events so far, for undo
	// sealed is the last event of an earlier program that left the setting accepted: a live session's, and in no journal.
	sealed int
	// fitted is the fit of the sweep, where a live session or a measured cut has kept it: nothing that the rest does not say.
	// Later states go on with it as long as it is theirs.
	fitted *fitted
}

// ofSweep is the sweep that is open, or was closed last, and what it is fitted with.
type ofSweep struct {
	Sweep Sweep
	// Predicted is what the circle had come to when the last trial ended, nil before the first is over.
	Predicted *indicator.Estimate
	// Doubt is the reading that does not fit the others and waits to be read again, replaced or
	// kept; nil most of the time.
	Doubt *Doubted
	// Contradiction is the touched radius that contradicts what is stated and waits for an answer, nil most of the time; Sized
	// is the radius that the reference really has by the person's word, nil where nobody has said.
	Contradiction *Contradicted
	Sized         *Sized
	// Hold is the swing radius that is held by the person's word, nil where the job's setup stands.
	Hold *Held
	// Bezel is what the dial's figures have been shifted by since the setting was opened, millimetres.
	Bezel float64
	// Raising is a second sweep at another height, nil most of the time; Tilt is what such a one has found.
	Raising *Raising
	Tilt    *Tilted
}

// ofWinds is what is wound behind the sweep.
type ofWinds struct {
	Loads int   // slides loaded so far, in the order of Job.Needs
	Told  *Told // the wind that waits to be done
	// Wonder is a number at this wind that may be the next station's reading, and waits for a word; nil most of the time.
	Wonder *Wondered
	Winds  *setup.Done // winds done since the sweep
	// Believed is the closed sweep's circle, moved by the winds since, nil before the first of them.
	Believed *indicator.Estimate
	// Looked are the looks at the needle between these winds, in their order. The list is shared, and never changed.
	Looked []Looked
	// SetOff is how far the cross slides have carried the axis off the place where the sweep was taken.
	SetOff setup.Offs
	// Crossed is how far the cross slides have been wound in all since the tip was last rocked to its turning point,
	// millimetres.
	Crossed float64
	// Stands is where the slides are known to stand by their own scales, in the order of the machine's file.
	Stands [maxSlides]setup.Stand
	// Collars are the collars' figures as they were read, as lengths within one turn when they were.
	Collars [maxSlides]setup.Stand
}

// ofLessons is what the machine has taught.
type ofLessons struct {
	// Lessons are of the slides, and Odd the trials of this setting that went otherwise.
	Lessons []setup.Taught
	Odd     []Odd
	// Arcs are those that were cut and measured so far, of earlier settings too; Bias is what the swing radius is set
	// larger by than the job asks for.
	Arcs []Finished
	Bias Biased
	// Forms are what sweeps have shown of the references, of earlier settings too.
	Forms []Formed
	// Senses are the newest sign check of each slide and of the tip.
	Senses []Sensed
}

// ofOrder is how far the order at the machine has come.
type ofOrder struct {
	// Worked are the chores behind of the list that the session is in; HeadLocked is the head's lock
	// closed at the end of this sweep.
	Worked     []Worked
	HeadLocked *Worked
	// RadiusSet is the swing radius that was set by scale for a trial cut, 0 where nobody has said another than the one told.
	RadiusSet float64
	// Readying says that the chores with the tip in, ahead of the sweep, are on.
	Readying bool
}

// Apply folds one event into the state. It is total and pure: whatever it is given, it neither
// fails nor looks at anything but its arguments.
func (s State) Apply(e Event) State {
	s.step(e)
	return s
}

// step is Apply in place. What a row is handed lies on the heap, so who applies many events does it with one state.
func (s *State) step(e Event) {
	s.Events++
	r := e.row()
	if _, back := e.(Undone); back {
		r.apply(s, e)
		return
	}
	if _, opens := e.(Opened); s.Set == nil && !opens {
		return // a damaged journal: there is no setting that this could belong to
	}
	r.apply(s, e)
	if _, wound := e.(Wound); wound || s.Phase != Winding && s.Phase != Cutting {
		s.TakenBack = nil
	}
	s.note(e, r.entry(e))
}
