package session

import (
	"cmp"
	"errors"
	"fmt"

	"example.org/trammel/indicator/gauge"
)

// Gauged is where a reading comes from that nobody typed: an indicator with a cable.
type Gauged struct {
	// Source is the line that it came by, as it was named.
	Source string `json:"source"`
	// Samples is how many values the reading is the mean of, Spread their standard deviation, millimetres; 1 and 0 where the
	// indicator's button sent it.
	Samples int     `json:"samples"`
	Spread  float64 `json:"spread,omitempty"`
}

// Practised is the source that practice's own indicator is.
const Practised = "the simulated indicator"

// mostSource is the longest source that is read, bytes: a path of any length, or a command.
const mostSource = 4096

// check refuses what no indicator can have sent.
func (g Gauged) check() error {
	if g == (Gauged{}) {
		return nil
	}
	if n := len(g.Source); n > mostSource {
		return fmt.Errorf("a gauge whose source has %d bytes, at most %d may be", n, mostSource)
	}
	if _, _, err := gauge.ParseSource(g.Source); err != nil && g.Source != Practised {
		return fmt.Errorf("a gauge without its source: %w", err)
	}
	switch {
	case g.Samples != 1 && (g.Samples < gauge.FewestStable || g.Samples > gauge.MostStable):
		return fmt.Errorf("a gauge of %d samples, need 1, or %d to %d", g.Samples, gauge.FewestStable, gauge.MostStable)
	case g.Samples == 1 && g.Spread != 0:
		return fmt.Errorf("one sample that spreads by %v mm, need 0 mm", g.Spread)
	case !(g.Spread >= 0 && g.Spread <= mostSpread):
		return fmt.Errorf("samples that spread by %v mm, need 0 to %v mm", g.Spread, mostSpread)
	}
	return nil
}

// mostSpread is more than any needle trembles by that is said to stand still, millimetres.
const mostSpread = 100

// fits refuses samples that spread further than the needle of a setting's dial can go.
func (g Gauged) fits(s *State) error {
	if s.Set == nil {
		return nil
	}
	if most := s.Set.Job.Dial.Farthest(); most > 0 && g.Spread > most {
		return fmt.Errorf("samples that spread by %v mm, and the needle goes to ±%v mm at the most", g.Spread, most)
	}
	return nil
}

// UnmarshalJSON reads one, and no second one over it.
func (g *Gauged) UnmarshalJSON(b []byte) error {
	if *g != (Gauged{}) {
		return errors.New("a gauge twice, need one")
	}
	type plain Gauged
	if err := exactJSON(b, (*plain)(g)); err != nil {
		return err
	}
	if *g == (Gauged{}) {
		return errors.New("a gauge without anything in it, need its source and samples")
	}
	return nil
}

// gauged is an event that may hold a reading of an indicator with a cable.
type gauged interface {
	ofGauge(Gauged) Event
	gauge() Gauged
}

func (e Took) ofGauge(g Gauged) Event     { e.Gauge = g; return e }
func (e Wound) ofGauge(g Gauged) Event    { e.Gauge = g; return e }
func (e Wondered) ofGauge(g Gauged) Event { e.Gauge = g; return e }
func (e Worked) ofGauge(g Gauged) Event   { e.Gauge = g; return e }
func (e Reread) ofGauge(g Gauged) Event   { e.Gauge = g; return e }
func (e Looked) ofGauge(g Gauged) Event   { e.Gauge = g; return e }

// A slide that is put in question holds no reading, and no source of one.
func (e Suspected) ofGauge(Gauged) Event { return e }

// Ungauged is an event without where its reading comes from.
func Ungauged(e Event) Event {
	if holds, ok := e.(gauged); ok {
		return holds.ofGauge(Gauged{})
	}
	return e
}

func (e Took) gauge() Gauged      { return e.Gauge }
func (e Wound) gauge() Gauged     { return e.Gauge }
func (e Wondered) gauge() Gauged  { return e.Gauge }
func (e Worked) gauge() Gauged    { return e.Gauge }
func (e Reread) gauge() Gauged    { return e.Gauge }
func (e Looked) gauge() Gauged    { return e.Gauge }
func (e Suspected) gauge() Gauged { return Gauged{} }

// gauged reads where a reading comes from, as far as that stands next.
func (c *cursor) gauged() (g Gauged) {
	if !c.has(`,"gauge":{"source":`) {
		return g
	}
	g.Source = string(c.word())
	c.take(`,"samples":`)
	g.Samples = c.whole()
	if c.has(`,"spread":`) {
		g.Spread = c.number()
	}
	c.take("}")
	c.bad = c.bad || g == (Gauged{}) // one with nothing in it is refused, not left out
	return g
}

// decideTake answers what is asked with a number. What an indicator with a cable shows is only where that is asked for: the
// needle is on a figure whatever else is, and a figure may be one of a list.
func decideTake(s *State, c Take) (Event, error) {
	if c.Gauge == (Gauged{}) {
		return s.question().number(s, c.Reading)
	}
	if err := cmp.Or(c.Gauge.check(), c.Gauge.fits(s)); err != nil {
		return nil, refuse("", "%v", err)
	}
	if p := s.Prompt(); !p.Needle() {
		return nil, refuse(s.hint(), "what the indicator shows is not asked for now")
	}
	e, err := s.question().number(s, c.Reading)
	if err != nil {
		return nil, err
	}
	holds, ok := e.(gauged)
	if !ok { // and none is dropped silently
		return nil, refuse("type the reading", "%s keeps no word of what a reading came by", Kind(e))
	}
	return holds.ofGauge(c.Gauge), nil
}
