package session

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Hold keeps the swing radius at a value that is known from elsewhere, for sweeps over a part of a
// circle too short to tell it from the centre. Limit bounds its error, ±. Millimetres.
type Hold struct{ Radius, Limit float64 }

// Held: the swing radius is held at Radius ± Limit, millimetres.
type Held struct {
	Radius float64 `json:"radius"`
	Limit  float64 `json:"limit"`
}

// Release lets the swing radius be found again.
type Release struct{}

// Released: the swing radius is found again.
type Released struct{}

func (Held) row() *EventRow      { return held }
func (Released) row() *EventRow  { return released }
func (Hold) row() *CommandRow    { return hold }
func (Release) row() *CommandRow { return release }

var held = event[Held]{kind: "held", undo: "the radius that is held",
	fits: func(_ *State, e Held) error {
		return cmp.Or(positive("radius", e.Radius), notBelow("limit", e.Limit))
	},
	apply: func(s *State, e Held) { s.hold(e) },
	anew:  func(_ *State, e Held, _ *Change) (Command, string) { return Hold(e), "" },
}.row()

var released = event[Released]{kind: "released", undo: "the release of the held radius",
	apply: func(s *State, _ Released) { s.hold(Held{}) },
	anew: func(s *State, _ Released, _ *Change) (Command, string) {
		if s.setup().HeldRadius == 0 {
			return nil, ""
		}
		return Release{}, ""
	},
}.row()

var hold = command[Hold]{word: "hold", forms: []Phrase{{"hold RADIUS LIMIT", "hold a known radius, which may be off by LIMIT"},
	{"hold d DIAMETER LIMIT", "the same by its diameter, which may be off by LIMIT"}},
	example: "like 42.003 0.004",
	keys:    []string{"h"}, label: "hold radius", not: (*Now).unswept, needle: needed[Hold], parse: ParseHold, figures: 2,
	field: func(s *State, text string) (Command, error) {
		if strings.TrimSpace(text) == "" {
			return Release{}, nil
		}
		return asked(ParseHold)(s, text)
	},
	decide: decideHold,
}.row()

var release = command[Release]{word: "release", help: "let the radius be found again", needle: needed[Release],
	decide: func(s *State, _ Release) (Event, error) {
		if h := s.setup(); h.HeldRadius == 0 || !s.canHold() {
			return nil, refuse(s.hint(), "no sweep stands that a held radius serves")
		}
		return Released{}, nil
	},
}.row()

func decideHold(s *State, h Hold) (Event, error) {
	set := s.setup()
	switch {
	case !s.canHold():
		return nil, refuse(s.hint(), "no sweep stands that a held radius would serve")
	case !set.ReachKnown:
		return nil, refuse("", "the reach is not known, so no swing radius is found that could be held")
	case !(h.Radius > 0) || math.IsInf(h.Radius, 0) || !(h.Limit >= 0) || math.IsInf(h.Limit, 0):
		return nil, refuse("the radius, and how far it may be off, like 42.003 0.004",
			"a radius of %v and a limit of %v, need above 0, and 0 or above", h.Radius, h.Limit)
	case h.Radius+set.Reach <= 0:
		return nil, refuse("", "a radius of %.6g %v puts the tip beyond the head axis", s.Set.Job.Unit.From(h.Radius), s.Set.Job.Unit)
	}
	return Held(h), nil
}

// ParseHold reads a radius and, behind a space, how far it may be off, in unit u; behind a d both are of the diameter. The
// error is a *[Refusal].
func ParseHold(text string, u geom.Unit) (Hold, error) {
	const like = "the radius, and how far it may be off, like 42.003 0.004; or of the diameter, like d 84.006 0.008"
	fields, half := strings.Fields(text), 1.0
	if len(fields) > 0 && fields[0] == across {
		fields, half = fields[1:], 0.5
	}
	if whole, part, ok := geom.Ambiguous(fields); ok && u == geom.Inch {
		return Hold{}, refuse(like, "%s %s may be one figure or two, need %s-%s for one, or a number with a point for the second",
			whole, part, whole, part)
	}
	var v [2]float64
	if len(fields) < 1 || len(fields) > 2 {
		return Hold{}, refuse(like, "%d numbers, need the radius and how far it may be off", len(fields))
	}
	for i, f := range fields {
		var err error
		if v[i], err = geom.ParseLength(f, u); err != nil {
			return Hold{}, refuse(like, "%v", err)
		}
	}
	return Hold{Radius: u.MM(half * v[0]), Limit: u.MM(half * v[1])}, nil
}

// canHold reports whether a sweep stands whose fit a held radius would change: it is open, or has been
// closed and nothing has been wound since.
func (s *State) canHold() bool {
	switch s.Phase {
	case Sweeping:
		return true
	case Winding, SettledDown:
		return s.Winds == nil
	case Unopened, Preparing, Loading, Cutting, Ended:
	}
	return false
}

// hold takes a held radius, or a released one, into the fit; what had been told is told anew.
func (s *State) hold(h Held) {
	s.Hold, s.Told = &h, nil
	switch s.Phase {
	case Winding, SettledDown:
		s.Phase = Sweeping // closed: what follows from it is asked again
	case Unopened, Preparing, Loading, Sweeping, Cutting, Ended:
	}
}

// setup is the job's, with the radius held that is held now.
func (s *State) setup() indicator.Setup {
	u := s.Set.Job.Setup
	if s.carries() { // the indicator has been out since, or another part's hole is of another size: no sweep shows a radius
		u.ReachKnown, u.HeldRadius, u.HeldLimit, u.ZeroRadius, u.ZeroLimit = false, 0, 0, 0, 0
	}
	if h := s.Hold; h != nil {
		u.HeldRadius, u.HeldLimit = h.Radius, h.Limit
	}
	if t := s.Tilt; t != nil {
		u.TiltLimit = t.Limit // what was measured stands for what was stated
	}
	if s.arcsStand() {
		u.ReachLimit, u.ReferenceLimit = s.Bias.Limit, 0 // and so does what arcs have taught
	}
	if s.Set.Rules >= statedRules {
		u.Form.Allowed = u.Allows()
		if f, ok := s.Formed(); ok {
			u.Form.Shown = [2]float64{f.Two, f.Three}
		}
	}
	return u
}

// arcsStand reports whether what arcs have taught stands for the limits of reach and reference: where it is less, or where one
// of the two is not stated.
func (s *State) arcsStand() bool {
	j, l := &s.Set.Job, s.Bias.Limit
	u := &j.Setup
	assumed := s.Set.Rules >= statedRules &&
		((u.ReachLimit == 0 && !j.Stated.Has(indicator.OfReach)) || (u.ReferenceLimit == 0 && !j.Stated.Has(indicator.OfReference)))
	return l > 0 && (assumed || l < math.Hypot(u.ReachLimit, u.ReferenceLimit))
}

// stated are the figures whose limit is stated in the job, or has been taught since.
func (s *State) stated() indicator.Stated {
	all := s.Set.Job.Stated
	if s.arcsStand() {
		all = append(slices.Clip(all), indicator.OfReach, indicator.OfReference)
	}
	return all
}

// carryHold moves a held radius along with the winds of the offset slide since the sweep; each adds
// its own doubt.
func (s *State) carryHold() {
	for d := s.Winds; d != nil; d = d.Before {
		if h := s.setup(); h.HeldRadius > 0 && d.Wind.Slide == "offset" {
			s.Hold = &Held{h.HeldRadius + d.Wind.Travel, math.Hypot(h.HeldLimit, math.Sqrt(3)*s.doubtOf(d.Wind))}
		}
	}
}
