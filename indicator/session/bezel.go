package session

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Bezel says that the dial's bezel was turned, or the indicator moved in its holder: where the needle
// showed Showed it shows Shows now, the tip standing where it stood. Millimetres of reading.
type Bezel struct{ Showed, Shows float64 }

// BezelSet: the dial was set anew.
type BezelSet struct {
	Showed float64 `json:"showed"`
	Shows  float64 `json:"shows"`
}

func (BezelSet) row() *EventRow { return bezelSet }
func (Bezel) row() *CommandRow  { return bezel }

var bezelSet = event[BezelSet]{kind: "bezel", undo: "the new setting of the dial",
	apply: func(s *State, e BezelSet) { s.rezero(e.Shows - e.Showed) },
	anew:  func(_ *State, e BezelSet, _ *Change) (Command, string) { return Bezel(e), "" },
}.row()

var bezel = command[Bezel]{word: "bezel", forms: []Phrase{{"bezel SHOWED SHOWS", "the dial was set anew"}}, example: "like -0.412 0",
	keys: []string{"b"}, label: "bezel", not: (*Now).accepted, needle: needed[Bezel],
	parse: ParseBezel, field: asked(ParseBezel), figures: 2, ofDial: true, decide: decideBezel,
}.row()

func decideBezel(s *State, b Bezel) (Event, error) {
	for _, x := range [2]float64{b.Showed, b.Shows} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, refuse("bezel SHOWED SHOWS, like bezel -0.412 0", "readings of %v and %v, need two numbers", b.Showed, b.Shows)
		}
	}
	if b.Showed == b.Shows {
		return nil, refuse("bezel SHOWED SHOWS, like bezel -0.412 0", "the needle shows the same before and after")
	}
	if s.Accepted() {
		return nil, refuse(s.hint(), "the setting is accepted, and the indicator out")
	}
	return BezelSet(b), nil
}

// ParseBezel reads what the needle showed before and shows now, in unit u. The error is a
// *[Refusal].
func ParseBezel(text string, u geom.Unit) (Bezel, error) {
	const like = "bezel SHOWED SHOWS, like bezel -0.412 0"
	fields := strings.Fields(text)
	if len(fields) != 2 {
		return Bezel{}, refuse(like, "%d numbers, need what it showed and shows", len(fields))
	}
	var v [2]float64
	for i, f := range fields {
		var err error
		if v[i], err = geom.ParseNumber(f); err != nil {
			return Bezel{}, refuse(like, "%v", err)
		}
	}
	return Bezel{u.MM(v[0]), u.MM(v[1])}, nil
}

// rezero goes over to the dial's new figures: the tip's place at zero has moved, and all that is
// still to be compared with a reading is told in the new figures. Sweeps that are over keep
// theirs, and remember which they are.
func (s *State) rezero(by float64) {
	set := *s.Set
	set.Job.Setup = set.Job.Setup.Rezeroed(set.Job.Dial, by)
	if d := &set.Job.Dial; d.From != 0 || d.To != 0 {
		d.From, d.To = d.From+by, d.To+by
	}
	s.Set = &set
	s.Bezel += by
	s.Sweep.shift(by)
	s.Sweep.Bezel = s.Bezel
	if d := s.Doubt; d != nil && d.WouldBe != nil {
		moved := *d
		would := *d.WouldBe + by
		moved.WouldBe, s.Doubt = &would, &moved
	}
	if t := s.Told; t != nil && t.Park != nil {
		told, park := *t, *t.Park
		park.Now, park.Goal = park.Now+by, park.Goal+by
		if park.Past != nil {
			past := *park.Past + by
			park.Past = &past
		}
		told.Park, s.Told = &park, &told
	}
	s.Believed, s.Predicted = rezeroed(s.Believed, by), rezeroed(s.Predicted, by)
}

func rezeroed(f *indicator.Estimate, by float64) *indicator.Estimate {
	if f == nil {
		return nil
	}
	g := f.Rezeroed(by)
	return &g
}

// shift puts a sweep's readings into the dial's new figures.
func (w *Sweep) shift(by float64) {
	w.own()
	for i := range w.Stations[:w.N] {
		st := &w.Stations[i]
		st.Reading += by
		st.WouldBe += by
	}
}
