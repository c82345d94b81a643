package session

import (
	"errors"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
)

// Look begins a look at whether anything has moved since the setting was accepted: a few stations of its sweep are read once more.
// Kept says that the indicator has stood untouched since, so that its zero is what it was.
type Look struct{ Kept bool }

// Bumped: the look began.
type Bumped struct {
	Kept bool `json:"kept,omitempty"`
}

func (Bumped) row() *EventRow { return bumped }
func (Look) row() *CommandRow { return look }

var bumped = event[Bumped]{kind: "bumped", undo: "the look whether anything has moved",
	fits:  func(s *State, _ Bumped) error { return s.mayLook() },
	apply: func(s *State, e Bumped) { s.look(e) }}.row()

// untouched is the word for an indicator that has not been out.
const untouched = "untouched"

var look = command[Look]{word: "bumped", forms: []Phrase{
	{"bumped", "has anything moved since? three readings; the indicator was out"},
	{"bumped " + untouched, "the same by two, the indicator untouched since the sweep"}},
	keys: []string{"~"}, label: "bumped?", always: true, needle: needed[Look],
	choices: []Choice{{"o", "", "has anything moved? the indicator has been out, or may have been touched"},
		{"u", untouched, "has anything moved? the indicator is untouched since the sweep"}},
	asks: "has anything moved: o the indicator has been out since, u it is untouched?",
	parse: func(rest string, _ geom.Unit) (Look, error) {
		switch strings.TrimSpace(rest) {
		case "":
			return Look{}, nil
		case untouched:
			return Look{Kept: true}, nil
		}
		return Look{}, ErrUnknownWord
	},
	not:    func(n *Now) string { return unless(n.Behind && !n.Looking, notToLook(n.Looking)) },
	shown:  func(n *Now) bool { return n.Behind },
	decide: decideLook,
}.row()

func notToLook(looking bool) string {
	if looking {
		return "it is being looked at already"
	}
	return "nothing is accepted yet that could have moved"
}

// ofBump is the look whether anything has moved, nil most of the time.
type ofBump struct {
	Bump *Bump
	// Reswept says that the sweep is one behind a look for which the indicator was out: its zero says nothing of the radius any more,
	// which the offset slide holds.
	Reswept bool
	// Made are the steps that were behind when that sweep began.
	Made []Worked
}

// Bump is how far such a look has come. It is never changed, but replaced.
type Bump struct {
	Kept bool
	// Ahead and Behind are the chores by which the indicator comes in again, and the cutter; Worked are those behind of the list
	// that it is in.
	Ahead, Behind []Chore
	Worked        []Worked
	// Again are the stations that were read once more, or left out, in their order.
	Again []Reread
	// Found is what they tell, nil before; Asks says that a person has to say what is to be done about it.
	Found *Moved
	Asks  bool
}

func decideLook(s *State, c Look) (Event, error) {
	const unseen = "open a new setting, or see to it by other means"
	f, err := s.Fit()
	switch {
	case s.Bump != nil:
		return nil, refuse(s.hint(), "it is being looked at already")
	case !s.Accepted():
		return nil, refuse("again begins the sweep anew", "nothing is accepted yet that could have moved")
	case s.Unswept:
		return nil, refuse("part sweep begins the next part with a sweep", "this part was counted without a sweep to compare with")
	case s.SetOff != (setup.Offs{}):
		return nil, refuse(unseen, "the slides have carried the axis off what was swept, and the needle sees nothing there")
	case err != nil || f.Dof <= 0:
		return nil, refuse(unseen, "the accepted sweep knows no uncertainty to compare with")
	case len(s.lookable()) < advice.FewestAgain(c.Kept):
		return nil, refuse(unseen, "the accepted sweep has %d stations, need at least %d", len(s.lookable()), advice.FewestAgain(c.Kept))
	case c.Kept && s.hasDone(IndicatorOut):
		return nil, refuse("bumped alone takes three readings and needs no zero",
			"the indicator has been taken out since: its zero is not known")
	case c.Kept && s.SetUp().Under().Table:
		return nil, refuse("bumped alone takes three readings", "under a table that is turned the dial also shows how far the table "+
			"itself stands, need three readings to tell the two apart")
	}
	return Bumped(c), nil
}

// look begins one: behind an accepted setting that had ended it goes on with its steps until the look is over.
func (s *State) look(e Bumped) {
	b := &Bump{Kept: e.Kept}
	if s.Set.Steps {
		b.Ahead, b.Behind = s.lookAhead(), s.lookBehind()
	}
	s.Bump, s.Phase = b, Cutting
}

// lookAhead are the chores ahead of a look: the cutter up and out of the metal where it is in, the machine isolated, the indicator in
// where it is out, as in the sweep, and nothing in the way of a swing all round.
func (s *State) lookAhead() (ahead []Chore) {
	if s.hasDone(CutterIn) {
		ahead = append(ahead, LiftOut)
	}
	ahead = append(ahead, Isolate)
	if s.hasDone(CutterIn) {
		ahead = append(ahead, CutterOut)
	}
	if s.hasDone(SetStops) {
		ahead = append(ahead, StopsOff)
	}
	if s.hasDone(IndicatorOut) {
		ahead = append(append(ahead, IndicatorIn), s.rocksIn()...)
	}
	return ahead
}

// lookBehind is the change-over once more, as far as it had come: the stops set again, and the quill's zero found anew, for a cutter
// that has been out sits no higher or lower by chance only.
func (s *State) lookBehind() (behind []Chore) {
	for _, c := range []Chore{IndicatorOut, CutterIn, FreeSpindle, FreeHead, SetStops, DrySwing, DryTurn} {
		if s.hasDone(c) {
			behind = append(behind, c)
		}
	}
	if s.Deep() != nil && s.hasDone(Power) && s.hasDone(CutterIn) {
		behind = append(behind, TouchTop)
	}
	if s.spindleOn() {
		behind = append(behind, Power)
	}
	return behind
}

// resweep sets the look aside for a sweep of its own. Where the indicator was out, that sees the centre alone, and the radius is carried
// over as it was accepted: what was wound since for the stock stays on record among the steps.
func (s *State) resweep() {
	if !s.Bump.Kept || len(s.Worked) > 0 {
		s.Made = s.Worked
		s.keepRadius()
		s.Reswept = true
	}
	s.Past = &Trial{Number: s.Trial, Sweep: s.Sweep, Before: s.Past, Void: true}
	s.Trial++
	s.Crossed, s.Entered = 0, nil
	s.Bump, s.Worked, s.Predicted, s.Believed, s.Phase = nil, nil, nil, nil, Sweeping
}

// goesOn takes the steps up again where they were when a sweep behind a look began. Where the centre was wound since, a cut that was
// begun at this radius lies beside it and has left metal on one side: its passes come again, from the first.
func (s *State) goesOn() {
	if len(s.Made) == 0 {
		return
	}
	s.Worked, s.Made = s.Made, nil
	behind := s.lookBehind()
	if s.Crossed > 0 {
		s.Worked = s.beforeCut()
		behind = slices.DeleteFunc(behind, func(c Chore) bool { return c == Power && !s.spindleOn() })
	}
	s.Bump = &Bump{Behind: slices.Concat([]Chore{Isolate}, behind), Found: &Moved{}}
}

// beforeCut are the steps that are behind, without those from the power on for the cut at the radius that stands.
func (s *State) beforeCut() []Worked {
	from := 0
	for i, w := range s.Worked {
		if w.Step.winds() {
			from = i + 1
		}
	}
	if i := slices.IndexFunc(s.Worked[from:], func(w Worked) bool { return w.Step == Power }); i >= 0 {
		return s.Worked[:from+i]
	}
	return s.Worked
}

// hasDone reports whether a step of the list behind the acceptance has been done.
func (s *State) hasDone(c Chore) bool {
	return slices.ContainsFunc(s.Worked, func(w Worked) bool { return w.Step == c && !w.Skipped })
}

// spindleOn reports whether the power is on by the steps that were done.
func (s *State) spindleOn() (on bool) {
	for _, w := range s.Worked {
		switch {
		case w.Skipped:
		case w.Step == Power:
			on = true
		case w.Step == Isolate:
			on = false
		}
	}
	return on
}

// lookable are the stations of the accepted sweep that can be read once more, by their numbers.
func (s *State) lookable() (stations []int) {
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		if st := &s.Sweep.Stations[i]; !st.Skipped && !st.Closing {
			stations = append(stations, i+1)
		}
	}
	return stations
}

// lookAt is the station that is read next, by its number; 0 where none is left.
func (s *State) lookAt() int {
	var all []geom.Bearing
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		all = append(all, s.Sweep.Stations[i].Bearing)
	}
	var read, left []int
	for _, n := range s.lookable() {
		i := slices.IndexFunc(s.Bump.Again, func(r Reread) bool { return r.Station == n })
		switch {
		case i < 0:
			left = append(left, n-1)
		case !s.Bump.Again[i].Skipped:
			read = append(read, n-1)
		}
	}
	return advice.Again(all, read, left, s.Bump.Kept) + 1
}

// compared are the stations that were read once more, each with what it read in the sweep as the fit has it.
func (s *State) compared(f *indicator.Estimate) (out []indicator.Reread) {
	bearings, then, number := s.Readings(f)
	for _, r := range s.Bump.Again {
		if i := slices.Index(number, r.Station); i >= 0 && !r.Skipped {
			out = append(out, indicator.Reread{Bearing: bearings[i], Then: then[i], Now: r.Reading})
		}
	}
	return out
}

// lookChores are the chores that the look is in, and what became of those behind.
func (b *Bump) lookChores() (all []Chore, done []Worked) {
	switch {
	case b.Found == nil && len(b.Worked) < len(b.Ahead):
		return b.Ahead, b.Worked
	case b.Found != nil && !b.Asks:
		return b.Behind, b.Worked
	}
	return nil, nil
}

// mayLook refuses a look where none can begin.
func (s *State) mayLook() error {
	switch {
	case !s.Accepted():
		return errors.New("a look whether anything has moved, and nothing is accepted, need that first")
	case s.Bump != nil:
		return errors.New("a look whether anything has moved, and one is under way, need that ended first")
	case s.Unswept:
		return errors.New("a look whether anything has moved at a part without a sweep, need one to compare with")
	}
	return nil
}

var errNoLook = errors.New("no look whether anything has moved is under way, need one")

// lookReads refuses what only a look that is still read can be answered with.
func (s *State) lookReads() error {
	switch {
	case s.Bump == nil:
		return errNoLook
	case s.Bump.Found != nil:
		return errors.New("the look has found what it can, need one that is still read")
	}
	return nil
}

// lookAsks refuses what only a look that has found something can be answered with.
func (s *State) lookAsks() error {
	switch {
	case s.Bump == nil:
		return errNoLook
	case s.Bump.Found == nil:
		return errors.New("the look has found nothing yet, need that first")
	}
	return nil
}
