package setup

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// Handwheel is that of a table: it turns the table by a worm. Angles are radians of the table.
type Handwheel struct {
	// Turn is what one turn of the handle turns the table by; 0 where the machine has none, or nobody has said.
	Turn float64 `json:"turn"`
	// Divisions is how many marks its collar has, 0 where it is figured in degrees of the table.
	Divisions float64 `json:"divisions,omitempty"`
	// Clockwise is what a turn clockwise, facing the handle, does to the figure that the table's ring shows.
	Clockwise slide.Way `json:"clockwise"`
	// Play is how far the handle turns, as turn of the table, before the table follows when the way is changed.
	Play float64 `json:"play,omitempty"`
}

// Crank is one movement of the handle. Rest is what goes beyond whole turns: divisions of its collar, or degrees of the table
// where that has none.
type Crank struct {
	Turn  slide.Turn `json:"turn"`
	Turns int        `json:"turns"`
	Rest  float64    `json:"rest"`
}

// Known reports whether the machine states one.
func (h Handwheel) Known() bool { return h.Turn > 0 }

// Check refuses what is no handwheel.
func (h Handwheel) Check() error {
	switch {
	case h == Handwheel{}:
		return nil
	case !(h.Turn > 0) || math.IsInf(h.Turn, 0):
		return fmt.Errorf("the table's handwheel turns it by %v°, need above 0", degreesOf(h.Turn))
	case !(h.Play >= 0) || h.Play > h.Turn:
		return fmt.Errorf("a worm play of %v°, need 0 to one turn of the handwheel, %v°", degreesOf(h.Play), degreesOf(h.Turn))
	case !(h.Divisions >= 0) || math.IsInf(h.Divisions, 0):
		return fmt.Errorf("%v divisions of the table's handwheel, need 0 or above", h.Divisions)
	}
	return nil
}

func degreesOf(rad float64) float64 { return tidy(geom.Bearing(rad).Degrees()) }

// Over is how far the table is turned beyond the play to be sure that it is taken up: a tenth of a turn of the handle more
// (common practice, no source).
func (h Handwheel) Over() float64 { return h.Play + h.Turn/10 }

// crank is the movement of the handle that turns the table by so much, + counter-clockwise from above, as its ring r counts.
func (h Handwheel) crank(r Ring, by float64) Crank {
	grows := by > 0
	if r.Figures == slide.Clockwise {
		grows = !grows
	}
	c := Crank{Turn: slide.Clockwise}
	if grows != (h.Clockwise == slide.Increase) {
		c.Turn = slide.Anticlockwise
	}
	turns := tidy(math.Abs(by) / h.Turn)
	whole := math.Floor(turns)
	c.Turns, c.Rest = int(whole), tidy((turns-whole)*h.whole())
	return c
}

// whole is one turn as the rest is counted: divisions, or degrees of the table.
func (h Handwheel) whole() float64 {
	if h.Divisions > 0 {
		return h.Divisions
	}
	return geom.Bearing(h.Turn).Degrees()
}

// Through are the movements that carry on by so much, the play being shut already.
func (h Handwheel) Through(r Ring, by geom.Bearing) []Crank {
	if by == 0 {
		return nil
	}
	return []Crank{h.crank(r, float64(by))}
}

// To are the movements from one table angle to another, the last of them always the way up: + counter-clockwise from above. The
// table goes the shorter way round; against the way up it is turned past by [Handwheel.Over], and brought up.
func (h Handwheel) To(r Ring, from, to geom.Bearing, up float64) []Crank {
	by := math.Remainder(float64(to-from), 2*math.Pi)
	switch {
	case math.Abs(by) < 1e-12:
		return nil
	case by*up > 0:
		return []Crank{h.crank(r, by)}
	}
	past := by - math.Copysign(h.Over(), up)
	return []Crank{h.crank(r, past), h.crank(r, math.Copysign(h.Over(), up))}
}
