package plot

import (
	"math"

	"example.org/trammel/geom"
)

// Sector is a part of the circle, counter-clockwise from one bearing to the other.
type Sector struct{ From, To geom.Bearing }

// hatch marks a part of the circle that cannot be reached; the caption says so beside it. It is a
// letter, so that it cannot be taken for a reading and needs no colour.
const (
	hatch      = "/"
	hatchWords = hatch + " can't reach"
)

// drawBlocked hatches what cannot be reached, along the circle. A station at an edge, and what is
// read there, keeps its place.
func (r *radial) drawBlocked() {
	for _, s := range r.Blocked {
		wide := float64(s.To - s.From)
		if !finite(float64(s.From), wide) || wide <= 0 {
			continue
		}
		wide = min(wide, 2*math.Pi)
		n := max(2, 2*int(wide*r.circle)) // two to a dot; even, so that one lies in the middle
		for i := range n + 1 {
			b := s.From + geom.Bearing(wide*float64(i)/float64(n))
			col, row, ok := r.canvas.place(at(b, r.circle), 1)
			if ok && r.canvas.free(col, row, 1, 0) && r.canvas.weight(col, row) < heavy && (i == n/2 || !r.stands(b)) {
				r.canvas.Text(col, row, hatch, medium)
			}
		}
	}
}

// stands reports whether a station stands at a bearing, or so near that its tick would go.
func (r *radial) stands(b geom.Bearing) bool {
	near := 2 / r.circle
	for _, m := range r.Stations {
		if finite(float64(m.Bearing)) && m.Bearing.Apart(b) < near {
			return true
		}
	}
	return false
}

// weight returns the weight of what is drawn in a cell of the canvas.
func (c *canvas) weight(col, row int) weight { return c.cells[row*c.w+col].weight }
