package check

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// pinsOverlap: pins that would stand in each other.
func pinsOverlap(what string, m, d, need float64) error {
	return &ShapeError{Remark{Form: what + " %s with pins of %s: the pins would stand in each other, need more than %s",
		Lengths: []float64{m, d, need}}, "take smaller pins, and check which side of them was measured"}
}

// touches remarks where on the arc the pins touch, by the sine of the angle from the middle.
func (a *Arc) touches(sine float64, beyond bool) {
	angle := geom.Bearing(math.Asin(min(1, sine))).Degrees()
	if beyond {
		angle = 180 - angle
	}
	a.Half = float64(geom.FromDegrees(angle))
	a.remark(false, fmt.Sprintf("the pins touch %.1f° to either side of the middle: the arc must reach that far", angle))
	if beyond {
		a.remark(true, "the pins are too big: they touch beyond the widest place, which only a full round has")
	}
}

// OverPins measures a convex arc that stands on a plate between two equal pins of diameter D by M over
// the pins: with pin and arc on the same plate (r + D/2)² = x² + (r − D/2)², x = (M − D)/2, so
//
//	r = (M − D)²/8D        ∂r/∂M = (M − D)/4D        ∂r/∂D = −(M − D)/4D − (M − D)²/8D²
//
// Source: the rolls of the handbooks (testdata/shop). A reprint that has M + D is wrong.
func OverPins(m, d Figure) (Arc, error) {
	over, pin := input{name: "size over the pins", Figure: m}, input{name: "pin", Figure: d, known: true}
	if err := above(over, pin); err != nil {
		return Arc{}, err
	}
	if !(m.V > 2*d.V) {
		return Arc{}, pinsOverlap("over the pins", m.V, d.V, 2*d.V)
	}
	w := m.V - d.V
	return onPlate("over pins", "r = (M − D)²/8D", w, -1, over, pin)
}

// BetweenPins is [OverPins] by the inside measurement I between the same two pins: M = I + 2D, so
//
//	r = (I + D)²/8D
func BetweenPins(i, d Figure) (Arc, error) {
	between, pin := input{name: "size between the pins", Figure: i}, input{name: "pin", Figure: d, known: true}
	if err := above(between, pin); err != nil {
		return Arc{}, err
	}
	return onPlate("between pins", "r = (I + D)²/8D", i.V+d.V, 1, between, pin)
}

// onPlate: w lies between the pins' middles, and grows by dw as the pins do.
func onPlate(way, formula string, w, dw float64, across, pin input) (Arc, error) {
	d := pin.V
	r := w / d * w / 8
	across.slope = w / (4 * d)
	pin.slope = float64(dw*across.slope) - r/d
	a, err := arc(way, formula, r, across, pin)
	a.touches(w/2/(r+d/2), d > 2*r)
	return a, err
}

// PinsInHollow measures a hollow by two equal pins of diameter D lying in it, L over the pins, and a
// height H from the bottom of the hollow to a plate, or a straight edge, across both pins (the same
// thing upside down: the work stands with its hollow on two pins on a plate, H from the plate to the top
// of the hollow). A pin's middle is r − D/2 from the arc's, x = (L − D)/2 to the side and H − r − D/2
// away from it along H, so
//
//	r = x²/2y + H/2,  y = H − D        ∂r/∂L = x/2y        ∂r/∂H = ½ − x²/2y²        ∂r/∂D = −x/2y + x²/2y²
//
// Pins that touch each other, as they roll to the middle of themselves, have L = 2D.
func PinsInHollow(l, d, h Figure) (Arc, error) {
	over, pin, high := input{name: "size over the pins", Figure: l}, input{name: "pin", Figure: d, known: true},
		input{name: "height over the bottom", Figure: h}
	if err := above(over, pin, high); err != nil {
		return Arc{}, err
	}
	if !(l.V >= 2*d.V) { // touching is allowed
		return Arc{}, pinsOverlap("over the pins", l.V, d.V, 2*d.V)
	}
	x, y := (l.V-d.V)/2, h.V-d.V
	if !(y > 0) {
		return Arc{}, &ShapeError{Remark{Form: "height %s over the bottom with pins of %s: the pins stand no higher than one at the " +
			"bottom would, need more than %s", Lengths: []float64{h.V, d.V, d.V}},
			"check that the height is taken from the bottom of the hollow to what lies across both pins"}
	}
	over.slope = x / (2 * y)
	bow := x / y * x / y / 2
	high.slope = 0.5 - bow
	pin.slope = bow - over.slope
	r := x/y*x/2 + h.V/2
	a, err := arc("pins in the hollow", "r = (L − D)²/8(H − D) + H/2", r, over, pin, high)
	a.touches(x/(r-d.V/2), y > x)
	return a, err
}
