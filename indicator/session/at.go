package session

import (
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// StoodAt: a slide's scale was read where it stands: its readout, or its collar's turns and divisions
// as a length, millimetres.
type StoodAt struct {
	Slide string  `json:"slide"`
	At    float64 `json:"at"`
}

// At says where a slide's scale stands, millimetres.
type At struct {
	Slide string
	At    float64
}

func (StoodAt) row() *EventRow { return stoodAt }
func (At) row() *CommandRow    { return at }

var stoodAt = event[StoodAt]{kind: "at", undo: "where a slide stands",
	fits:  func(s *State, e StoodAt) error { return s.hasSlide(e.Slide) },
	apply: func(s *State, e StoodAt) { s.stands(e) },
	anew:  func(_ *State, e StoodAt, _ *Change) (Command, string) { return At(e), "" },
}.row()

var at = command[At]{word: "at", forms: []Phrase{{"at SLIDE COORDINATE", "where a slide's scale stands"}}, example: "like offset 42.35",
	keys: []string{"w"}, label: "scale", not: (*Now).closed, parse: ParseAt, field: asked(ParseAt), figures: 1, decide: decideAt,
	picks: func(s *State) []string { return s.slideNames() },
}.row()

func decideAt(s *State, c At) (Event, error) {
	names := s.slideNames()
	if slices.Contains(names, c.Slide) && !math.IsNaN(c.At) && !math.IsInf(c.At, 0) {
		return StoodAt(c), nil
	}
	return nil, refuse("at SLIDE COORDINATE, like at x 23.415", "slide %q at %v, need one of %s and a number", c.Slide,
		c.At, strings.Join(names, ", "))
}

// slideNames are the machine's slides.
func (s *State) slideNames() []string {
	names := make([]string, len(s.Set.Machine.Slides))
	for i, sl := range s.Set.Machine.Slides {
		names[i] = sl.Name
	}
	return names
}

// ParseAt reads a slide's name and where its scale stands, in unit u. The error is a *[Refusal].
func ParseAt(text string, u geom.Unit) (At, error) {
	const like = "at SLIDE COORDINATE, like at x 23.415"
	fields := geom.LengthFields(text)
	if len(fields) != 2 {
		return At{}, refuse(like, "%d words, need a slide and a coordinate", len(fields))
	}
	v, err := geom.ParseLength(fields[1], u)
	if err != nil {
		return At{}, refuse(like, "%v", err)
	}
	return At{Slide: strings.ToLower(fields[0]), At: u.MM(v)}, nil
}

// stands takes in what a person has read off a slide's scale.
func (s *State) stands(e StoodAt) {
	if i := s.slot(e.Slide); i >= 0 {
		s.Stands[i] = setup.Stand{Known: true, At: e.At}
		if !s.Set.Machine.Slides[i].Readout {
			s.Collars[i] = setup.Stand{} // it counts on by that scale
		}
	}
	if s.SetUp().Does().Stands {
		s.Told = nil // it was told from where the spindle was thought to stand
		if s.Phase == SettledDown {
			s.Phase = Winding
		}
	}
}
