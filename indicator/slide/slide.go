// Package slide turns a distance that a slide must go into what the hand does at its handwheel:
// turns and divisions, the way to turn, and the order of movements that keeps the play shut.
package slide

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Way is the way a coordinate goes.
type Way int8

const (
	// Increase: the slide's coordinate grows.
	Increase Way = 1
	// Decrease: the slide's coordinate shrinks.
	Decrease Way = -1
)

// String is the word that files use.
func (w Way) String() string {
	if w == Decrease {
		return "decrease"
	}
	return "increase"
}

// MarshalText writes the word.
func (w Way) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads "increase" or "decrease".
func (w *Way) UnmarshalText(b []byte) error {
	switch string(b) {
	case "increase":
		*w = Increase
	case "decrease":
		*w = Decrease
	default:
		return fmt.Errorf("way %q, need increase or decrease", b)
	}
	return nil
}

// Turn is the way the hand turns a handwheel or a ring is figured, seen facing it.
type Turn int8

const (
	// Clockwise, seen facing the handle.
	Clockwise Turn = 1
	// Anticlockwise, seen facing the handle.
	Anticlockwise Turn = -1
)

// String is the word that files and the screen use.
func (t Turn) String() string {
	if t == Anticlockwise {
		return "anticlockwise"
	}
	return "clockwise"
}

// MarshalText writes the word.
func (t Turn) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads "clockwise" or "anticlockwise".
func (t *Turn) UnmarshalText(b []byte) error {
	switch string(b) {
	case "clockwise":
		*t = Clockwise
	case "anticlockwise":
		*t = Anticlockwise
	default:
		return fmt.Errorf("turn %q, need clockwise or anticlockwise", b)
	}
	return nil
}

// Slide is one slide and its handwheel, as the machine file describes it. Lengths are
// millimetres.
type Slide struct {
	Name string `json:"name"`
	// TravelPerTurn is what one turn of the handwheel moves, and Divisions how many marks its
	// collar has.
	TravelPerTurn float64 `json:"travel_per_turn"`
	Divisions     float64 `json:"divisions"`
	// Clockwise is what a clockwise turn does to the slide's coordinate.
	Clockwise Way `json:"clockwise"`
	// TakeUp is the way that the last movement always goes.
	TakeUp Way `json:"take_up"`
	// Figures is the way the hand turns for the collar's figures to grow.
	Figures Turn `json:"figures"`
	// Backlash is the play between handwheel and slide.
	Backlash float64 `json:"backlash"`
	// BacklashLimit bounds the error of Backlash, ±; 0 where nobody has said how right it is.
	BacklashLimit float64 `json:"backlash_limit,omitempty"`
	// Overshoot is how far to wind past the goal where the play must be taken up; 0 for the
	// usual max(1.5 × backlash, half a turn).
	Overshoot float64 `json:"overshoot"`
	// Low and High are the ends of the slide's travel by its own scale; both 0 where they are not stated.
	Low  float64 `json:"low,omitempty"`
	High float64 `json:"high,omitempty"`
	// ByCollar says that the slide is wound by its collar even where the needle could be watched: the
	// dial cannot be seen from the handwheel.
	ByCollar bool `json:"by_collar,omitempty"`
	// Keeps says that the collar keeps its figures: it is not set to 0 for a wind.
	Keeps bool `json:"collar_keeps,omitempty"`
	// Lock says that the slide is clamped once it stands.
	Lock bool `json:"lock,omitempty"`
	// Readout says that a digital readout watches this slide.
	Readout bool `json:"readout"`
	// Step is what the readout counts in; 0 for the usual usualStep.
	Step float64 `json:"readout_step,omitempty"`
	// Askew is how far, radians counter-clockwise, the slide's direction is turned from what its name
	// says, as the machine file states it, and AskewLimit bounds the error of that, ±; 0 is exact.
	Askew      float64 `json:"askew,omitempty"`
	AskewLimit float64 `json:"askew_limit,omitempty"`
	// ReachedFrom and ReachedTo are the table angles between which the handwheel of a slide on the table
	// can be reached, counter-clockwise from the first to the second; both 0 for anywhere.
	ReachedFrom geom.Bearing `json:"reached_from,omitempty"`
	ReachedTo   geom.Bearing `json:"reached_to,omitempty"`
}

// usualStep is what a readout counts in where nobody has said, millimetres (common practice, no source).
const usualStep = 0.005

// ReadoutStep returns what the readout counts in.
func (s Slide) ReadoutStep() float64 {
	if s.Step > 0 {
		return s.Step
	}
	return usualStep
}

// Division returns what one division of the collar is worth, millimetres.
func (s Slide) Division() float64 { return s.TravelPerTurn / s.Divisions }

// Finest returns the smallest wind that a hand can set: a tenth of a division (common practice,
// no source).
func (s Slide) Finest() float64 { return s.Division() / 10 }

// Past returns how far to wind beyond the goal before coming back the take-up way.
func (s Slide) Past() float64 {
	if s.Overshoot > 0 {
		return s.Overshoot
	}
	return max(1.5*s.Backlash, s.TravelPerTurn/2)
}

// PastParked returns how far the hand winds beyond the goal under the needle, which shows where the
// slide is: the play, and a tenth of a millimetre or three times the play's doubt for the slide itself,
// where half a turn would leave the dial. The play is known to a fifth of itself until it has been
// learnt (common practice, no source).
func (s Slide) PastParked() float64 {
	if s.Overshoot > 0 {
		return s.Overshoot
	}
	return s.Backlash + max(0.1, 3*s.Backlash/5)
}

// Beyond returns by how much a place on the slide's own scale lies beyond its travel: + above its upper
// end, − below its lower one, 0 inside or where no travel is stated.
func (s Slide) Beyond(at float64) float64 {
	switch {
	case s.Low == 0 && s.High == 0:
		return 0
	case at > s.High:
		return at - s.High
	case at < s.Low:
		return at - s.Low
	}
	return 0
}

// hand returns the way to turn for the coordinate to go the given way.
func (s Slide) hand(w Way) Turn { return Turn(w) * Turn(s.Clockwise) }

// Move is one movement of the hand: whole turns and divisions of the collar, both ≥ 0.
type Move struct {
	Turn      Turn    `json:"turn"`
	Turns     int     `json:"turns"`
	Divisions float64 `json:"divisions"`
}

// move spells a distance (≥ 0, millimetres) as turns and divisions.
func (s Slide) move(w Way, distance float64) Move {
	all := distance / s.Division()
	turns := math.Floor(all / s.Divisions)
	div := all - turns*s.Divisions
	if s.Divisions-div < 1e-9*s.Divisions { // 1.9999999999 turns are two
		turns, div = turns+1, 0
	}
	return Move{Turn: s.hand(w), Turns: int(turns), Divisions: max(0, div)}
}

// Counted is a movement of so many divisions of the collar (≥ 0).
func (s Slide) Counted(t Turn, divisions float64) Move {
	turns := math.Floor(divisions / s.Divisions)
	return Move{Turn: t, Turns: int(turns), Divisions: divisions - turns*s.Divisions}
}

// Shown returns the movement to the tenth of a division that a hand can set, as it is to be told:
// 99.96 of 100 divisions are a turn.
func (s Slide) Shown(m Move) Move {
	m.Divisions = tenths(m.Divisions)
	if m.Divisions >= s.Divisions {
		m.Turns, m.Divisions = m.Turns+1, 0
	}
	return m
}

// ShownCollar returns a collar's figure to the tenth, in [0, Divisions).
func (s Slide) ShownCollar(figure float64) float64 {
	if figure = tenths(figure); figure >= s.Divisions {
		return 0
	}
	return figure
}

func tenths(d float64) float64 { return math.Round(d*10) / 10 }

// Wind is one handwheel instruction.
type Wind struct {
	Slide string `json:"slide"`
	// Travel is what the slide itself must do, net of overshoot: + increases its coordinate.
	Travel float64 `json:"travel"`
	// Turned is how far the collar goes for it, by what the screw has taught; 0 where that is Travel.
	Turned float64 `json:"turned,omitempty"`
	// Moves are what the hand does, in order; the last goes the take-up way.
	Moves []Move `json:"moves"`
	// CollarTo is where the collar stands at the end, in divisions from 0 up to a whole turn,
	// when it was set to zero before the first movement.
	CollarTo float64 `json:"collar_to"`
}

// By is how far the collar goes for the wind, net of overshoot, + where the slide's coordinate grows.
func (w Wind) By() float64 {
	if w.Turned != 0 {
		return w.Turned
	}
	return w.Travel
}

// Wind spells a travel for a slide that stands loaded: wound off and brought up the take-up
// way, so that the play is shut on the known side. A travel that goes the take-up way is one
// movement. One that goes the other way is wound past its goal by Past and brought back: the
// play is lost once on the way out and once on the way back, and the slide ends where the collar
// says.
func (s Slide) Wind(travel float64) Wind { return s.wind(travel, s.Past()) }

// WindParked is [Slide.Wind] for a slide that is watched through the indicator: it is wound past by
// PastParked only, and the last movement ends where the needle says.
func (s Slide) WindParked(travel float64) Wind { return s.wind(travel, s.PastParked()) }

// WindBy is [Slide.Wind] for a slide whose collar has to be turned by another figure than it moves.
func (s Slide) WindBy(travel, turned float64) Wind {
	w := s.wind(turned, s.Past())
	w.Travel, w.Turned = travel, turned
	return w
}

// WindFromBehind is [Slide.WindParked] for a travel whose way is not sure: the slide is wound back past
// its goal in any case, and comes up to it the take-up way.
func (s Slide) WindFromBehind(travel float64) Wind {
	past := s.PastParked()
	back := past - travel*float64(s.TakeUp)
	if back <= 0 {
		return s.WindParked(travel)
	}
	return Wind{Slide: s.Name, Travel: travel, Moves: []Move{s.move(-s.TakeUp, back), s.move(s.TakeUp, past)}, CollarTo: s.Collar(travel)}
}

func (s Slide) wind(travel, past float64) Wind {
	w := Wind{Slide: s.Name, Travel: travel}
	if travel*float64(s.TakeUp) >= 0 {
		w.Moves = []Move{s.move(s.TakeUp, math.Abs(travel))}
	} else {
		w.Moves = []Move{s.move(-s.TakeUp, math.Abs(travel)+past), s.move(s.TakeUp, past)}
	}
	w.CollarTo = s.Collar(travel)
	return w
}

// Load returns the two movements that bring the slide up in its take-up way without leaving its
// place: off by Past and back by as much. Where the play lay is not known before, so the slide
// may end up to its backlash away from where it stood.
func (s Slide) Load() []Move {
	return []Move{s.move(-s.TakeUp, s.Past()), s.move(s.TakeUp, s.Past())}
}

// Collar returns the figure a collar shows after a net travel from zero, in divisions, in
// [0, Divisions).
func (s Slide) Collar(travel float64) float64 {
	d := travel / s.Division() * float64(s.Clockwise) * float64(s.Figures)
	d = math.Mod(d, s.Divisions)
	if d < 0 {
		d += s.Divisions
	}
	if s.Divisions-d < 1e-9*s.Divisions {
		d = 0
	}
	return d
}

// TurnsOf spells a collar's count, millimetres, as whole turns and the divisions shown on top of them, in
// tenths; turns are negative below the origin.
func (s Slide) TurnsOf(count float64) (turns int, divisions float64) {
	t := math.Floor(count / s.TravelPerTurn)
	div := tenths((count - t*s.TravelPerTurn) / s.Division())
	if div >= s.Divisions {
		t, div = t+1, 0
	}
	return int(t), div
}
