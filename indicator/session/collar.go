package session

import (
	"cmp"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// Read: a slide's collar was read as it stands, in its own figures: divisions, from 0 up to a whole turn.
type Read struct {
	Slide  string  `json:"slide"`
	Figure float64 `json:"figure"`
}

// ReadCollar says what a slide's collar shows.
type ReadCollar struct{ Read }

func (Read) row() *EventRow         { return collarRead }
func (ReadCollar) row() *CommandRow { return readCollar }

var collarRead = event[Read]{kind: "collar", undo: "what a collar shows",
	fits: func(s *State, e Read) error {
		return cmp.Or(s.hasSlide(e.Slide), s.onCollar(e.Slide, e.Figure))
	},
	apply: func(s *State, e Read) { s.collarShows(e) },
	anew:  func(_ *State, e Read, _ *Change) (Command, string) { return ReadCollar{e}, "" },
}.row()

var readCollar = command[ReadCollar]{word: "collar", forms: []Phrase{{"collar SLIDE FIGURE", "what a slide's collar shows, in divisions"}},
	example: "like x 37.5", not: (*Now).closed, parse: parseCollar, figures: 1, decide: decideCollar,
}.row()

const collarLike = "collar SLIDE FIGURE, like collar x 37.5"

func parseCollar(text string, _ geom.Unit) (c ReadCollar, err error) {
	fields := geom.LengthFields(text)
	if len(fields) != 2 {
		return c, refuse(collarLike, "%d words, need a slide and its collar's figure", len(fields))
	}
	c.Slide = strings.ToLower(fields[0])
	if c.Figure, err = geom.ParseNumber(fields[1]); err != nil {
		return c, refuse(collarLike, "%v", err)
	}
	return c, nil
}

func decideCollar(s *State, c ReadCollar) (Event, error) {
	sl, ok := s.Set.Machine.Slide(c.Slide)
	switch {
	case !ok:
		return nil, refuse(collarLike, "slide %q, need one of %s", geom.PrintableLine(c.Slide), strings.Join(s.slideNames(), ", "))
	case !(c.Figure >= 0 && c.Figure < sl.Divisions):
		return nil, refuse(collarLike, "%.6g div on the %s slide's collar, need from 0 to below %.6g", c.Figure, sl.Name, sl.Divisions)
	}
	return c.Read, nil
}

// collarShows takes in what a collar was read at, as a length within one turn. A scale that was told before goes on by its own count.
func (s *State) collarShows(e Read) {
	i := s.slot(e.Slide)
	if i < 0 {
		return
	}
	sl := s.Set.Machine.Slides[i]
	s.Collars[i] = setup.Stand{Known: true, At: e.Figure * sl.Division() * float64(sl.Clockwise) * float64(sl.Figures)}
}

// CollarAt is where a slide's collar stands, as a length that makes its figure, millimetres: within one turn where only the figure was
// read. ok is false where nobody has said, or has moved it uncounted since.
func (s *State) CollarAt(name string) (at float64, ok bool) {
	i := s.slot(name)
	switch {
	case i < 0:
		return 0, false
	case s.Collars[i].Known:
		return s.Collars[i].At, true
	case s.Stands[i].Known && !s.Set.Machine.Slides[i].Readout:
		return s.Stands[i].At, true
	}
	return 0, false
}

// collarGoes carries a collar's figure along a wind: one that was stopped by the needle, or by a readout, has not been counted.
func (s *State) collarGoes(i int, d *setup.Done) {
	switch c := &s.Collars[i]; {
	case !c.Known:
	case d.Park != nil || d.At != nil:
		*c = setup.Stand{}
	default:
		c.At += d.Wind.By()
	}
}

// collarLost forgets the figures of collars that have been moved uncounted.
func (s *State) collarLost(names ...string) {
	for i, sl := range s.Set.Machine.Slides {
		if i < len(s.Collars) && slices.Contains(names, sl.Name) {
			s.Collars[i] = setup.Stand{}
		}
	}
}

// readsCollar reports whether the wind that is told has to be told from figure to figure of a collar that nobody has read: it keeps
// its figures, and is not set to 0.
func (s *State) readsCollar() bool {
	if s.Told == nil || s.Told.Park != nil || s.Told.Tap != nil {
		return false
	}
	sl, ok := s.Set.Machine.Slide(s.Told.Wind.Slide)
	_, known := s.CollarAt(sl.Name)
	return ok && sl.Keeps && !known && !s.goesTo()
}

// readAsked: what the collar of the slide that is wound next shows, for it keeps its figures.
type readAsked struct{ collarAsked }

func (q readAsked) prompt(s *State) Prompt {
	p := q.collarAsked.prompt(s)
	p.Wind.Reads = true
	return p
}

func (readAsked) number(s *State, v float64) (Event, error) {
	return decideCollar(s, ReadCollar{Read{Slide: s.Told.Wind.Slide, Figure: s.Set.Job.Unit.From(v)}})
}

func (q readAsked) done(s *State) (Event, error) {
	return nil, refuse(q.hint(s), "its collar keeps its figures, need the one that it shows now")
}

func (readAsked) hint(*State) string {
	return "type what the collar shows now, in divisions; then the wind is told"
}
