package session

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Looked: the needle was read at a bearing between two winds, or left out there. Reading is millimetres.
type Looked struct {
	Bearing geom.Bearing `json:"bearing"`
	Reading float64      `json:"reading"`
	Skipped bool         `json:"skipped,omitempty"`
	Off     Off          `json:"off,omitempty"`
	// Gauge is where the reading comes from; zero where it was typed.
	Gauge Gauged `json:"gauge,omitzero"`
}

func (Looked) row() *EventRow { return looked }

var looked = event[Looked]{kind: "looked", undo: "the reading between two winds",
	met: func(_ *State, e Looked) (stood, bool) { return stood{e.Bearing, e.Off != NotOff}, true },
	check: func(e Looked) error {
		if err := e.Off.check(); err != nil {
			return err
		}
		return e.Gauge.check()
	},
	fits: func(s *State, e Looked) error {
		if s.Phase != Winding || s.Told != nil || s.Winds == nil {
			return errors.New("a look between two winds, and none is done, or one is told, need it behind a wind")
		}
		return cmp.Or(isBearing(e.Bearing), s.shows(e.Reading))
	},
	apply: func(s *State, e Looked) {
		if s.WentAstray(e) {
			s.astrayBy(e)
			s.trembles(e.Gauge)
			return
		}
		s.Looked = append(slices.Clip(s.Looked), e)
		if f := s.Believed; f != nil && !e.Skipped {
			seen, _ := s.bench().Seen(*f, e.Bearing, e.Reading)
			s.Believed = &seen
		}
		s.trembles(e.Gauge)
	},
}.row()

// Strange reports whether a look's reading is farther from what the winds have made of the sweep than chance allows, in the state
// before it: it is not gone by.
func (s *State) Strange(e Looked) bool {
	if s.Believed == nil || e.Skipped {
		return false
	}
	_, ok := s.bench().Seen(*s.Believed, e.Bearing, e.Reading)
	return !ok
}

// WentAstray reports whether a look shows that the winds before it did not do what was told, in the state before it: the needle is off
// the dial where it was to be on it, or [State.Strange].
func (s *State) WentAstray(e Looked) bool {
	return s.Believed != nil && (e.Off != NotOff || s.Strange(e))
}

// Likeliest is the wind that has likeliest gone astray where a look shows that one has, in the state before it: of those by the collar
// the one that should have moved the needle farthest there. ok is false where none moves it there, and the needle says nothing of any.
func (s *State) Likeliest(e Looked) (w slide.Wind, ok bool) {
	b, most := s.bench(), 0.0
	for d := s.Winds; d != nil; d = d.Before {
		act := math.Abs(b.Acts(d.Wind.Slide, e.Bearing))
		if far := act * math.Abs(d.Wind.Travel); d.Park == nil && act >= advice.LeastAct && far > most {
			w, most, ok = d.Wind, far, true
		}
	}
	return w, ok
}

// astrayBy takes in a look that shows the winds to have gone astray: nothing more is wound by what was believed of them. The sweep that
// begins says what they did instead, a sign that is stated wrong included.
func (s *State) astrayBy(e Looked) {
	if w, ok := s.Likeliest(e); ok {
		s.lose(w.Slide)
	}
	s.endTrial()
	s.Predicted = nil
}

// lookedAt are the bearings of the looks between these winds.
func (s *State) lookedAt() (at []geom.Bearing) {
	for _, l := range s.Looked {
		at = append(at, l.Bearing)
	}
	return at
}

// nextLook is where the needle is looked at before the next wind; ok is false where it is not.
func (s *State) nextLook() (at geom.Bearing, ok bool) {
	if !s.coarse() || s.Winds == nil || s.Believed == nil {
		return 0, false
	}
	f, err := s.Fit()
	if err != nil {
		return 0, false
	}
	n := s.SetUp().Next(s.bench(), &f)
	if n.Look == nil {
		return 0, false
	}
	return *n.Look, true
}

// lookAsked: what the needle shows at a bearing between two winds.
type lookAsked struct {
	unanswered
	bearing geom.Bearing
}

func (q lookAsked) prompt(s *State) Prompt {
	n := len(s.Looked) + 1
	p := ReadingAsked{Station: n, Of: n, Bearing: q.bearing, Between: true, Expected: indicator.Value{V: math.NaN(), U: math.NaN()}}
	if s.Believed != nil {
		p.Expected = s.Believed.Expect(q.bearing)
	}
	p.meet(s, q.bearing)
	return Prompt{Waits: ForReading, Reading: p}
}

func (q lookAsked) number(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "if the needle is off the dial, say so (off pressed, off free)"); err != nil {
		return nil, err
	}
	return Looked{Bearing: q.bearing, Reading: reading}, nil
}

func (q lookAsked) skip(_ *State, off Off) (Event, error) {
	return Looked{Bearing: q.bearing, Skipped: true, Off: off}, nil
}

func (lookAsked) hint(*State) string { return "take the reading that is asked for, or skip it" }
