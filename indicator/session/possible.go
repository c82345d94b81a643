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
	"example.org/trammel/indicator/slide"
)

// possible refuses an event that cannot be where it stands.
func (s *State) possible(e Event) error {
	switch _, opens := e.(Opened); {
	case s.Set == nil && !opens:
		return errors.New("no setting is opened, need that before all else")
	case opens && s.Phase != Unopened && !s.Accepted():
		return errors.New("another setting is open, need that accepted first")
	}
	if err := e.row().fits(s, e); err != nil {
		return err
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
			err = exactly(line, reflect.TypeOf(e), 0)
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

// mostDivisions is beyond every wind, divisions of a collar: at a thousandth of a millimetre each it is a kilometre.
const mostDivisions = 1e9

// isWound refuses a wind that no hand can make: of a slide that the machine has not, or of moves that cannot be counted.
func (s *State) isWound(w *slide.Wind) error {
	for _, m := range w.Moves {
		switch {
		case m.Turn != slide.Clockwise && m.Turn != slide.Anticlockwise:
			return errors.New("a move that goes no way, need clockwise or anticlockwise")
		case m.Turns < 0 || m.Turns > mostDivisions || m.Divisions < 0 || m.Divisions > mostDivisions:
			return fmt.Errorf("moves of %d turns and %.4g divisions, need none below 0 or beyond %.0g", m.Turns, m.Divisions, float64(mostDivisions))
		}
	}
	if err := s.hasSlide(w.Slide); err != nil {
		return err
	}
	return s.onCollar(w.Slide, w.CollarTo)
}

// onCollar refuses a figure that a slide's collar has not, divisions.
func (s *State) onCollar(name string, figure float64) error {
	if sl, ok := s.Set.Machine.Slide(name); ok && !(figure >= 0 && figure <= sl.Divisions) {
		return fmt.Errorf("%.6g div on the %s slide's collar, need 0 to %.6g", figure, name, sl.Divisions)
	}
	return nil
}

// ofSlides refuses causes that name a slide which the machine has not.
func (s *State) ofSlides(causes []Cause) error {
	for i := range causes {
		named, _ := causes[i].slidesOf()
		for _, name := range slices.Concat(causes[i].Slides, named) {
			if name == "" { // a statement of the whole machine
				continue
			}
			if err := s.hasSlide(name); err != nil {
				return err
			}
		}
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

// notBelow refuses a bound below 0, millimetres.
func notBelow(what string, mm float64) error {
	if mm < 0 {
		return fmt.Errorf("%s %v mm, need 0 or more", what, mm)
	}
	return nil
}
