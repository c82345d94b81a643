package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// Ring is the graduated ring that shows the angle of a head or a table.
type Ring struct {
	// Zero is the bearing (of a table: how far it stands turned counter-clockwise) at which the ring
	// shows 0.
	Zero geom.Bearing `json:"zero"`
	// Figures is the way the figures grow, seen from above.
	Figures slide.Turn `json:"figures"`
	// Graduation is what one mark is worth, radians; 0 where it is not known.
	Graduation float64 `json:"graduation"`
	// Vernier is what one line of the ring's vernier is worth, radians; 0 for a ring without one.
	Vernier float64 `json:"vernier,omitempty"`
}

// Shows returns what the ring shows at a bearing, in degrees in [0, 360).
func (r Ring) Shows(b geom.Bearing) float64 {
	d := b - r.Zero // counter-clockwise from the ring's zero
	if r.Figures == slide.Clockwise {
		d = -d
	}
	return d.Degrees360()
}

// Mark is a ring's figure as it is set with a vernier: the mark of the ring, degrees, and the minutes of
// arc on the vernier beyond it.
type Mark struct {
	Degrees float64 `json:"degrees"`
	Minutes float64 `json:"minutes"`
}

// Mark spells what the ring shows (degrees) as it is set with its vernier, to the nearest of the
// vernier's lines. ok is false for a ring without one.
func (r Ring) Mark(shows float64) (m Mark, ok bool) {
	g, v := geom.Bearing(r.Graduation).Degrees(), geom.Bearing(r.Vernier).Degrees()
	if !(g > 0) || !(v > 0) || !(v < g) {
		return m, false
	}
	n := math.Round(g / v) // lines to a mark: a third of a degree is written with as many digits as one likes
	lines := math.Round(shows / g * n)
	marks := math.Floor(lines / n)
	m = Mark{Degrees: tidy(math.Mod(marks*g, 360)), Minutes: tidy((lines - marks*n) * g / n * 60)}
	return m, true
}

// tidy takes away what the conversion of degrees has left behind the ninth place.
func tidy(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// fineness is how many steps a mark is read in by eye, where no vernier does it: fifths (common practice, no source).
const fineness = 5

// Reads is the finest step that the ring is read to, radians: a line of its vernier, or a fifth of a mark; 0 where neither is known.
func (r Ring) Reads() float64 {
	if r.Vernier > 0 {
		return r.Vernier
	}
	return r.Graduation / fineness
}

// Marked is what the ring shows without reading between its lines, radians: a line of its vernier, or a mark; 0 where neither is
// known.
func (r Ring) Marked() float64 {
	if r.Vernier > 0 {
		return r.Vernier
	}
	return r.Graduation
}

// At is the bearing at which the ring shows a figure, degrees: the other way round than [Ring.Shows].
func (r Ring) At(shows float64) geom.Bearing {
	d := geom.FromDegrees(shows)
	if r.Figures == slide.Clockwise {
		d = -d
	}
	return r.Zero + d
}

// Places is how many decimals a figure of the ring can have, as finely as it is read.
func (r Ring) Places() int {
	step := geom.Bearing(r.Reads()).Degrees()
	if !(step > 0) {
		return 0
	}
	for p := range 5 {
		if scaled := step * math.Pow10(p); math.Abs(scaled-math.Round(scaled)) < 1e-6 {
			return p
		}
	}
	return max(0, int(math.Ceil(-math.Log10(step)))+1) // thirds of a degree are written with as many digits as one likes
}
