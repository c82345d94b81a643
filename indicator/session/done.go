package session

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/indicator/setup"
)

// Loaded: a slide was wound off and brought up in its take-up way.
type Loaded struct {
	Slide string `json:"slide"`
}

// Wound: the wind that was told has been done. Reading is what the needle shows, the head still
// parked and the slide locked, millimetres; null where nobody said.
type Wound struct {
	Slide   string   `json:"slide"`
	Reading *float64 `json:"reading,omitempty"`
	// At is the coordinate at which the slide stands, where it is sent to one and somebody has read it.
	At *float64 `json:"at,omitempty"`
	// Gauge is where Reading comes from; zero where it was typed.
	Gauge Gauged `json:"gauge,omitzero"`
}

// Confirm says that the load, the wind or the step that was told has been done.
type Confirm struct{}

func (Loaded) row() *EventRow    { return loaded }
func (Wound) row() *EventRow     { return wound }
func (Confirm) row() *CommandRow { return confirm }

var loaded = event[Loaded]{kind: "loaded", undo: "the backlash taken up",
	quick: func(payload []byte) (e Loaded, ok bool) {
		c := cursor{rest: payload}
		c.take(`{"slide":`)
		e.Slide = string(c.word())
		c.take("}")
		return e, c.done()
	},
	fits: func(s *State, e Loaded) error { return s.hasSlide(e.Slide) },
	apply: func(s *State, _ Loaded) {
		s.Loads++
		s.skipLoaded()
	},
}.row()

var wound = event[Wound]{kind: "wound", undo: "the wind",
	check: func(e Wound) error { return e.Gauge.check() },
	quick: func(payload []byte) (e Wound, ok bool) {
		c := cursor{rest: payload}
		c.take(`{"slide":`)
		e.Slide = string(c.word())
		if c.has(`,"reading":`) {
			e.Reading = c.numberOrNull()
		}
		e.Gauge = c.gauged()
		c.take("}")
		return e, c.done()
	},
	fits: func(s *State, e Wound) error {
		switch {
		case s.Told == nil:
			return fmt.Errorf("slide %q, and no wind is told, need one", e.Slide)
		case s.Told.Wind.Slide != e.Slide:
			return fmt.Errorf("slide %q, and the wind of %q is told, need that", e.Slide, s.Told.Wind.Slide)
		case e.Reading != nil && s.Told.Park != nil:
			return s.shows(*e.Reading)
		}
		return nil
	},
	apply: func(s *State, e Wound) {
		s.wound(e)
		s.trembles(e.Gauge)
	},
}.row()

var confirm = command[Confirm]{word: "done", help: "the backlash is taken up, or the wind or the step is done",
	decide: func(s *State, _ Confirm) (Event, error) { return s.question().done(s) },
}.row()

// loadAsked: a slide is wound off and brought up in its take-up way.
type loadAsked struct{ unanswered }

func (loadAsked) prompt(s *State) Prompt {
	sl, _ := s.Set.Machine.Slide(s.Set.Job.Needs()[s.Loads])
	p := LoadAsked{Slide: sl, Moves: sl.Load(), N: s.Loads + 1, Of: len(s.Set.Job.Needs())}
	if t, some := s.ReachedAt(sl); some {
		p.turn(s, t)
	}
	return Prompt{Waits: ForLoad, Load: p}
}

func (loadAsked) done(s *State) (Event, error) {
	return Loaded{Slide: s.Set.Job.Needs()[s.Loads]}, nil
}

func (loadAsked) hint(*State) string {
	return "take up the backlash of the slide that is named, then confirm"
}

// maxSlides is how many slides a machine's file may describe.
const maxSlides = 8

// skipLoaded passes over the slides that stand loaded from an earlier setting.
func (s *State) skipLoaded() {
	needs := s.Set.Job.Needs()
	for s.Loads < len(needs) && slices.Contains(s.Set.Loaded, needs[s.Loads]) {
		s.Loads++
	}
	if s.Phase == Loading && (s.Loads >= len(needs) || !s.SetUp().Does().Loads) {
		s.ready()
	}
}

// wound notes the wind that was told as done, with the reading where it stopped if there is one.
func (s *State) wound(e Wound) {
	if s.Told == nil {
		return
	}
	if s.Phase == Cutting {
		s.goes(&setup.Done{Wind: s.Told.Wind})
		c, _, _, _ := s.chore()
		s.worked(Worked{Step: c})
		return
	}
	if s.Told.SetOff {
		if off, apart := s.SetUp().Wound(s.bench(), (*setup.Wind)(s.Told), e.At); apart {
			s.carriedOff(e, off)
			return
		}
	}
	s.Winds = &setup.Done{Wind: s.Told.Wind, Park: s.Told.Park, Tap: s.Told.Tap, Reading: e.Reading, At: e.At, Bezel: s.Bezel,
		Before: s.Winds}
	if s.Told.Wind.Slide != "offset" && s.Told.Tap == nil {
		s.Crossed += math.Abs(s.Told.Wind.Travel)
	}
	s.believe(s.Winds)
	s.goes(s.Winds)
	s.learnLock(s.Winds)
	last := s.Told.Step >= s.Told.Of && !s.Told.Open
	s.Told = nil
	switch _, looks := s.nextLook(); {
	case last:
		s.endTrial()
	case looks && s.Set.Order >= safeOrder && s.rocksAgain(): // or the look would see the tip off the radial line for a radius
		s.Readying, s.Phase, s.Worked = true, Preparing, nil
	}
}

// carriedOff takes in a wind off the place of the sweep, or back to it.
func (s *State) carriedOff(e Wound, off setup.Offs) {
	if i := s.slot(s.Told.Wind.Slide); i >= 0 && s.Set.Machine.Slides[i].Readout {
		s.Stands[i].Known = true // where it was not, it has been set to 0 where the wind began
	}
	s.goes(&setup.Done{Wind: s.Told.Wind, At: e.At})
	if s.Told.Back {
		s.Phase = Sweeping
	}
	s.SetOff, s.Told = off, nil
}
