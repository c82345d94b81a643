package session

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// LimitStated: somebody has said how right a figure is that the setting goes by: its error is at most Limit, ±, millimetres.
// Figure is its name in records; 0 says that it is exact.
type LimitStated struct {
	Figure string  `json:"figure"`
	Limit  float64 `json:"limit"`
}

// StateLimit says how right a figure is.
type StateLimit struct {
	Figure string // by its name, or by the key that states its limit in files
	Limit  float64
}

func (LimitStated) row() *EventRow  { return limitStated }
func (StateLimit) row() *CommandRow { return stateLimit }

var limitStated = event[LimitStated]{kind: "stated", undo: "the limit that was stated",
	check: func(e LimitStated) error {
		if _, ok := indicator.FigureOf(e.Figure); !ok || !(e.Limit >= 0) {
			return fmt.Errorf("figure %q within %v, need one whose limit can be stated, and 0 or above", e.Figure, e.Limit)
		}
		return nil
	},
	apply: func(s *State, e LimitStated) { s.limit(e) },
	anew:  func(_ *State, e LimitStated, _ *Change) (Command, string) { return StateLimit(e), "" },
}.row()

var stateLimit = command[StateLimit]{word: "limit",
	forms:   []Phrase{{"limit FIGURE LIMIT", "state how right a figure is, plus or minus"}},
	example: "like reach 0.02", keys: []string{"!"}, label: "how right", byList: true, figures: 1,
	picks: func(s *State) []string { all, _ := s.limits(); return all },
	asks:  "which figure?",
	not: func(n *Now) string {
		if why := n.accepted(); why != "" {
			return why
		}
		return unless(n.Limited, "nothing of this set-up has a limit to be stated")
	},
	parse: ParseLimit, field: asked(ParseLimit), decide: decideLimit,
}.row()

// mostLimit bounds what may be stated: more is the figure itself, typed for its limit, or another slip; a scale gives a radius
// to 1 mm (common practice, no source).
const mostLimit = 2

const limitLike = "how far it may be off, plus or minus, like limit reach 0.02"

// limits are the figures that the setting goes by whose limits can be stated, those first of which nobody has said any: so many.
func (s *State) limits() (all []string, unsaid int) {
	if s.Set == nil {
		return nil, 0
	}
	var said []string
	u, d, stated := s.setup(), s.Set.Job.Dial, s.stated()
	for _, f := range u.Limited() {
		if *indicator.LimitOf(f.Name, &u, &d) > 0 || stated.Has(f.Name) {
			said = append(said, f.Name)
		} else {
			all = append(all, f.Name)
		}
	}
	return append(all, said...), len(all)
}

// LimitOf is the limit of a figure's error, millimetres, as somebody has stated it or arcs have taught; known is false where
// the figure is taken as exact because nobody has.
func (s *State) LimitOf(figure string) (mm float64, known bool) {
	u, d := s.setup(), s.Set.Job.Dial
	at := indicator.LimitOf(figure, &u, &d)
	if at == nil {
		return 0, false
	}
	return *at, *at > 0 || s.stated().Has(figure)
}

func decideLimit(s *State, c StateLimit) (Event, error) {
	f, ok := indicator.FigureOf(c.Figure)
	all, _ := s.limits()
	unit := s.Set.Job.Unit
	switch {
	case s.Accepted():
		return nil, refuse("state it in the next one, or in the job file", "the setting is accepted")
	case !ok || !slices.Contains(all, f.Name):
		if len(all) == 0 {
			return nil, refuse(s.hint(), "nothing of this set-up has a limit to be stated")
		}
		return nil, refuse(limitLike, "%q, need one of %s", geom.PrintableLine(c.Figure), strings.Join(all, ", "))
	case !(c.Limit >= 0 && c.Limit <= mostLimit):
		return nil, refuse(limitLike, "a limit of %.6g %v, need 0 to %.4g %v", unit.From(c.Limit), unit, unit.From(mostLimit), unit)
	}
	if was, known := s.LimitOf(f.Name); known && was == c.Limit && s.stated().Has(f.Name) {
		return nil, refuse("", "the limit of the %s is %.6g %v already", f.Words, unit.From(was), unit)
	}
	return LimitStated{Figure: f.Name, Limit: c.Limit}, nil
}

// ParseLimit reads a figure's name, or the key that states its limit, and how far it may be off, in unit u. The error is a *[Refusal].
func ParseLimit(text string, u geom.Unit) (StateLimit, error) {
	fields := geom.LengthFields(text)
	if len(fields) != 2 {
		return StateLimit{}, refuse(limitLike, "%d words, need a figure and its limit", len(fields))
	}
	v, err := geom.ParseLength(strings.TrimPrefix(fields[1], "±"), u)
	if err != nil {
		return StateLimit{}, refuse(limitLike, "%v", err)
	}
	figure := strings.ToLower(fields[0])
	if f, ok := indicator.FigureOf(figure); ok {
		figure = f.Name
	}
	return StateLimit{Figure: figure, Limit: u.MM(v)}, nil
}

// limit takes a stated limit into the job; what had been told is told anew.
func (s *State) limit(e LimitStated) {
	set := *s.Set
	at := indicator.LimitOf(e.Figure, &set.Job.Setup, &set.Job.Dial)
	if at == nil {
		return
	}
	*at = e.Limit
	with := func(all indicator.Stated) indicator.Stated {
		if all.Has(e.Figure) {
			return all
		}
		return append(slices.Clip(all), e.Figure)
	}
	set.Job.Stated = with(set.Job.Stated)
	s.Set, s.Here = &set, with(s.Here)
	if e.Figure == indicator.OfHeld && s.Hold != nil {
		h := *s.Hold
		h.Limit, s.Hold = e.Limit, &h
	}
	s.Believed, s.Predicted = limited(s.Believed, e), limited(s.Predicted, e)
	if s.Phase == Winding || s.Phase == SettledDown {
		s.Told = nil
		if s.Winds == nil {
			s.Phase = Sweeping // closed: what follows from it is asked again
		} else {
			s.Phase = Winding
		}
	}
}

// limited is an estimate that is known with a stated limit.
func limited(f *indicator.Estimate, e LimitStated) *indicator.Estimate {
	if f == nil {
		return nil
	}
	g := *f
	if at := indicator.LimitOf(e.Figure, &g.Setup, &g.Dial); at != nil {
		*at = e.Limit
	}
	return &g
}
