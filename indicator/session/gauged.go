package session

import (
	"errors"
	"fmt"
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

// check refuses what no indicator can have sent.
func (g Gauged) check() error {
	switch {
	case g == Gauged{}:
		return nil
	case g.Source == "":
		return errors.New("a gauge without its source, need what it came by")
	case g.Samples < 1:
		return fmt.Errorf("a gauge of %d samples, need 1 or more", g.Samples)
	case !(g.Spread >= 0 && g.Spread <= mostSpread):
		return fmt.Errorf("samples that spread by %v mm, need 0 to %v mm", g.Spread, mostSpread)
	}
	return nil
}

// mostSpread is more than any needle trembles by that is said to stand still, millimetres.
const mostSpread = 100

// gauged is an event that may hold a reading of an indicator with a cable.
type gauged interface{ ofGauge(Gauged) Event }

func (e Took) ofGauge(g Gauged) Event     { e.Gauge = g; return e }
func (e Wound) ofGauge(g Gauged) Event    { e.Gauge = g; return e }
func (e Wondered) ofGauge(g Gauged) Event { e.Gauge = g; return e }
func (e Worked) ofGauge(g Gauged) Event   { e.Gauge = g; return e }

// A slide that is put in question holds no reading, and no source of one.
func (e Suspected) ofGauge(Gauged) Event { return e }

// Ungauged is an event without where its reading comes from.
func Ungauged(e Event) Event {
	if holds, ok := e.(gauged); ok {
		return holds.ofGauge(Gauged{})
	}
	return e
}

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
	return g
}

// decideTake answers what is asked with a number. What an indicator with a cable shows is only where that is asked for: the
// needle is on a figure whatever else is, and a figure may be one of a list.
func decideTake(s *State, c Take) (Event, error) {
	if c.Gauge == (Gauged{}) {
		return s.question().number(s, c.Reading)
	}
	if err := c.Gauge.check(); err != nil {
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
