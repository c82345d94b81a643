package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// Told: a wind was told.
type Told struct {
	Step int        `json:"step"` // from 1
	Of   int        `json:"of"`
	Wind slide.Wind `json:"wind"`
	// Park says where to park the head and which reading to stop at; null where the wind goes by the
	// collar.
	Park *Park `json:"park,omitempty"`
	// Table says how far to turn the table counter-clockwise for a wind by the collar, radians, where the
	// slide's handwheel cannot be reached everywhere.
	Table *geom.Bearing `json:"table,omitempty"`
	// Tap says that the work is tapped into place; Wind.Travel is then how far it is to go, and the wind has no
	// moves. How many taps it will take nobody knows: Of is Step.
	Tap *Tap `json:"tap,omitempty"`
	// SetOff says that the slide carries the spindle off the axis by the swing radius; Back, home again.
	SetOff bool `json:"set_off,omitempty"`
	Back   bool `json:"back,omitempty"`
	// Open says that the trial goes on behind this wind until Reswept ends it. Older journals do not
	// say so, and their trials end with wind Of.
	Open bool `json:"open,omitempty"`
}

// Reswept: nothing is left to wind in this trial, and the next sweep begins.
type Reswept struct{}

func (Told) row() *EventRow    { return told }
func (Reswept) row() *EventRow { return reswept }

var told = event[Told]{kind: "told", quick: quickTold,
	apply: func(s State, e Told) State {
		if s.Told = &e; s.Phase != Cutting {
			s.Phase = Winding
		}
		return s
	},
}.row()

var reswept = event[Reswept]{kind: "resweep", apply: func(s State, _ Reswept) State {
	s.endTrial()
	return s
}}.row()

func quickTold(payload []byte) (e Told, ok bool) {
	c := cursor{rest: payload}
	c.take(`{"step":`)
	e.Step = c.whole()
	c.take(`,"of":`)
	e.Of = c.whole()
	c.take(`,"wind":{"slide":`)
	w := &e.Wind
	w.Slide = string(c.word())
	c.take(`,"travel":`)
	w.Travel = c.number()
	if c.has(`,"turned":`) {
		w.Turned = c.number()
	}
	c.take(`,"moves":[`)
	w.Moves = make([]slide.Move, 0, 2)
	for more := true; more && !c.bad; more = c.has(",") {
		w.Moves = append(w.Moves, c.move())
	}
	c.take(`],"collar_to":`)
	w.CollarTo = c.number()
	c.take("}")
	if c.has(`,"park":{"bearing":`) {
		e.Park = c.park()
	}
	if c.has(`,"table":`) {
		t := geom.Bearing(c.number())
		e.Table = &t
	}
	e.Open = c.has(`,"open":true`)
	c.take("}")
	return e, c.done()
}

func (c *cursor) move() (m slide.Move) {
	c.take(`{"turn":`)
	if err := m.Turn.UnmarshalText(c.word()); err != nil {
		c.bad = true
	}
	c.take(`,"turns":`)
	m.Turns = c.whole()
	c.take(`,"divisions":`)
	m.Divisions = c.number()
	c.take("}")
	return m
}

func (c *cursor) park() *Park {
	p := Park{Bearing: geom.Bearing(c.number())}
	c.take(`,"now":`)
	p.Now = c.number()
	c.take(`,"past":`)
	p.Past = c.numberOrNull()
	c.take(`,"goal":`)
	p.Goal = c.number()
	c.take(`,"act":`)
	p.Act = c.number()
	if c.has(`,"shift":`) {
		p.Shift = c.number()
	}
	c.take("}")
	return &p
}

// endTrial puts the sweep and its winds among the past trials, and begins the next sweep. It does
// nothing where no wind has been done.
func (s *State) endTrial() {
	if s.Winds == nil {
		return
	}
	s.carryHold()
	s.Past = &Trial{Number: s.Trial, Sweep: s.Sweep, Winds: s.Winds, Before: s.Past}
	s.Trial++
	s.Predicted, s.Believed = s.Believed, nil
	s.Winds, s.Sweep, s.Doubt, s.Told, s.HeadLocked = nil, Sweep{Bezel: s.Bezel}, nil, nil, nil
	s.ready()
}
