package session

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Told: a wind was told.
type Told setup.Wind

// Reswept: nothing is left to wind in this trial, and the next sweep begins.
type Reswept struct{}

func (Told) row() *EventRow    { return told }
func (Reswept) row() *EventRow { return reswept }

var told = event[Told]{kind: "told", quick: quickTold,
	met: func(s *State, e Told) (at stood, ok bool) {
		switch {
		case e.Park != nil:
			return stood{at: e.Park.Bearing}, true
		case e.Table != nil:
			return stood{at: s.Set.Job.Setup.Surface(*e.Table)}, true
		}
		return at, false
	},
	fits: func(s *State, e Told) error {
		switch {
		case e.Step < 1 || e.Of < e.Step:
			return fmt.Errorf("wind %d of %d, need one of 1 on", e.Step, e.Of)
		case e.Park != nil && isBearing(e.Park.Bearing) != nil:
			return isBearing(e.Park.Bearing)
		case e.Table != nil && isBearing(*e.Table) != nil:
			return isBearing(*e.Table)
		case e.Tap != nil:
			return isBearing(e.Tap.Side)
		}
		return s.isWound(&e.Wind)
	},
	apply: func(s *State, e Told) {
		s.Wonder = nil
		if s.Told = &e; s.Phase != Cutting {
			s.Phase = Winding
		}
	},
}.row()

var reswept = event[Reswept]{kind: "resweep", apply: func(s *State, _ Reswept) { s.endTrial() }}.row()

func quickTold(payload []byte) (e Told, ok bool) {
	c := cursor{rest: payload}
	c.take(`{"step":`)
	e.Step = c.whole()
	c.take(`,"of":`)
	e.Of = c.whole()
	c.take(`,"wind":{"slide":`)
	w := &e.Wind
	w.Slide = string(c.word())
	c.take(`,"travel":`)
	w.Travel = c.number()
	if c.has(`,"turned":`) {
		w.Turned = c.number()
	}
	c.take(`,"moves":[`)
	w.Moves = make([]slide.Move, 0, 2)
	for more := true; more && !c.bad; more = c.has(",") {
		w.Moves = append(w.Moves, c.move())
	}
	c.take(`],"collar_to":`)
	w.CollarTo = c.number()
	c.take("}")
	if c.has(`,"park":{"bearing":`) {
		e.Park = c.park()
	}
	if c.has(`,"table":`) {
		t := geom.Bearing(c.number())
		e.Table = &t
	}
	e.Open = c.has(`,"open":true`)
	c.take("}")
	return e, c.done()
}

func (c *cursor) move() (m slide.Move) {
	c.take(`{"turn":`)
	if err := m.Turn.UnmarshalText(c.word()); err != nil {
		c.bad = true
	}
	c.take(`,"turns":`)
	m.Turns = c.whole()
	c.take(`,"divisions":`)
	m.Divisions = c.number()
	c.take("}")
	return m
}

func (c *cursor) park() *advice.Park {
	p := advice.Park{Bearing: geom.Bearing(c.number())}
	c.take(`,"now":`)
	p.Now = c.number()
	c.take(`,"past":`)
	p.Past = c.numberOrNull()
	c.take(`,"goal":`)
	p.Goal = c.number()
	c.take(`,"act":`)
	p.Act = c.number()
	if c.has(`,"shift":`) {
		p.Shift = c.number()
	}
	c.take("}")
	return &p
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
	s.Looked = nil
	s.Winds, s.Sweep, s.Doubt, s.Told, s.HeadLocked, s.Accused = nil, Sweep{Bezel: s.Bezel}, nil, nil, nil, nil
	s.ready()
}

// goesTo reports whether the wind that is told sends a slide to a coordinate.
func (s *State) goesTo() bool { return s.SetUp().GoesTo(s.bench(), (*setup.Wind)(s.Told)) }

// how is the way of a wind that goes to no coordinate.
func (e *Told) how() How {
	switch {
	case e.Park == nil:
		return ByCollar
	case e.Tap != nil:
		return ByTap
	}
	return UnderNeedle
}

// how is the way of the wind that is told, of which the set-up says whether it goes to a coordinate.
func (s *State) how() How {
	if s.goesTo() {
		return ByCoordinate
	}
	return s.Told.how()
}

// windQuestion is what a wind that is told asks.
func (s *State) windQuestion() question {
	switch s.how() {
	case ByCoordinate:
		return goAsked{}
	case ByTap:
		return tapAsked{}
	case UnderNeedle:
		if s.Wonder != nil {
			return whichAsked{}
		}
		return parkAsked{}
	case ByCollar:
		if s.readsCollar() {
			return readAsked{}
		}
	}
	return collarAsked{}
}

// collarAsked: a wind by the collar; all winds are asked for and confirmed in its way.
type collarAsked struct{ unanswered }

func (collarAsked) prompt(s *State) Prompt {
	sl, _ := s.Set.Machine.Slide(s.Told.Wind.Slide)
	p := WindAsked{Slide: sl, Moves: s.Told.Wind.Moves, Told: *s.Told, How: s.how()}
	p.Goal = s.Stand(sl.Name).At + p.Told.Wind.Travel
	p.Zero = p.How == ByCoordinate && !s.Stand(sl.Name).Known
	switch {
	case s.Told.Park != nil:
		p.meet(s, s.Told.Park.Bearing)
	case s.Told.Table != nil:
		p.turn(s, *s.Told.Table)
	}
	return Prompt{Waits: ForWind, Wind: p}
}

func (collarAsked) number(s *State, _ float64) (Event, error) {
	return nil, refuse(s.hint(), "this wind goes by the collar, and no reading is asked for")
}

func (collarAsked) done(s *State) (Event, error) {
	if s.Told.Tap != nil {
		return nil, refuse(s.hint(), "a tap goes as far as it goes, need what the needle shows now")
	}
	return Wound{Slide: s.Told.Wind.Slide}, nil
}

func (collarAsked) hint(*State) string { return "wind the slide, then confirm" }

// parkAsked: a wind under the needle, answered with what it shows where the wind has stopped.
type parkAsked struct{ collarAsked }

func (q parkAsked) number(s *State, reading float64) (Event, error) {
	if e, ok := s.wonders(reading); ok {
		return e, nil
	}
	return q.stopsAt(s, reading)
}

// skip says that the needle went off the dial on the way: a wind that was told keeps it on.
func (q parkAsked) skip(s *State, off Off) (Event, error) {
	if s.Set.Rules >= coarseRules && s.tooFar(off) {
		return nil, s.beyondGoal()
	}
	if off == NotOff || !s.asksBack() {
		return q.collarAsked.skip(s, off)
	}
	return s.wentBack(), nil
}

// asksBack reports whether a needle that went the other way puts the slide's sense in question: where its sign has been checked it does
// not, and something else is the matter.
func (s *State) asksBack() bool {
	return s.Set.Rules >= statedRules && !slices.ContainsFunc(s.Senses, func(e Sensed) bool {
		return e.Slide == s.Told.Wind.Slide && e.seen() && s.Agrees(e)
	})
}

// wentBack puts in question what a wind under the needle has spoken against: its slide's sense, and what is touched.
func (s *State) wentBack() Suspected {
	return Suspected{Wind: true, Causes: []Cause{
		s.cause(advice.Suspect{Fault: advice.ScrewFault, Slides: []string{s.Told.Wind.Slide}}),
		s.cause(advice.Suspect{Fault: advice.TouchFault})}}
}

// stopsAt takes a number as where the slide has stopped.
func (parkAsked) stopsAt(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "if the needle is off the dial, say so (off pressed, off free)"); err != nil {
		return nil, err
	}
	if p := s.Told.Park; math.Abs(reading-p.Goal) > advice.MostShift*math.Abs(p.Act) {
		away := (p.Goal-p.Now)*(reading-p.Now) < 0 && p.Past == nil
		if !p.StoodStill(reading) && (p.WentBack(reading) || away) && s.asksBack() {
			return s.wentBack(), nil // nothing more is wound by it before its sign has been checked
		}
		return nil, s.offGoal(reading, away)
	}
	return Wound{Slide: s.Told.Wind.Slide, Reading: &reading}, nil
}

// offGoal is why a reading is not where a wind under the needle has stopped; away says that it lies on the far side of where the
// wind began.
func (s *State) offGoal(reading float64, away bool) error {
	p, u := s.Told.Park, s.Set.Job.Unit
	at := func(mm float64) string { return geom.FormatFixed(u.From(mm), s.Set.Job.Dial.Places(u)) }
	if p.StoodStill(reading) {
		return refuse("wound as far as told, and the needle stood still? then this handwheel moves another slide, "+
			"or the ring's zero is a quarter turn off; else wind on",
			"the needle hardly went, from %s to %s %v, need it to go to %s %v", at(p.Now), at(reading), u, at(p.Goal), u)
	}
	const stated = "touch, or what a clockwise turn (facing the handle) does to this slide, is stated wrong: "
	first, checks, confirms := "wind on until the needle shows the goal, or look again", true, true
	switch {
	case p.WentBack(reading):
		first, confirms = "was the other way wound? else "+stated, false
	case away:
		first = "look again; if it went away from the goal as the slide was wound as told, " + stated
	case p.Past != nil:
		first, confirms = "wind on until the needle shows the goal; if it never went where to turn back, "+stated, false
	default:
		checks = false
	}
	hint := func(check, confirm string) string {
		out := first
		if checks {
			out += check
		}
		if confirms {
			out += "; " + confirm
		}
		return out
	}
	because := fmt.Sprintf("%.6g %v is off by %s %v from the goal of %s %v, need it within %s %v", u.From(reading), u,
		at(math.Abs(reading-p.Goal)), u, at(p.Goal), u, at(advice.MostShift*math.Abs(p.Act)), u)
	if p.WentBack(reading) {
		because = fmt.Sprintf("the needle went the other way, from %s to %s %v, need it to go to %s %v", at(p.Now), at(reading), u,
			at(p.Goal), u)
	}
	return pressed(refuse(hint("sense "+s.Told.Wind.Slide+" tells which", "done confirms the wind without a reading"), "%s", because),
		hint("* and the check of this slide's sign tells which", "Enter alone confirms the wind"))
}

func (parkAsked) hint(*State) string {
	return "wind until the needle shows the goal, then type what it shows, or confirm"
}
