package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// apart is the least angle, radians, at which two stations see different places of a surface; a
// hand may stray by as much (common practice, no source).
const apart = 5 * geom.Degree

// same is the angle, degrees or radians, below which two bearings are one: far below what a ring shows, and above
// what rounding leaves.
const same = 1e-9

// obstacles reads the pairs of bearings that cannot be reached, and joins those that overlap or
// touch: between two clamps that touch no tip goes down.
func (f *file) obstacles(pairs [][]float64, s *setup.Sweep) {
	const key = "sweep.obstacles"
	var wide []setup.Obstacle // degrees
	for _, p := range pairs {
		if len(p) != 2 || !(math.Abs(p[0]) <= 360 && math.Abs(p[1]) <= 360) {
			f.fail(key, pairForm, "%s, must be two bearings from -360 to 360 degrees", bracketed(p))
			return
		}
		span := p[1] - p[0]
		if span < 0 {
			span -= 360 * math.Floor(span/360)
		}
		if !(span > 0 && span < 360) {
			f.fail(key, pairForm, "%s spans %v degrees, must span above 0 and below 360", bracketed(p), span)
			return
		}
		from := geom.FromDegrees(p[0]).Degrees360()
		wide = append(wide, setup.Obstacle{From: geom.Bearing(from), To: geom.Bearing(from + span)})
	}
	for _, o := range merged(wide) {
		s.Obstacles = append(s.Obstacles, setup.Obstacle{From: geom.FromDegrees(float64(o.From)), To: geom.FromDegrees(float64(o.To))})
	}
	if !f.fine("sweep.from", "sweep.to") {
		return
	}
	if left := s.Left(); left < float64(2*apart)-same && left < float64(s.To-s.From)-same {
		f.fail(key, "move what stands in the way, or widen from and to", "leave %.6g of %.6g degrees, need %.6g for three stations %.6g "+
			"degrees apart",
			geom.Bearing(left).Degrees(), (s.To - s.From).Degrees(), (2 * apart).Degrees(), apart.Degrees())
	}
}

const pairForm = "each is a pair in brackets, from the first to the second anticlockwise seen from above: [[80, 130], [350, 20]]"

// bracketed writes numbers as they stand in the file.
func bracketed(p []float64) string {
	out := "["
	for i, x := range p {
		if i > 0 {
			out += ", "
		}
		if i == 3 {
			out += "…"
			break
		}
		out += fmt.Sprint(x)
	}
	return out + "]"
}

// merged joins obstacles, in degrees, that overlap or touch, also across 360; the result is in the
// order of the bearings at which they begin.
func merged(all []setup.Obstacle) []setup.Obstacle {
	slices.SortFunc(all, func(a, b setup.Obstacle) int { return cmp.Compare(a.From, b.From) })
	var out []setup.Obstacle
	for _, o := range all {
		if n := len(out) - 1; n >= 0 && o.From <= out[n].To+same {
			out[n].To = max(out[n].To, o.To)
			continue
		}
		out = append(out, o)
	}
	for len(out) > 1 && out[len(out)-1].To-360 >= out[0].From-same {
		last := &out[len(out)-1]
		last.To = max(last.To, out[0].To+360)
		out = out[1:]
	}
	for i := range out {
		out[i].To = min(out[i].To, out[i].From+360)
	}
	return out
}
