package session

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Raise begins a second sweep of the same stations, Height above the first one's plane (below where it is
// negative), millimetres, to find how far the reference leans.
type Raise struct{ Height float64 }

// Raised: the second sweep began.
type Raised struct {
	Height float64 `json:"height"`
}

// Tilted: the second sweep is over, and the first one stands again. X and Y are by how much the
// reference's centre goes aside for a millimetre upwards, and U is the expanded uncertainty of that in the
// direction in which it is known least; Limit is the bound that stands for the stated tilt from now on.
// Failed says that the two sweeps could not be compared; the figures are 0 then.
type Tilted struct {
	Height float64 `json:"height"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	U      float64 `json:"u"`
	Limit  float64 `json:"limit"`
	Failed bool    `json:"failed,omitempty"`
}

func (Raised) row() *EventRow  { return raised }
func (Tilted) row() *EventRow  { return tilted }
func (Raise) row() *CommandRow { return raise }

var raised = event[Raised]{kind: "height", undo: "the second sweep",
	fits: func(s *State, e Raised) error {
		switch {
		case e.Height == 0:
			return errors.New("a second sweep at the height of the first, need one above or below")
		case s.Sweep.Closed == "":
			return errors.New("a second sweep, and no first one is closed, need that")
		}
		return nil
	},
	apply: func(s *State, e Raised) { s.raised(e) },
}.row()

var tilted = event[Tilted]{kind: "tilt",
	fits: func(s *State, e Tilted) error {
		if err := cmp.Or(notBelow("doubt", e.U), notBelow("limit", e.Limit)); err != nil {
			return err
		}
		if r := s.Raising; r == nil || r.Height != e.Height {
			return fmt.Errorf("a tilt over %v mm, need a second sweep at that height", e.Height)
		}
		return nil
	},
	apply: func(s *State, e Tilted) { s.tilted(e) },
}.row()

var raise = command[Raise]{word: "height", forms: []Phrase{{"height H", "sweep once more, H above, for the tilt"}}, example: "like 30",
	keys: []string{"z"}, label: "height", needle: needed[Raise], parse: ParseRaise, field: asked(ParseRaise), figures: 1,
	decide: decideRaise,
	not: func(n *Now) string {
		return unless(n.Waits == ForWind || n.Waits == ForAccept, "no closed sweep stands")
	},
}.row()

// Raising is a second sweep under way, with what stood before it.
type Raising struct {
	Height    float64
	First     Sweep
	Predicted *indicator.Estimate
}

// leastHeight is the least distance between two sweeps, millimetres: below, the readings' spread makes
// more of a lean than any machine has (common practice, no source).
const leastHeight = 1

func decideRaise(s *State, h Raise) (Event, error) {
	const like = "height H: how far above the first sweep, like height 30"
	u := s.Set.Job.Unit
	switch {
	case s.Raising != nil:
		return nil, refuse(s.hint(), "a second sweep is under way, %.6g %v above the first", u.From(s.Raising.Height), u)
	case s.Sweep.Closed == "" || s.Winds != nil || (s.Phase != Winding && s.Phase != SettledDown):
		return nil, refuse("finish the sweep first, and wind nothing before the second",
			"no closed sweep stands to compare a second one with")
	case math.IsNaN(h.Height) || math.Abs(h.Height) < leastHeight || math.Abs(h.Height) > 1000:
		return nil, refuse(like, "a height of %.6g %v, need %.4g to %.6g %v up or down", u.From(h.Height), u, u.From(leastHeight),
			u.From(1000), u)
	}
	if f, err := s.Fit(); err != nil || f.Dof <= 0 {
		return nil, refuse("take more stations in the first sweep", "the first sweep knows no uncertainty to compare with")
	}
	return Raised(h), nil
}

// ParseRaise reads a height in unit u. The error is a *[Refusal].
func ParseRaise(text string, u geom.Unit) (Raise, error) {
	v, err := geom.ParseLength(text, u)
	if err != nil {
		return Raise{}, refuse("height H: how far above the first sweep, like height 30", "%v", err)
	}
	return Raise{u.MM(v)}, nil
}

// raised begins the second sweep.
func (s *State) raised(e Raised) {
	s.Raising = &Raising{Height: e.Height, First: s.Sweep, Predicted: s.Predicted}
	s.Sweep, s.Phase, s.Told, s.Predicted, s.Doubt = Sweep{Bezel: s.Bezel}, Sweeping, nil, nil, nil
}

// tilt compares the second sweep, which is closed, with the first.
func (s *State) tilt() Tilted {
	t := Tilted{Height: s.Raising.Height, Failed: true}
	high, err := s.Fit()
	below := *s
	below.Sweep, below.Doubt = s.Raising.First, nil
	low, lowErr := below.Fit()
	if err != nil || lowErr != nil {
		return t
	}
	per, u, ok := advice.Lean(&low, &high, t.Height)
	if !ok {
		return t
	}
	t.X, t.Y, t.U, t.Failed = per.X, per.Y, u, false
	t.Limit = math.Hypot(t.X, t.Y) + t.U
	return t
}

// tilted goes back to the first sweep, with the tilt known.
func (s *State) tilted(e Tilted) {
	r := s.Raising
	if r == nil {
		return
	}
	s.Sweep, s.Predicted, s.Phase, s.Raising, s.Doubt = r.First, r.Predicted, Sweeping, nil, nil
	if !e.Failed {
		s.Tilt = &e
	}
}

// Above returns how far above the first sweep readings are taken now, millimetres: 0 but for a second one.
func (s *State) Above() float64 {
	if s.Raising == nil {
		return 0
	}
	return s.Raising.Height
}
