package session

import (
	"example.org/trammel/indicator"
)

// Settled: nothing is left to wind.
type Settled struct {
	Radius indicator.Verdict `json:"radius"`
	Centre indicator.Verdict `json:"centre"`
}

// Accepted ends the setting. The figures are a witness of what the screen showed; the fold
// computes its own. Lengths are millimetres; Swing is null where no swing radius is known.
type Accepted struct {
	Swing   *float64   `json:"swing"`
	Centre  [2]float64 `json:"centre"`
	Program string     `json:"program"`
	// Goal is the centre's coordinates by the readout, in setup points.
	Goal *Place `json:"goal,omitempty"`
}

// Accept ends the setting.
type Accept struct{}

func (Settled) row() *EventRow  { return settled }
func (Accepted) row() *EventRow { return accepted }
func (Accept) row() *CommandRow { return accept }

var settled = event[Settled]{kind: "settled", apply: func(s *State, _ Settled) { s.Phase = SettledDown }}.row()

var accepted = event[Accepted]{kind: "accepted", undo: "the accepted setting", final: true,
	fits: func(_ *State, e Accepted) error {
		if e.Swing == nil {
			return nil
		}
		return positive("swing", *e.Swing)
	},
	apply: func(s *State, _ Accepted) {
		s.learnRadius()
		s.leaves()
		s.Phase, s.Worked = Cutting, nil
		s.goesOn()
		s.onward()
	},
}.row()

var accept = command[Accept]{word: "accept", help: "accept the setting as it stands", keys: []string{"a"}, label: "accept",
	ends: "the setting ends as it stands",
	not: func(n *Now) string {
		return unless(n.Waits == ForAccept, "nothing has settled yet, so there is nothing to accept")
	},
	decide: decideAccept,
}.row()

// acceptAsked: nothing is left to wind.
type acceptAsked struct{ unanswered }

func (acceptAsked) prompt(*State) Prompt { return Prompt{Waits: ForAccept} }

func (acceptAsked) number(s *State, v float64) (Event, error) { return nothingAsked{}.number(s, v) }

func (acceptAsked) hint(*State) string { return "accept, or begin the sweep again" }

func decideAccept(s *State, _ Accept) (Event, error) {
	switch {
	case s.Phase == Cutting:
		return nil, refuse(s.hint(), "the setting is accepted")
	case s.Phase != SettledDown:
		return nil, refuse(s.hint(), "nothing has settled yet")
	case s.headDue():
		return nil, refuse("close it and read the dial, or skip", "the head's lock has not been closed and read")
	}
	f, err := s.Fit()
	if err != nil {
		return nil, refuse("begin the sweep again", "%v", err)
	}
	g, _ := s.Standing(&f)
	a := Accepted{Centre: [2]float64{g.Circle.Centre.X, g.Circle.Centre.Y}, Program: s.Set.Program, Goal: (*Place)(s.Goal())}
	if v, ok := s.Swing(&f); ok {
		a.Swing = &v.V
	}
	return a, nil
}
