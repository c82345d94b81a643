package session

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Reread: a station of the accepted sweep was read once more, or left out. Reading is millimetres.
type Reread struct {
	Station int     `json:"station"` // from 1
	Reading float64 `json:"reading"`
	Skipped bool    `json:"skipped,omitempty"`
	Off     Off     `json:"off,omitempty"`
	// Gauge is where the reading comes from; zero where it was typed.
	Gauge Gauged `json:"gauge,omitzero"`
}

// Moved is what the stations that were read once more tell. X and Y are how far the reference's centre has gone, seen from the axis,
// millimetres, and U the expanded uncertainty of that; Shown says that it is more than chance. Centre is the verdict on where the
// centre stands now. Failed says that they tell nothing; the figures are 0 then.
type Moved struct {
	X        float64           `json:"x"`
	Y        float64           `json:"y"`
	U        float64           `json:"u"`
	Shown    bool              `json:"shown,omitempty"`
	Centre   indicator.Verdict `json:"centre"`
	Readings int               `json:"readings"`
	Asks     bool              `json:"asks,omitempty"`
	Failed   bool              `json:"failed,omitempty"`
}

// Stayed: it is gone on with as it stands.
type Stayed struct{}

func (Reread) row() *EventRow { return reread }
func (Moved) row() *EventRow  { return moved }
func (Stayed) row() *EventRow { return stayed }

var reread = event[Reread]{kind: "reread", undo: "the reading",
	check: func(e Reread) error {
		if e.Station < 1 {
			return errors.New("a reading of no station, need its number from 1")
		}
		if err := e.Off.check(); err != nil {
			return err
		}
		return e.Gauge.check()
	},
	fits: func(s *State, e Reread) error {
		return cmp.Or(s.lookReads(), s.hasStation(e.Station, 1), s.shows(e.Reading))
	},
	apply: func(s *State, e Reread) {
		s.changeLook(func(b *Bump) { b.Again = append(b.Again[:len(b.Again):len(b.Again)], e) })
		s.trembles(e.Gauge)
	},
}.row()

var moved = event[Moved]{kind: "moved",
	fits: func(s *State, e Moved) error {
		if err := cmp.Or(s.lookReads(), notBelow("doubt", e.U)); err != nil {
			return err
		}
		if n := len(s.Bump.Again); e.Readings < 0 || e.Readings > n {
			return fmt.Errorf("a look of %d readings, need 0 to the %d that were taken", e.Readings, n)
		}
		return nil
	},
	apply: func(s *State, e Moved) {
		s.changeLook(func(b *Bump) { b.Found, b.Asks, b.Worked = &e, e.Asks, nil })
	},
}.row()

var stayed = event[Stayed]{kind: "stayed", undo: "the word to go on as it stands",
	fits:  func(s *State, _ Stayed) error { return s.lookAsks() },
	apply: func(s *State, _ Stayed) { s.changeLook(func(b *Bump) { b.Asks = false }) }}.row()

// changeLook changes the look that is under way, and ends it where nothing of it is left to do.
func (s *State) changeLook(change func(*Bump)) {
	if s.Bump == nil {
		return
	}
	b := *s.Bump
	change(&b)
	s.Bump = &b
	if b.Found != nil && !b.Asks && len(b.Worked) >= len(b.Behind) {
		s.Bump = nil
		s.onward()
	}
}

// lookWorked takes a chore of the look off its list.
func (s *State) lookWorked(w Worked) {
	s.changeLook(func(b *Bump) { b.Worked = append(b.Worked[:len(b.Worked):len(b.Worked)], w) })
}

// lookDue is what the stations that were read once more tell, once they do: where the centre stays undecided they go on.
func (s *State) lookDue() (Event, bool) {
	b := s.Bump
	if _, _, _, chores := s.chore(); chores || b.Found != nil {
		return nil, false
	}
	next := s.lookAt()
	f, err := s.Fit()
	if err != nil {
		return Moved{Failed: true, Asks: true, Centre: indicator.Undecided}, true
	}
	again := s.compared(&f)
	if len(again) < advice.FewestAgain(b.Kept) && next > 0 {
		return nil, false
	}
	m, ok := f.Bumped(again, b.Kept)
	if !ok {
		return Moved{Failed: true, Asks: true, Centre: indicator.Undecided, Readings: len(again)}, next == 0
	}
	tolerance := s.Set.Job.Target.CentreTolerance
	e := Moved{X: m.By.X, Y: m.By.Y, U: m.U, Shown: m.Shown, Centre: m.Now.JudgeCentre(tolerance, indicator.FixedTail),
		Readings: len(again)}
	if e.Centre == indicator.Undecided && next > 0 {
		return nil, false
	}
	e.Asks = e.Centre != indicator.Inside && (e.Shown || e.Centre != s.Verdicts(&f).Centre) // it may have been accepted so
	return e, true
}

// lookQuestion is what a look asks behind its chores.
func (s *State) lookQuestion() question {
	if s.Bump.Found != nil {
		return movedAsked{}
	}
	if n := s.lookAt(); n > 0 {
		return againAsked{station: n}
	}
	return nothingAsked{}
}

// againAsked: a station of the accepted sweep is read once more.
type againAsked struct {
	unanswered
	station int
}

func (q againAsked) prompt(s *State) Prompt {
	read := 0
	for _, r := range s.Bump.Again {
		if !r.Skipped {
			read++
		}
	}
	p := ReadingAsked{Station: read + 1, Of: max(read+1, advice.FewestAgain(s.Bump.Kept)), Bearing: s.Sweep.Stations[q.station-1].Bearing,
		Expected: indicator.Value{V: math.NaN(), U: math.NaN()}}
	p.meet(s, p.Bearing)
	return Prompt{Waits: ForReading, Reading: p}
}

func (q againAsked) number(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "if the needle is off the dial, say so (off pressed, off free)"); err != nil {
		return nil, err
	}
	return Reread{Station: q.station, Reading: reading}, nil
}

func (q againAsked) skip(_ *State, off Off) (Event, error) {
	return Reread{Station: q.station, Skipped: true, Off: off}, nil
}

func (againAsked) hint(*State) string { return "take the reading that is asked for" }

// movedAsked: something has moved, or may have: it is swept again, or gone on as it stands.
type movedAsked struct{ unanswered }

func (movedAsked) prompt(*State) Prompt { return Prompt{Waits: ForMoved} }

func (movedAsked) hint(*State) string {
	return "again sweeps anew, and what has moved is wound back; keep goes on as it stands"
}
