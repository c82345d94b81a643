package session

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// placed is an event that can be only in some states: fits says why it cannot be in this one, where nothing can ever have written it.
// What a rule of another time has let pass is no such thing: rules change, and journals stay.
type placed interface{ fits(s *State) error }

// possible refuses an event that cannot be where it stands.
func (s *State) possible(e Event) error {
	_, opens := e.(Opened)
	switch holds, ok := e.(placed); {
	case s.Set == nil && !opens:
		return errors.New("no setting is opened, need that before all else")
	case opens && s.Phase != Unopened && !s.Accepted():
		return errors.New("another setting is open, need that accepted first")
	case ok:
		if err := holds.fits(s); err != nil {
			return err
		}
	}
	if holds, ok := e.(gauged); ok {
		return holds.gauge().fits(s)
	}
	return nil
}

// recordable refuses an entry that no journal is read again with.
func (s *State) recordable(e Event) error {
	err := cmp.Or(e.row().check(e), s.possible(e))
	if err == nil {
		var line []byte
		if line, err = json.Marshal(e); err == nil {
			err = exactly(line, reflect.TypeOf(e))
		}
	}
	if err != nil {
		return refuse(s.hint(), "%v", err)
	}
	return nil
}

// Reading holds the lines of a journal, one after the other, against what stands before each.
type Reading struct {
	state State
	since time.Time // the setting was opened
	n     int       // lines that were read
}

// Next reads one line more. The error is a *[LineError], and the reading ends with it.
func (r *Reading) Next(line []byte) (Record, error) {
	rec, err := Decode(r.n+1, line)
	if err != nil {
		return Record{}, openedBy(err, line, &r.state, r.since)
	}
	if err := r.takes(&rec); err != nil {
		return Record{}, openedBy(err, line, &r.state, r.since)
	}
	r.state.step(rec.Event)
	return rec, nil
}

// takes holds a record against what stands before it. The error is a *[LineError].
func (r *Reading) takes(rec *Record) error {
	if err := r.state.possible(rec.Event); err != nil {
		return &LineError{Number: rec.N, Why: fmt.Sprintf("event %q: %v", Kind(rec.Event), err)}
	}
	if _, opens := rec.Event.(Opened); opens {
		r.since = rec.T
	}
	r.n = rec.N
	return nil
}

// hasSlide refuses a slide that the machine has not.
func (s *State) hasSlide(name string) error {
	if _, ok := s.Set.Machine.Slide(name); !ok {
		return fmt.Errorf("slide %q, need one of the machine's", name)
	}
	return nil
}

// hasStation refuses a station that the sweep has not; 0 is one that need not be.
func (s *State) hasStation(n, least int) error {
	if most := max(s.Sweep.N, least); n < least || n > most {
		return fmt.Errorf("station %d, need %d to %d", n, least, s.Sweep.N)
	}
	return nil
}

// shows refuses what no needle of the job's dial shows, wherever its bezel is turned to.
func (s *State) shows(reading float64) error {
	d := &s.Set.Job.Dial
	if most := max(math.Abs(d.From), math.Abs(d.To), d.Farthest()); most > 0 && math.Abs(reading) > most+1e-9 && !s.SetUp().Under().Pair {
		return fmt.Errorf("reading %.4g mm, which no needle of the dial shows, need %.4g mm at most", reading, most)
	}
	return nil
}

// mostTurns is beyond every bearing that is told, turns: one is told within a turn or two.
const mostTurns = 10

func isBearing(b geom.Bearing) error {
	if math.Abs(float64(b)) > mostTurns*2*math.Pi {
		return fmt.Errorf("bearing %.4g°, need one within %d turns", b.Degrees(), mostTurns)
	}
	return nil
}

func (e Took) fits(s *State) error {
	return cmp.Or(isBearing(e.Bearing), s.hasStation(e.Again, 0), s.shows(e.Reading))
}

func (e Skipped) fits(s *State) error {
	return cmp.Or(isBearing(e.Bearing), s.hasStation(e.Again, 0))
}

func (e Doubted) fits(s *State) error   { return s.hasStation(e.Station, 1) }
func (e Kept) fits(s *State) error      { return s.hasStation(e.Station, 1) }
func (e Retouched) fits(s *State) error { return s.hasStation(e.Station, 1) }
func (e Loaded) fits(s *State) error    { return s.hasSlide(e.Slide) }
func (e StoodAt) fits(s *State) error   { return s.hasSlide(e.Slide) }
func (e Reopened) fits(s *State) error  { return cmp.Or(isBearing(e.Bearing), s.shows(e.Reading)) }

func (e Wondered) fits(s *State) error {
	if e.Station < 1 || e.Station > indicator.MaxStations {
		return fmt.Errorf("station %d, need 1 to %d", e.Station, indicator.MaxStations)
	}
	return cmp.Or(isBearing(e.Bearing), s.shows(e.Reading))
}

func (e Sensed) fits(s *State) error {
	if e.Slide == Tip {
		return isBearing(e.Bearing)
	}
	return cmp.Or(s.hasSlide(e.Slide), isBearing(e.Bearing))
}

// mostDivisions is beyond every wind, divisions of a collar: at a thousandth of a millimetre each it is a kilometre.
const mostDivisions = 1e9

func (e Told) fits(s *State) error {
	switch {
	case e.Step < 1 || e.Of < e.Step:
		return fmt.Errorf("wind %d of %d, need one of 1 on", e.Step, e.Of)
	case e.Park != nil && isBearing(e.Park.Bearing) != nil:
		return isBearing(e.Park.Bearing)
	case e.Tap != nil:
		return nil
	}
	for _, m := range e.Wind.Moves {
		if m.Turns < 0 || m.Divisions < 0 || m.Divisions > mostDivisions {
			return fmt.Errorf("moves of %d turns and %.4g divisions, need none below 0 or beyond %.0g", m.Turns, m.Divisions, float64(mostDivisions))
		}
	}
	return s.hasSlide(e.Wind.Slide)
}

func (e Wound) fits(s *State) error {
	switch {
	case s.Told == nil:
		return fmt.Errorf("slide %q, and no wind is told, need one", e.Slide)
	case s.Told.Wind.Slide != e.Slide:
		return fmt.Errorf("slide %q, and the wind of %q is told, need that", e.Slide, s.Told.Wind.Slide)
	case e.Reading != nil && s.Told.Park != nil:
		return s.shows(*e.Reading)
	}
	return nil
}

// positive refuses a length, millimetres, that has to be one.
func positive(what string, mm float64) error {
	if !(mm > 0) {
		return fmt.Errorf("%s %v mm, need more than 0", what, mm)
	}
	return nil
}

func (e Sized) fits(*State) error { return positive("radius", e.Radius) }
func (e Held) fits(*State) error {
	return cmp.Or(positive("radius", e.Radius), notBelow("limit", e.Limit))
}

func (e Contradicted) fits(s *State) error {
	return cmp.Or(positive("radius", e.Radius), notBelow("limit", e.Limit), s.hasStation(e.Station, 0))
}

func (e Tilted) fits(*State) error { return cmp.Or(notBelow("doubt", e.U), notBelow("limit", e.Limit)) }

func (e Accepted) fits(*State) error {
	if e.Swing == nil {
		return nil
	}
	return positive("swing", *e.Swing)
}

func (e Ticked) fits(s *State) error {
	switch {
	case !slices.Contains(s.Set.Plate.ByHand(), e.N):
		return fmt.Errorf("element %d, need one of the plate that no setting makes", e.N)
	case slices.Contains(s.Ticks, e.N):
		return fmt.Errorf("element %d, which is ticked already", e.N)
	}
	return nil
}

func (e Bumped) fits(s *State) error {
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

func (e Reread) fits(s *State) error {
	return cmp.Or(s.lookReads(), s.hasStation(e.Station, 1), s.shows(e.Reading))
}

func (e Moved) fits(s *State) error  { return cmp.Or(s.lookReads(), notBelow("doubt", e.U)) }
func (e Stayed) fits(s *State) error { return s.lookAsks() }

// A step is one of the list that the setting is in. Which of it comes now is a rule, and rules change.
func (w Worked) fits(s *State) error {
	all, done := s.Chores()
	if len(done) >= len(all) || !slices.Contains(all, w.Step) {
		return fmt.Errorf("step %q, which is not to be done here, need one that is", w.Step)
	}
	if w.Step == LockHead && w.Value != nil {
		return s.shows(*w.Value)
	}
	return nil
}

// notBelow refuses a bound below 0, millimetres.
func notBelow(what string, mm float64) error {
	if mm < 0 {
		return fmt.Errorf("%s %v mm, need 0 or more", what, mm)
	}
	return nil
}
