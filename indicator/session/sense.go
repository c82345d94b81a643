package session

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
)

// Went is the way that the needle went.
type Went string

// The two ways: the reading grew, or fell; and the two in which nothing can be told of a sense.
const (
	Up       Went = "up"
	Down     Went = "down"
	Still    Went = "did not move"
	BackOnly Went = "moved only on the way back"
)

// Answers are all that the needle may have done, in the order in which a digit answers them, from 1.
var Answers = []Went{Up, Down, Still, BackOnly}

func (w Went) check() error {
	if slices.Contains(Answers, w) {
		return nil
	}
	return fmt.Errorf("went %q, need %s, %s, %s or %s", string(w), Up, Down, Still, BackOnly)
}

// Tip stands in the place of a slide where the tip is pressed by hand.
const Tip = advice.Tip

// Sense is the answer to a sign check: the tip was pressed, or a slide wound clockwise a little under the
// needle, and the needle went that way.
type Sense struct {
	Slide string // or Tip
	Went  Went
}

// Sensed: a sign was checked. Bearing is where the reference was met, radians.
type Sensed struct {
	Slide   string       `json:"slide"`
	Bearing geom.Bearing `json:"bearing"`
	Went    Went         `json:"went"`
}

func (Sensed) row() *EventRow  { return sensed }
func (Sense) row() *CommandRow { return sense }

var sensed = event[Sensed]{kind: "sense", undo: "the sign check",
	met:   func(_ *State, e Sensed) (stood, bool) { return stood{at: e.Bearing}, e.Slide != Tip },
	check: func(e Sensed) error { return e.Went.check() },
	fits: func(s *State, e Sensed) error {
		if e.Slide == Tip {
			return isBearing(e.Bearing)
		}
		return cmp.Or(s.hasSlide(e.Slide), isBearing(e.Bearing))
	},
	apply: func(s *State, e Sensed) { s.sensed(e) },
	anew:  func(_ *State, e Sensed, _ *Change) (Command, string) { return Sense{e.Slide, e.Went}, "" },
}.row()

var sense = command[Sense]{word: "sense",
	forms: []Phrase{{"sense SLIDE up|down", "check a sign: where the needle went; sense alone says how"},
		{"sense SLIDE did not move", "the needle stood still as the slide was wound"},
		{"sense SLIDE moved only on the way back", "the needle went only as the slide was wound back"}},
	example: "up, down, or like x up", keys: []string{"g"}, label: "signs", picks: (*State).signPicks, byList: true,
	first: (*State).NextSense, answers: senseAnswers, hands: true, not: (*Now).accepted,
	needle: needed[Sense], parse: parseSense, decide: decideSense,
}.row()

// SensePlan is how a sign is checked.
type SensePlan struct {
	Slide   string // or Tip
	Bearing geom.Bearing
	// Divisions is about how far to wind clockwise once the play is out.
	Divisions float64
	// Clear says that the needle is on the dial at no place that is known: over-pressed there, the tip is brought clear first.
	Clear bool
	// Must is what the needle does where job and machine are stated right.
	Must Went
}

// senseGraduations is how far the needle is to be seen to move, in its own divisions (common practice, no
// source).
const senseGraduations = 5

// SensePlanFor returns how the sign of a slide is checked, or of the tip: as [State.NextCheck] asks, or else at the mark of
// the ring where the slide acts most, of equals the first. ok is false for a slide that this setup does not wind.
func (s *State) SensePlanFor(slide string) (p SensePlan, ok bool) {
	if p, ok := s.NextCheck(); ok && p.Slide == slide {
		return p, true
	}
	return s.sensePlan(slide)
}

func (s *State) sensePlan(slide string) (p SensePlan, ok bool) {
	p = SensePlan{Slide: slide, Must: Up}
	if s.Set == nil || s.Phase == Unopened {
		return p, false
	}
	if slide == Tip {
		p.Must = s.must(slide, 0)
		return p, true
	}
	sl, has := s.Set.Machine.Slide(slide)
	if !has || !slices.Contains(s.Set.Job.Needs(), slide) || !(sl.Division() > 0) {
		return p, false
	}
	b := s.bench()
	act := func(at geom.Bearing) float64 { return b.Acts(slide, at) }
	reached := func(at geom.Bearing) bool { return b.Reached(sl, at) }
	at, most, ok := advice.SignAt(act, b.Job.Sweep.Marks(advice.MarkStep), func(at geom.Bearing) bool {
		return reached(at) &&
			s.touches(at)
	})
	if !ok {
		at, most, ok = advice.SignAt(act, b.Job.Sweep.Marks(advice.MarkStep), reached)
		p.Clear = true
	}
	if p.Bearing = at; !ok {
		return p, false
	}
	p.Divisions = math.Ceil(senseGraduations * s.Set.Job.Dial.Graduation / (most * sl.Division()))
	p.Must = s.must(slide, p.Bearing)
	return p, true
}

// must is what the needle does as a slide is wound clockwise, where all is stated right.
func (s *State) must(slide string, b geom.Bearing) Went {
	switch {
	case slide == Tip && s.Set.Job.Dial.Falls:
		return Down
	case slide == Tip:
		return Up
	}
	sl, _ := s.Set.Machine.Slide(slide)
	if s.bench().Acts(slide, b)*float64(sl.Clockwise) < 0 {
		return Down
	}
	return Up
}

// NextSense is what is to be checked next: the tip, then the slides in the order of their winds; the tip
// again once all have been.
func (s *State) NextSense() string {
	if s.Set == nil {
		return Tip
	}
	if p, ok := s.NextCheck(); ok {
		return p.Slide
	}
	for _, name := range s.sensible() {
		if !slices.ContainsFunc(s.Senses, func(e Sensed) bool { return e.Slide == name && e.seen() }) {
			return name
		}
	}
	return Tip
}

func decideSense(s *State, c Sense) (Event, error) {
	if c.Slide == "" && c.Went != "" { // of what is asked
		c.Slide = s.NextSense()
	}
	const like = "sense tip up, or sense x down: which way did the needle go"
	if c.Went.check() != nil {
		return nil, refuse(like, "%q, need %s, %s, %s or %s", string(c.Went), Up, Down, Still, BackOnly)
	}
	if s.Accepted() {
		return nil, refuse(s.hint(), "the setting is accepted, and the indicator out")
	}
	if s.Phase == Sweeping && s.Sweep.N > 0 && s.Sweep.Closed == "" && c.Slide != Tip {
		return nil, refuse("check signs before the first reading, or begin the sweep again", "a slide that moves inside a sweep spoils it")
	}
	p, ok := s.SensePlanFor(c.Slide)
	if !ok {
		return nil, refuse(like, "%q, need %s or a slide that is wound here: %s", c.Slide, Tip, strings.Join(s.Set.Job.Needs(), ", "))
	}
	return Sensed{Slide: c.Slide, Bearing: p.Bearing, Went: c.Went}, nil
}

// sensible are the signs that can be checked.
func (s *State) sensible() (out []string) {
	for _, name := range append([]string{Tip}, s.Set.Job.Needs()...) {
		if _, ok := s.SensePlanFor(name); ok {
			out = append(out, name)
		}
	}
	return out
}

// signPicks are the same, what is to be checked next in front.
func (s *State) signPicks() []string {
	all := s.sensible()
	if i := slices.Index(all, s.NextSense()); i > 0 {
		next := all[i]
		copy(all[1:], all[:i])
		all[0] = next
	}
	return all
}

// parseSense is [ParseSense] of what is typed behind the word: a slide alone, or nothing, asks how its sign is checked, or
// that of what comes next, and has no way.
func parseSense(rest string, _ geom.Unit) (Sense, error) {
	fields := strings.Fields(strings.ToLower(rest))
	switch {
	case len(fields) == 0:
		return Sense{}, nil
	case len(fields) == 1 && Went(fields[0]).check() != nil:
		return Sense{Slide: fields[0]}, nil
	case Went(strings.Join(fields, " ")).check() == nil: // of what is asked, which is not known here
		return Sense{Went: Went(strings.Join(fields, " "))}, nil
	}
	return ParseSense(rest, "")
}

// senseAnswers are what the needle may have done: where the tip is pressed by a finger, no handle has any backlash.
func senseAnswers(_ *State, pick string) []Choice {
	all := []Choice{{"+u", string(Up), "the needle went up"}, {"-d", string(Down), "the needle went down"},
		{"", string(Still), "the needle did not move"}, {"", string(BackOnly), "the needle moved only on the way back"}}
	if pick == Tip {
		return all[:3]
	}
	return all
}

// bySign is the way of the needle as a keypad says it.
var bySign = map[string]Went{"+": Up, "-": Down}

// ParseSense reads what was pressed or wound, and which way the needle went; where only the way is said it
// is the one that was asked for. The error is a *[Refusal].
func ParseSense(text, asked string) (Sense, error) {
	fields := strings.Fields(strings.ToLower(text))
	if Went(strings.Join(fields, " ")).check() == nil || len(fields) == 1 {
		fields = append([]string{asked}, fields...)
	}
	if w := Went(strings.Join(fields[min(1, len(fields)):], " ")); len(fields) == 2 || len(fields) > 2 && w.check() == nil {
		if signed, ok := bySign[fields[1]]; ok && len(fields) == 2 {
			w = signed
		}
		return Sense{Slide: fields[0], Went: w}, nil
	}
	return Sense{}, refuse("sense tip up, or sense x down", "%d words, need a slide and %s, %s, %s or %s", len(fields), Up, Down, Still,
		BackOnly)
}

// sensed keeps the newest answer for each slide.
func (s *State) sensed(e Sensed) {
	s.collarLost(e.Slide) // it has been wound a little, and nobody has counted that
	kept := make([]Sensed, 0, len(s.Senses)+1)
	for _, old := range s.Senses {
		if old.Slide != e.Slide {
			kept = append(kept, old)
		}
	}
	s.Senses = append(kept, e)
	s.checked(e)
}

// checkedWinding is checked while slides are wound: nothing is wound by what a check speaks against. Where a wind has put its
// slide in question and the check clears it, the hand has slipped or something has moved, and no wind of this sweep holds.
func (s *State) checkedWinding(e Sensed) {
	astray := s.Accused != nil && s.Accused.Wind
	if astray && !e.seen() {
		return // it has told nothing, and is asked for still
	}
	s.Accused = nil
	if s.Named = s.faulty(); len(s.Named) > 0 {
		s.Accused = &Accused{Checks: slices.DeleteFunc(slices.Clone(s.Senses), func(e Sensed) bool { return !e.seen() }), Wind: astray}
		return
	}
	if !astray {
		return
	}
	s.lose(s.Told.Wind.Slide)
	s.sweepAnew()
}

// Agrees reports whether an answer is what job and machine say must happen.
func (s *State) Agrees(e Sensed) bool { return e.Went == s.must(e.Slide, e.Bearing) }

// Faulty compares all sign checks of the setting with what job and machine say, and returns the one
// statement that would explain those that disagree; slides are the ones whose clockwise is in question.
func (s *State) Faulty() (f advice.Fault, slides []string) {
	checks := make([]advice.SignCheck, 0, len(s.Senses))
	for _, e := range s.Senses {
		if e.seen() {
			checks = append(checks, advice.SignCheck{Slide: e.Slide, Agrees: s.Agrees(e)})
		}
	}
	return advice.Blame(checks)
}
