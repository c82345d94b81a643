package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
)

// Restated: a statement of job or machine was put right by its key, and holds from here on as it is now. A sense takes its
// take_up with it, so that the hand's last way stays.
type Restated struct {
	Key string `json:"key"`
	Was string `json:"was"`
	Is  string `json:"is"`
}

// Restate puts the N-th of the causes right that were named last, counted from 1; 0 the only one. Number says that a bare
// number named it.
type Restate struct {
	N      int
	Number bool
}

func (Restated) row() *EventRow  { return restated }
func (Restate) row() *CommandRow { return restate }

var restated = event[Restated]{kind: "restated", undo: "what was put right",
	check: func(e Restated) error { return (&Cause{Key: e.Key, Is: e.Is}).check() },
	fits:  func(s *State, e Restated) error { return s.ofSlides([]Cause{{Key: e.Key, Is: e.Is}}) },
	apply: func(s *State, e Restated) { s.restated(e) },
}.row()

var restate = command[Restate]{word: "restate",
	forms: []Phrase{{"restate", "put right what is in question"}, {"restate N", "put the N-th of the causes right that were named"}},
	keys:  []string{"="}, label: "put right", asks: "which of these is wrong, and is to be put right?",
	not: func(n *Now) string {
		if why := n.accepted(); why != "" {
			return why
		}
		return unless(n.Named, "nothing is in question")
	},
	offers: (*State).restatable, parse: parseRestate, decide: decideRestate,
}.row()

// restatable are the causes that can be put right, by their numbers.
func (s *State) restatable() (out []Choice) {
	words := "put right: "
	if _, ok := s.NextCheck(); ok {
		words = "put right, only if the check says so: "
	}
	for i, c := range s.InQuestion() {
		n := strconv.Itoa(i + 1)
		out = append(out, Choice{Text: n, Words: words + c.words()})
	}
	return out
}

func parseRestate(rest string, _ geom.Unit) (Restate, error) {
	if rest = strings.TrimSpace(rest); rest == "" {
		return Restate{}, nil
	}
	n, err := strconv.Atoi(rest)
	if err != nil || n < 1 {
		return Restate{}, refuse("restate 2, or restate where only one cause is named", "%q, need the number of a cause, from 1", rest)
	}
	return Restate{N: n}, nil
}

// InQuestion are the causes that were named last, or that the closed sweep names.
func (s *State) InQuestion() []Cause {
	if s.Set == nil || len(s.Named) > 0 {
		return s.Named
	}
	x, ok := s.Suspicion()
	if !ok {
		return nil
	}
	return s.Causes(x)
}

func decideRestate(s *State, c Restate) (Event, error) {
	if s.Accepted() {
		return nil, refuse(s.hint(), "the setting is accepted")
	}
	all := s.InQuestion()
	switch {
	case len(all) == 0:
		return nil, refuse("check a sign: sense x says how, and what came of it; or go on with what is asked", "nothing is in question")
	case c.N == 0 && (len(all) > 1 || c.Number), c.N > len(all), c.N < 0:
		seen := fmt.Sprintf("%d", c.N)
		if c.N == 0 {
			seen = "no number"
		}
		return nil, refuse("restate N, like restate 1", "%s, need 1 to %d: %s", seen, len(all), listed(all))
	}
	cause := all[max(c.N, 1)-1]
	if cause.Key == "" {
		return nil, refuse(cause.remedy(), "no file says that: %s", cause.words())
	}
	if s.Raising != nil {
		return nil, refuse("finish it, or undo it", "a second sweep at another height is open")
	}
	if _, ok := s.restatedSet(&cause); !ok {
		return nil, refuse("open a new setting with the file put right", "%s cannot be put right here", cause.Key)
	}
	return Restated{Key: cause.Key, Was: cause.Was, Is: cause.Is}, nil
}

// listed numbers causes from 1, in words.
func listed(all []Cause) string {
	out := make([]string, len(all))
	for i := range all {
		out[i] = fmt.Sprintf("%d %s", i+1, all[i].words())
	}
	return strings.Join(out, "; ")
}

// words are a cause in words.
func (c *Cause) words() string {
	if c.Key != "" {
		return c.Key + ": " + c.Shown(c.Was) + " -> " + c.Shown(c.Is)
	}
	switch c.Fault {
	case advice.UnmovedFault:
		return strings.Join(c.Slides, " and ") + " did not move"
	case advice.ExchangeFault:
		return strings.Join(c.Slides, " and ") + " were taken for each other"
	case advice.DialFault:
		return "the dial counts the other way round"
	case advice.NoFault, advice.TouchFault, advice.ScrewFault, advice.EitherFault, advice.BearingsFault, advice.RingFault, advice.ZeroFault:
	}
	return string(c.Fault)
}

// Shown is what a cause was or is, with its unit.
func (c *Cause) Shown(v string) string {
	if strings.HasSuffix(c.Key, ".zero") {
		return v + "°"
	}
	return v
}

// remedy is what to do about a cause that no file could put right.
func (c *Cause) remedy() string {
	switch c.Fault {
	case advice.UnmovedFault:
		return "look whether it is clamped, and whether that handle was wound; then again"
	case advice.ExchangeFault:
		return "look which handle moves which slide, and wind that one; then again"
	case advice.DialFault:
		return "type every reading with the other sign, or open a new setting with the other of grows and falls for pressed under [dial]; then again"
	case advice.NoFault, advice.TouchFault, advice.ScrewFault, advice.EitherFault, advice.BearingsFault, advice.RingFault, advice.ZeroFault:
	}
	return "again begins the sweep anew"
}

// restated goes over to what a statement is now. What was wound by what it was teaches nothing, in this setting and after it.
func (s *State) restated(e Restated) {
	c := Cause{Key: e.Key, Was: e.Was, Is: e.Is}
	set, ok := s.restatedSet(&c)
	if !ok {
		return
	}
	s.Set = set
	s.unlearn(c.slidesOf())
	s.Named = slices.DeleteFunc(slices.Clone(s.Named), func(x Cause) bool { return x.Fault != "" || x.Key == e.Key })
	s.Senses = nil // they are of what was stated before
	s.sweepAnew()
}

// unlearn goes back to what was known of slides as the setting was opened, all of them or those named. A collar's count was
// one of the sense that it had.
func (s *State) unlearn(names []string, all bool) {
	of := func(name string) bool { return all || slices.Contains(names, name) }
	kept := slices.DeleteFunc(slices.Clone(s.Lessons), func(t setup.Taught) bool { return of(t.Slide) })
	for _, t := range s.Set.Lessons {
		if of(t.Slide) {
			kept = append(kept, t)
		}
	}
	s.Lessons = kept
	s.Odd = slices.DeleteFunc(slices.Clone(s.Odd), func(o Odd) bool { return of(o.Slide) })
	for _, name := range names {
		s.lose(name)
	}
}

// lose forgets where a slide stands by its collar.
func (s *State) lose(name string) {
	s.collarLost(name)
	for i, sl := range s.Set.Machine.Slides {
		if i < len(s.Stands) && sl.Name == name && !sl.Readout {
			s.Stands[i] = setup.Stand{}
		}
	}
}
