package check

import "math"

// segment returns the radius of the circle that has a sagitta over a chord, and its derivatives:
//
//	r = c²/8h + h/2        ∂r/∂c = c/4h        ∂r/∂h = ½ − c²/8h²
//
// from (r − h)² + (c/2)² = r², which holds for every h above 0: for h > c/2 the chord cuts off more
// than half of the circle. ∂r/∂h is 0 at h = c/2, the half circle, and grows as (r/h) beyond: chord 30
// on radius 42 gives −14.
func segment(c, h float64) (r, dc, dh float64) {
	return float64(c*c)/(8*h) + h/2, c / (4 * h), 0.5 - float64(c*c)/(8*h*h)
}

const formulaSegment = "r = c²/8h + h/2"

// halfRound remarks on a sagitta of more than half the chord. There is an answer, but the widest place
// of the circle then lies between the chord and the top, and jaws or feet do not get past it: more
// often the two figures have been exchanged, or one belongs to another arc. Hence no verdict. The chord ends where the
// arc stands at Half: h/(c/2) = tan(Half/2).
func (a *Arc) halfRound(chord, sagitta string, c, h float64) {
	a.Chord, a.Half = c, 2*math.Atan2(2*h, c)
	if h > c/2 {
		a.remark(true, sagitta+" %s over a "+chord+" of %s is more than a half circle: see whether the two are exchanged", h, c)
	}
}

// Chord measures an arc by a chord and the sagitta over it.
func Chord(c, h Figure) (Arc, error) {
	return bySegment("chord", formulaSegment, input{name: "chord", Figure: c}, input{name: "sagitta", Figure: h})
}

func bySegment(way, formula string, c, h input) (Arc, error) {
	if err := above(c, h); err != nil {
		return Arc{}, err
	}
	var r float64
	r, c.slope, h.slope = segment(c.V, h.V)
	a, err := arc(way, formula, r, c, h)
	a.halfRound(c.name, h.name, c.V, h.V)
	return a, err
}

// Base measures an arc by a depth gauge, or a bridge with its plunger in the middle, that stands on
// feet a known base apart: the depth read against a flat is the sagitta. The feet are edges, or balls
// (ball is their diameter, 0 for edges), which roll to the inside of a hollow and to the outside of a
// boss: their centres lie on a circle larger by half of it round a boss, smaller in a hollow, so
//
//	r = b²/8h + h/2 ∓ d/2        − with the metal inside, + with it outside
//
// b between the balls' centres, and the plunger set to zero on the flat that the balls stand on. (A
// flat end of the plunger touches a hollow with its rim: give it a point.)
func Base(b, h, ball Figure, s Side) (Arc, error) {
	base, depth := input{name: "base", Figure: b, known: true}, input{name: "depth", Figure: h}
	if ball.V == 0 {
		return bySegment("base", formulaSegment+" (base c, depth h)", base, depth)
	}
	d := input{name: "foot's ball", Figure: ball, known: true, slope: -s.sign() / 2}
	if err := above(base, depth, d); err != nil {
		return Arc{}, err
	}
	var r float64
	r, base.slope, depth.slope = segment(b.V, h.V)
	formula := "r = b²/8h + h/2 − d/2"
	if s == Outside {
		formula = "r = b²/8h + h/2 + d/2"
	}
	if r += d.slope * d.V; !(r > 0) {
		return Arc{}, &ShapeError{Remark{Form: "feet with balls of %s make a radius of %s, need one above 0",
			Lengths: []float64{ball.V, r}}, "check the side of the metal, and that the base is taken between the balls' centres"}
	}
	a, err := arc("base", formula, r, base, depth, d)
	a.halfRound("base", "depth", b.V, h.V)
	return a, err
}

// Cusp measures the radius of grooves of one radius that were cut a pitch apart, by the height of the
// cusp between two of them, or of the valley between two ribs: over a chord as long as the pitch the
// arc has that sagitta.
func Cusp(pitch, height Figure) (Arc, error) {
	return bySegment("cusp", "r = p²/8s + s/2", input{name: "pitch", Figure: pitch, known: true}, input{name: "cusp", Figure: height})
}

// Diameter measures a full circle, or a rim of more than half a one, across.
func Diameter(d Figure) (Arc, error) {
	in := input{name: "diameter", Figure: d, slope: 0.5}
	if err := above(in); err != nil {
		return Arc{}, err
	}
	return arc("diameter", "r = d/2", d.V/2, in)
}

// PinInHollow measures a hollow by the chord across its rim and a pin or ball of diameter D that lies
// on its bottom, whose top stands e above the rim (− below): the hollow is h = D − e deep, and that is
// the sagitta over the chord. The pin has to reach the bottom: D/2 < r.
func PinInHollow(chord, pin, above0 Figure) (Arc, error) {
	c, d, e := input{name: "chord", Figure: chord}, input{name: "pin", Figure: pin, known: true},
		input{name: "height over the rim", Figure: above0}
	if err := finite(c, d, e); err != nil {
		return Arc{}, err
	}
	h := d.V - e.V
	if err := above(c, d, input{name: "depth of the hollow (pin less its height over the rim)", Figure: Figure{V: h}}); err != nil {
		return Arc{}, err
	}
	r, dc, dh := segment(c.V, h)
	if !(d.V/2 < r) {
		return Arc{}, &ShapeError{Remark{Form: "a pin of %s in a hollow of radius %s does not lie on its bottom, need one below %s",
			Lengths: []float64{d.V, r, 2 * r}}, "take a smaller pin"}
	}
	c.slope, d.slope, e.slope = dc, dh, -dh
	a, err := arc("pin in the hollow", "r = c²/8h + h/2, h = D − e", r, c, d, e)
	a.halfRound("chord", "depth", c.V, h)
	return a, err
}
