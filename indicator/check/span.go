package check

import (
	"math"
	"slices"

	"example.org/trammel/geom"
)

// Span is what is known beforehand of an arc that is to be measured: with its metal on Side where Sided, made to Radius, over
// Angle (radians, 2π all round); 0 of what is not known. Hole is the diameter of the hole or boss about its middle; 0 where
// there is none to measure from, and NoHole says why. Lengths are millimetres.
type Span struct {
	Side          Side
	Sided         bool
	Radius, Angle float64
	Hole          float64
	NoHole        string
}

// around is the angle of the whole round, less what two decimals of a degree leave of it.
const around = 2*math.Pi - 1e-4

// overreach is how far an end of the arc may seem to lie beyond where the drawing has it, millimetres: a corner that was
// broken, a radius that came out a tenth too large (common practice, no source).
const overreach = 0.1

// Not says why a way cannot measure an arc, whatever its figures come to; empty where it can.
func (w *Way) Not(s *Span) string {
	switch {
	case s.Sided && w.Only != nil && *w.Only != s.Side && s.Side == Outside:
		return "this arc is a hollow, and no pins can be laid at its sides; need a convex one"
	case s.Sided && w.Only != nil && *w.Only != s.Side:
		return "this arc is convex, and no pins lie in it; need a hollow"
	case slices.Contains(w.Needs, "diameter") && s.Angle > 0 && s.Angle < math.Pi:
		return Remark{Form: "this arc goes round " + degrees(s.Angle) + ", need 180° or more to measure across it"}.In(geom.Millimetre)
	case slices.Contains(w.Needs, "hole") && s.Hole == 0:
		return s.NoHole
	case slices.Contains(w.Needs, "hole") && s.Radius > 0 && s.Radius <= s.Hole/2:
		return "this arc lies within the reference that was swept: there is no way outwards from its wall to it"
	}
	return ""
}

// Beyond refuses figures that an arc of the span cannot have: what was laid across it or at its sides would touch beyond its
// ends. The error is a *[ShapeError]. A chord longer than the most is told with that in whole units below, which says no
// more of the radius than the drawing's corner does.
func (a *Arc) Beyond(s *Span) error {
	if !(s.Radius > 0) {
		return nil
	}
	most := 2 * (s.Radius + overreach)
	if s.Angle > 0 && s.Angle < math.Pi {
		most = 2 * (s.Radius*math.Sin(s.Angle/2) + overreach)
	}
	switch part := s.Angle > 0 && s.Angle < around; {
	case a.Chord > most:
		what := "any of this arc can be"
		if part {
			what += ", which goes round " + degrees(s.Angle)
		}
		return &ShapeError{Remark{Form: "a chord of %s is longer than " + what + ", need at most about %s",
			Lengths: []float64{a.Chord, math.Floor(most)}}, "take a shorter chord, with both its ends on the arc"}
	case part && 2*a.Half > s.Angle+2*overreach/s.Radius:
		return &ShapeError{Remark{Form: "what was laid on touches " + degrees(a.Half) + " to either side of the middle, and this arc " +
			"goes " + degrees(s.Angle/2) + " to either side, need no more"},
			"take smaller pins or a shorter chord, and see whether figures are exchanged"}
	case a.Half > math.Pi/2 && !part && s.Angle == 0 && a.Chord == 0:
		return &ShapeError{Remark{Form: "the pins are too big: they touch beyond the widest place"}, "take smaller pins"}
	}
	return nil
}

func degrees(rad float64) string {
	return geom.FormatFixed(geom.Bearing(rad).Degrees(), 1) + "°"
}

// Should is what the figure that a way aims at should have been for an arc of a radius, its others as they were measured:
// of the chord's way the sagitta under that chord. ok is false where there is none.
//
// It is the way's own formula turned round by Newton's steps, with a difference for the slope: each is of one figure alone and
// rises or falls throughout on either side of the half round.
func (w *Way) Should(f func(name string) Figure, s Side, radius float64) (v float64, ok bool) {
	if w.Aim == "" || w.Measure == nil {
		return 0, false
	}
	at := func(x float64) float64 {
		a, err := w.Measure(func(name string) Figure {
			if name == w.Aim {
				return Figure{V: x, Limit: 1}
			}
			return f(name)
		}, s)
		if err != nil {
			return math.NaN()
		}
		return a.Radius.V
	}
	const steps, near = 50, 1e-9
	v = f(w.Aim).V
	for range steps {
		off := at(v) - radius
		h := 1e-6 * v
		slope := (at(v+h) - at(v-h)) / (2 * h)
		next := v - off/slope
		if math.IsNaN(next) || math.IsInf(next, 0) {
			return 0, false
		}
		v = max(next, v/2)        // a sagitta cannot be none
		if math.Abs(off) < near { // and this step has taken out what was left
			return v, true
		}
	}
	return 0, false
}
