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
