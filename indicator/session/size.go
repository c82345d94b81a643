package session

import (
	"cmp"
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Contradicted: the radius that was touched cannot be the one that is stated of the reference, or, where none is, the
// drawing's. It waits for an answer before anything is wound. Station (from 1) is the one point that would explain it, 0 where
// none alone does. Lengths are millimetres; Limit is 0 where nobody said one.
type Contradicted struct {
	Radius  float64 `json:"radius"`
	Stated  float64 `json:"stated"`
	Limit   float64 `json:"limit,omitempty"`
	Drawn   bool    `json:"drawn,omitempty"` // stated by the drawing's arc alone
	Station int     `json:"station,omitempty"`
}

// Sized: the reference is really of the radius that was touched, millimetres.
type Sized struct {
	Radius float64 `json:"radius"`
}

// Retouched: a point is touched once more, for the radius contradicts what is stated.
type Retouched struct {
	Station int `json:"station"`
}

// Retouch asks for a point once more; 0 is the one that is named.
type Retouch struct{ Station int }

func (Contradicted) row() *EventRow { return contradicted }
func (Sized) row() *EventRow        { return sized }
func (Retouched) row() *EventRow    { return retouched }
func (Retouch) row() *CommandRow    { return retouch }

var contradicted = event[Contradicted]{kind: "contradicted",
	fits: func(s *State, e Contradicted) error {
		return cmp.Or(positive("radius", e.Radius), positive("stated radius", e.Stated), notBelow("limit", e.Limit),
			s.hasStation(e.Station, 0))
	},
	apply: func(s *State, e Contradicted) { s.Contradiction = &e }}.row()

var sized = event[Sized]{kind: "sized", undo: "the word on the reference's size",
	fits:  func(_ *State, e Sized) error { return positive("radius", e.Radius) },
	apply: func(s *State, e Sized) { s.Sized, s.Contradiction = &e, nil },
	anew: func(s *State, _ Sized, _ *Change) (Command, string) {
		if s.Contradiction == nil {
			return nil, ""
		}
		return Keep{}, ""
	},
}.row()

var retouched = event[Retouched]{kind: "touch again", undo: "the wish to touch a point again",
	fits: func(s *State, e Retouched) error { return s.hasStation(e.Station, 1) },
	apply: func(s *State, e Retouched) {
		s.Contradiction = nil
		s.doubt(Doubted{Station: e.Station, Because: indicator.UnknownCause})
	},
	anew: func(s *State, e Retouched, _ *Change) (Command, string) {
		if s.Contradiction == nil {
			return nil, ""
		}
		return Retouch(e), ""
	},
}.row()

var retouch = command[Retouch]{word: "touch", forms: []Phrase{{"touch [N]", "touch point N again, or the one that is named"}},
	parse: func(rest string, _ geom.Unit) (Retouch, error) {
		var c Retouch
		if rest == "" {
			return c, nil
		}
		v, err := geom.ParseNumber(rest)
		if c.Station = int(v); err != nil || float64(c.Station) != v || c.Station < 1 {
			return c, refuse("touch 2 touches the second point again", "%q, need a point's number", geom.PrintableLine(rest))
		}
		return c, nil
	},
	decide: decideRetouch,
}.row()

func decideRetouch(s *State, c Retouch) (Event, error) {
	x := s.Contradiction
	if x == nil {
		return nil, refuse(s.hint(), "no point is to be touched again: the radius contradicts nothing")
	}
	if c.Station == 0 {
		c.Station = x.Station
	}
	if c.Station < 1 || c.Station > s.Sweep.N || s.Sweep.Stations[c.Station-1].Skipped {
		return nil, refuse("say which, like touch 2", "point %d, need one of the %d that were touched", c.Station, s.Sweep.N)
	}
	return Retouched(c), nil
}

// contradiction compares the touched radius with the one that is stated, or that somebody has said the reference really has.
func (s *State) contradiction() (e Contradicted, ok bool) {
	if s.Set.Rules < statedRules || !s.SetUp().Under().Pair {
		return e, false
	}
	set := &s.Set.Job.Setup
	e.Stated, e.Limit = set.ReferenceRadius, set.ReferenceLimit
	if e.Stated == 0 && s.Set.Arc != nil {
		e.Stated, e.Drawn = s.Set.Arc.Radius, true
	}
	if s.Sized != nil {
		e.Stated, e.Limit, e.Drawn = s.Sized.Radius, 0, false
	}
	t, err := s.Located()
	if err != nil || !(e.Stated > 0) || !t.Contradicts(e.Stated, e.Limit) {
		return e, false
	}
	e.Radius = t.Radius().V
	all := s.Sweep.Round(0, 0).At
	if i, named := set.Slipped(s.Set.Job.Dial, all, e.Stated, e.Limit); named {
		e.Station = s.Sweep.taken()[i]
	}
	return e, true
}

// SizeAnswer is one of the numbered answers to a radius that contradicts what is stated: a point to touch again, or, with
// Station 0, that the reference is really that size, or else that the sweep begins anew.
type SizeAnswer struct {
	Station int
	Keep    bool
}

// SizeAsked: the touched radius contradicts the stated one. Answers are numbered from 1.
type SizeAsked struct {
	Contradicted
	Answers []SizeAnswer
}

// sizeAsked is the question.
type sizeAsked struct{ stuckAsked }

func (sizeAsked) prompt(s *State) Prompt {
	return Prompt{Waits: ForSize, Size: SizeAsked{*s.Contradiction, s.sizeAnswers()}}
}

// sizeAnswers are the answers: of three points any may be the wrong one, of more the one that is named.
func (s *State) sizeAnswers() (out []SizeAnswer) {
	switch taken := s.Sweep.taken(); {
	case s.Contradiction.Station > 0:
		out = append(out, SizeAnswer{Station: s.Contradiction.Station})
	case len(taken) == 3:
		for _, n := range taken {
			out = append(out, SizeAnswer{Station: n})
		}
	}
	return append(out, SizeAnswer{Keep: true}, SizeAnswer{})
}

func (q sizeAsked) number(s *State, v float64) (Event, error) {
	all := s.sizeAnswers()
	n := s.ordinal(v)
	if n == 0 || n > len(all) {
		return nil, refuse(q.hint(s), "%.6g, need the number of an answer, 1 to %d", s.Set.Job.Unit.From(v), len(all))
	}
	switch a := all[n-1]; {
	case a.Keep:
		return Sized{s.Contradiction.Radius}, nil
	case a.Station > 0:
		return Retouched{a.Station}, nil
	}
	return Restarted{}, nil
}

func (q sizeAsked) done(s *State) (Event, error) {
	return nil, refuse(q.hint(s), "the touched radius contradicts what is stated, need an answer")
}

func (sizeAsked) hint(s *State) string {
	named := "touch N"
	if n := s.Contradiction.Station; n > 0 {
		named = fmt.Sprintf("touch %d", n)
	}
	return named + " touches a point again, keep says that the reference is really that size, again begins anew; or the answer's number"
}
