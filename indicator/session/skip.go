package session

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/trammel/geom"
)

// Skipped: a station was left out; Off says that the needle stood beyond the dial there.
type Skipped struct {
	Bearing geom.Bearing `json:"bearing"`
	Off     Off          `json:"off,omitempty"`
	// Again is the station (from 1) whose doubted reading is left out; 0 for a new station.
	Again int `json:"again,omitempty"`
}

// Off says beyond which end of the dial the needle stood.
type Off string

// The two ends: the tip pressed beyond the dial's travel, and the tip standing free.
const (
	NotOff  Off = ""
	Pressed Off = "pressed"
	Free    Off = "free"
)

// Skip leaves the station, or the step of the order at the machine, out; Off says that the needle is beyond the dial
// there.
type Skip struct{ Off Off }

func (Skipped) row() *EventRow { return skipped }
func (Skip) row() *CommandRow  { return skip }

var skipped = event[Skipped]{kind: "skipped", undo: "the skipped station",
	met:   func(_ *State, e Skipped) (stood, bool) { return stood{e.Bearing, e.Off != NotOff}, true },
	check: func(e Skipped) error { return e.Off.check() },
	fits:  func(s *State, e Skipped) error { return cmp.Or(isBearing(e.Bearing), s.hasStation(e.Again, 0)) },
	apply: func(s *State, e Skipped) { s.put(Station{Bearing: e.Bearing, Skipped: true, Off: e.Off}, e.Again) },
	anew: func(s *State, e Skipped, _ *Change) (Command, string) {
		if s.Doubt == nil && e.Again > 0 {
			return nil, ""
		}
		return Skip{e.Off}, s.otherThan(e.Bearing)
	},
}.row()

var skip = command[Skip]{word: "skip", help: "leave the station or the step out", keys: []string{"s"}, label: "skip",
	not: func(n *Now) string {
		return unless(n.reading() || n.Skippable || n.Waits == ForCheck, "no station is asked for")
	},
	needle: func(c Skip) bool { return c.Off != NotOff },
	decide: decideSkip,
}.row()

// Words says in a machinist's words beyond which end of the dial the needle is.
func (o Off) Words() string {
	switch o {
	case Pressed:
		return "over-pressed"
	case Free:
		return "not touching"
	case NotOff:
	}
	return string(o)
}

// off is the word for a needle beyond the dial: what it says is a [Skip].
var off = command[Skip]{word: "off", forms: []Phrase{
	{"off pressed", "the needle is off the dial: " + Pressed.Words()}, {"off free", "the needle is off the dial: " + Free.Words()}},
	keys: []string{"o"}, label: "off dial",
	choices: []Choice{{"p", string(Pressed), "needle off: " + Pressed.Words()}, {"f", string(Free), "needle off: " + Free.Words()}},
	asks:    "off the dial: how does the tip stand?",
	not:     func(n *Now) string { return unless(n.reading() || n.Parked, "no station is asked for") },
	parse: func(rest string, _ geom.Unit) (Skip, error) {
		if o := Off(strings.TrimSpace(rest)); o != NotOff && o.check() == nil {
			return Skip{o}, nil
		}
		return Skip{}, ErrUnknownWord
	},
	decide: decideSkip,
}.row()

func decideSkip(s *State, c Skip) (Event, error) {
	if err := c.Off.check(); err != nil {
		return nil, refuse("", "%v", err)
	}
	return s.question().skip(s, c.Off)
}

func (o Off) check() error {
	switch o {
	case NotOff, Pressed, Free:
		return nil
	}
	return fmt.Errorf("off %q, need %s or %s", o, Pressed, Free)
}
