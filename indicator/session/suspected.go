package session

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Suspected: the winds of the last trial went otherwise than stated, and these statements would explain it, the likeliest
// first. Nothing is wound by them before a sign has been checked, or one of them put right, or that was passed over.
type Suspected struct {
	Causes []Cause `json:"causes"`
	// Wind says that a wind under the needle spoke against them while it was wound, as a person has told it.
	Wind bool `json:"wind,omitempty"`
}

// PassedOver: the check of a sign was passed over, and the winds go on as stated.
type PassedOver struct{}

func (Suspected) row() *EventRow  { return suspected }
func (PassedOver) row() *EventRow { return passedOver }

var suspected = event[Suspected]{kind: "suspected", undo: "what the needle did",
	entry: func(e Suspected) bool { return e.Wind },
	check: func(e Suspected) error { return checkCauses(e.Causes) },
	fits:  func(s *State, e Suspected) error { return s.ofSlides(e.Causes) },
	apply: func(s *State, e Suspected) {
		s.suspect(e.Causes)
		s.Accused.Wind = e.Wind
	},
}.row()

var passedOver = event[PassedOver]{kind: "passed over", undo: "the word that the check is passed over",
	apply: func(s *State, _ PassedOver) { s.Accused = nil },
	anew: func(s *State, _ PassedOver, _ *Change) (Command, string) {
		if s.Accused == nil {
			return nil, ""
		}
		return Skip{}, ""
	},
}.row()

// ofStatements is what is in question of what job and machine say.
type ofStatements struct {
	// Named are the causes that were named last, to be put right by their number.
	Named []Cause
	// Accused is the question that they are behind, nil most of the time.
	Accused *Accused
	// Here are the figures whose limits were stated in this setting, not by its files.
	Here indicator.Stated
}

// Accused are the checks that were made of what is in question, the newest of each slide. Wind says that a wind under the needle
// has put it in question, so that its slide stands nobody knows where.
type Accused struct {
	Checks []Sensed
	Wind   bool
}

// checkCauses refuses causes whose keys nobody can put right.
func checkCauses(all []Cause) error {
	if len(all) == 0 {
		return fmt.Errorf("no causes, need one")
	}
	for i := range all {
		if all[i].Key == "" {
			continue
		}
		if err := all[i].check(); err != nil {
			return err
		}
	}
	return nil
}

// suspect asks about causes, once a sweep.
func (s *State) suspect(causes []Cause) {
	s.Named, s.Accused, s.Sweep.Questioned = causes, &Accused{}, true
}

// accuse returns what is due where the winds have gone astray and nobody has looked at it yet.
func (s *State) accuse() (e Suspected, ok bool) {
	if s.Set.Rules < statedRules || s.Sweep.Questioned {
		return e, false
	}
	x, ok := s.Suspicion()
	if !ok {
		return e, false
	}
	return Suspected{Causes: s.Causes(x)}, true
}

// Causes gives all that is suspected its keys.
func (s *State) Causes(x advice.Suspicion) (out []Cause) {
	for _, c := range x.Suspects {
		out = append(out, s.cause(c))
	}
	return out
}

// astray reports whether the winds before a sweep that has just closed went astray, so that they are no lesson.
func (s *State) astray() bool {
	if s.Set.Rules < statedRules {
		return false
	}
	_, ok := s.Suspicion()
	return ok
}

// seen reports whether the needle went some way in a check.
func (e Sensed) seen() bool { return e.Went == Up || e.Went == Down }

// leastTurnedAct is what is left of what a slide does to the needle, of one, where a turned ring still tells its sign.
const leastTurnedAct = 0.3

// leastActElsewhere is what a slide does to the needle at the least where its sign is checked elsewhere, of the most it does.
const leastActElsewhere = 0.35

// would is what a check would have shown if a cause were true; empty where it could have been either.
func (s *State) would(c *Cause, e Sensed) Went {
	set, ok := s.restatedSet(c)
	if !ok || e.Slide == Tip {
		return ""
	}
	b := *s
	b.Set, b.fitted = set, nil
	at := b.bearingOf(s.RingAt(e.Bearing)) // the ring showed the same, and stood elsewhere
	as, is := s.bench().Acts(e.Slide, e.Bearing), b.bench().Acts(e.Slide, at)
	if !(math.Abs(is) > leastTurnedAct*math.Abs(as)) {
		return ""
	}
	return b.must(e.Slide, at)
}

// bearingOf is where the reference is met as the ring shows a figure, degrees: [State.RingAt] the other way round.
func (s *State) bearingOf(shows float64) geom.Bearing {
	return s.Set.Job.Setup.Surface(s.Ring().At(shows)).Normalized()
}

// narrowed are the causes that a check leaves.
func (s *State) narrowed(causes []Cause, e Sensed) (out []Cause) {
	switch {
	case !e.seen():
		return causes
	case e.Slide == Tip && e.Went == Down:
		return []Cause{{Fault: advice.DialFault}}
	}
	for _, c := range causes {
		switch would := s.would(&c, e); {
		case c.Key == "" && slices.Contains(c.Slides, e.Slide): // the needle told that it moves
		case would != "" && would != e.Went:
		default:
			out = append(out, c)
		}
	}
	return out
}

// checked narrows down what is in question, or names it where nothing was: the newest word counts. Where a check leaves
// nothing of it, what the winds did stays unexplained: they teach nothing, and a new sweep begins.
func (s *State) checked(e Sensed) {
	if s.Phase == Winding && s.Set.Rules >= statedRules {
		s.checkedWinding(e)
		return
	}
	if s.Accused == nil {
		of := slices.DeleteFunc(slices.Clone(s.Named), func(c Cause) bool { return c.Fault != "" }) // what the files say stays
		if s.Named = s.faulty(); len(s.Named) == 0 {
			s.Named = of
		}
		return
	}
	if !e.seen() {
		return
	}
	a := Accused{Checks: slices.DeleteFunc(slices.Clone(s.Accused.Checks), func(old Sensed) bool {
		return old.Slide == e.Slide && old.Bearing == e.Bearing
	})}
	a.Checks = append(a.Checks, e)
	s.Accused, s.Named = &a, s.narrowed(s.Named, e)
	if len(s.Named) == 0 { // a sign that disagrees speaks for itself, whatever the winds were taken for
		s.Named = s.faulty()
		for _, c := range a.Checks {
			s.Named = s.narrowed(s.Named, c)
		}
	}
	if len(s.Named) == 0 {
		s.sweepAnew()
	}
}

// faulty are the statements that the sign checks of the setting speak against.
func (s *State) faulty() (out []Cause) {
	f, slides := s.Faulty()
	screws := func() {
		for _, n := range slides {
			out = append(out, s.cause(advice.Suspect{Fault: advice.ScrewFault, Slides: []string{n}}))
		}
	}
	switch f {
	case advice.NoFault, advice.RingFault, advice.ZeroFault, advice.ExchangeFault, advice.UnmovedFault:
	case advice.DialFault:
		out = append(out, Cause{Fault: advice.DialFault})
	case advice.TouchFault:
		out = append(out, s.cause(advice.Suspect{Fault: advice.TouchFault}))
		if cross := s.SetUp().Under().Cross; slices.Contains(s.Set.Job.Needs(), "offset") &&
			!slices.ContainsFunc(s.Senses, func(e Sensed) bool { return e.Slide == "offset" && e.seen() }) {
			out = append(out, s.halfTurn(cross[:])...) // the offset slide's sign would tell these apart
		}
	case advice.EitherFault:
		screws()
		out = append(out, s.cause(advice.Suspect{Fault: advice.TouchFault}))
	case advice.ScrewFault:
		screws()
	case advice.BearingsFault:
		out = s.halfTurn(slides)
	}
	return out
}

// halfTurn are the two statements that turn what both cross slides do round: the ring's zero, and the sense of both.
func (s *State) halfTurn(slides []string) []Cause {
	return []Cause{s.cause(advice.Suspect{Fault: advice.ZeroFault, Turn: math.Pi}),
		s.cause(advice.Suspect{Fault: advice.ScrewFault, Slides: slides})}
}

// sweepAnew begins a new sweep behind winds that teach nothing.
func (s *State) sweepAnew() {
	phase := s.Phase
	s.restart()
	if phase == Preparing || phase == Loading {
		s.Phase = phase
	}
	if s.Predicted, s.Believed = nil, nil; s.Past != nil && !s.Past.Void {
		void := *s.Past // older states share it
		void.Void, s.Past = true, &void
	}
}

// NextCheck is the slide whose sign is checked next of what is in question; ok is false where no check would tell more.
func (s *State) NextCheck() (p SensePlan, ok bool) {
	if s.Accused == nil || len(s.Named) == 0 {
		return p, false
	}
	best := 0
	for _, name := range s.toCheck() {
		plan, can := s.sensePlan(name)
		if !can || s.checkedAt(plan) {
			continue
		}
		if n := s.tells(plan); n > best {
			best, p, ok = n, plan, true
		}
	}
	if !ok && len(s.Accused.Checks) > 0 {
		p, ok = s.checkElsewhere()
	}
	return p, ok
}

// checkedAt reports whether a check has been made.
func (s *State) checkedAt(p SensePlan) bool {
	return slices.ContainsFunc(s.Accused.Checks, func(e Sensed) bool { return e.Slide == p.Slide && e.Bearing == p.Bearing })
}

// checkElsewhere is the check that tells most at a mark where its slide does not do most: a turned ring and a mirrored one
// may do the same to the needle at one place, and not at another.
func (s *State) checkElsewhere() (p SensePlan, ok bool) {
	best, b := 0, s.bench()
	for _, name := range s.toCheck() {
		plan, can := s.sensePlan(name)
		if !can {
			continue
		}
		sl, _ := s.Set.Machine.Slide(name)
		most := math.Abs(b.Acts(name, plan.Bearing))
		for at := range b.Job.Sweep.Marks(advice.MarkStep) {
			at = at.Normalized()
			act := math.Abs(b.Acts(name, at))
			x := SensePlan{Slide: name, Bearing: at, Divisions: math.Ceil(plan.Divisions * most / act), Must: s.must(name, at)}
			if !(act > leastActElsewhere*most) || !b.Reached(sl, at) || !s.touches(at) || s.checkedAt(x) {
				continue
			}
			if n := s.tells(x); n > best {
				best, p, ok = n, x, true
			}
		}
	}
	return p, ok
}

// toCheck are the slides that can be checked, those that the likeliest cause names first.
func (s *State) toCheck() (names []string) {
	if len(s.Named) > 0 {
		names = append(names, s.Named[0].Slides...)
	}
	for _, n := range s.Set.Job.Needs() {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return names
}

// tells is how much a check would tell: of the first one how many causes it could speak for, with that of the likeliest
// before all others; of a further one how many pairs of causes it would tell apart.
func (s *State) tells(p SensePlan) int {
	at := Sensed{Slide: p.Slide, Bearing: p.Bearing}
	same, other := 0, 0
	for i := range s.Named {
		c := &s.Named[i]
		switch would := s.would(c, at); {
		case would == "" && (c.Key != "" || !slices.Contains(c.Slides, p.Slide)):
		case would == p.Must:
			same++
		default:
			other++
		}
	}
	if len(s.Accused.Checks) > 0 {
		return same * other
	}
	if c := &s.Named[0]; slices.Contains(c.Slides, p.Slide) {
		return 1 + other + len(s.Named)
	}
	return other
}

// doubtAsked: the winds went otherwise than stated, and a sign is to be checked or one of the causes put right.
type doubtAsked struct{}

func (doubtAsked) prompt(s *State) Prompt {
	p := CheckAsked{Causes: s.Named}
	if plan, ok := s.NextCheck(); ok {
		p.Plan = plan
		p.Slide, _ = s.Set.Machine.Slide(plan.Slide)
		p.meet(s, plan.Bearing)
	}
	return Prompt{Waits: ForCheck, Check: p}
}

// number answers it by a digit, in the order in which the answers are told: what the needle did, or which cause is put
// right.
func (doubtAsked) number(s *State, v float64) (Event, error) {
	n := s.ordinal(v)
	plan, ok := s.NextCheck()
	if !ok {
		return decideRestate(s, Restate{N: n, Number: true})
	}
	if n == 0 || n > len(Answers) {
		return nil, refuse(s.hint(), "%.6g, need 1 to %d: no reading is asked for, but what the needle did", s.Set.Job.Unit.From(v),
			len(Answers))
	}
	return decideSense(s, Sense{Slide: plan.Slide, Went: Answers[n-1]})
}

func (doubtAsked) done(s *State) (Event, error) {
	return nil, refuse(s.hint(), "what is stated wrong is in question, need an answer")
}

func (doubtAsked) skip(s *State, off Off) (Event, error) {
	if off != NotOff {
		return nil, refuse(s.hint(), "no station is asked for")
	}
	return PassedOver{}, nil
}

func (doubtAsked) hint(s *State) string {
	if _, ok := s.NextCheck(); !ok {
		return "restate N puts one right: " + strings.TrimSuffix(listed(s.Named), ";") + "; skip winds on as stated, again sweeps anew"
	}
	return "what did the needle do: 1 up, 2 down, 3 did not move, 4 moved only on the way back; skip passes the check over"
}
