package fit

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// ReferenceCircle is a circle that a profile is judged against.
type ReferenceCircle struct {
	Centre geom.Point // millimetres, in the frame of the points
	Radius float64    // millimetres
	// Departure is the profile's roundness as seen from this centre: its largest distance from
	// there less its smallest, millimetres.
	Departure float64
}

// RoundnessResult holds the four reference circles of a closed profile. No centre gives a smaller
// departure than that of the minimum zone.
//
// The terms are those of ISO 12181-1 and ISO 4291, which are known from summaries only.
type RoundnessResult struct {
	// LeastSquares minimises the sum of the squared distances from the circle.
	LeastSquares ReferenceCircle
	// MinimumZone lies midway between the two concentric circles of least separation that hold the
	// profile between them; that separation is its Departure.
	MinimumZone ReferenceCircle
	// MinimumCircumscribed is the smallest circle round the profile.
	MinimumCircumscribed ReferenceCircle
	// MaximumInscribed is the largest circle that fits inside the profile.
	MaximumInscribed ReferenceCircle
}

// maxProfile is the most points that a profile may have: 64 take a millisecond, 400 some forty, this
// many most of a second.
const maxProfile = 1000

// ProfileSizeError: there are more points than the exact search is meant for.
type ProfileSizeError struct{ Have, Most int }

func (e *ProfileSizeError) Error() string {
	return fmt.Sprintf("%d points, need at most %d", e.Have, e.Most)
}

// GapError: the points leave so much of the round open that an inscribed circle could slip out.
// From is where the gap begins as seen from the least-squares centre, Gap how far it reaches from
// there counter-clockwise, in radians.
type GapError struct {
	From geom.Bearing
	Gap  float64
}

func (e *GapError) Error() string {
	return fmt.Sprintf("no points between %.4g° and %.4g°, a gap of %.4g°, need less than 180°",
		e.From.Degrees360(), (e.From + geom.Bearing(e.Gap)).Degrees360(), geom.Bearing(e.Gap).Degrees())
}

// ProfilePoints turns ordinates of a closed profile into points: radii r, in millimetres, met at
// bearings t, equally spaced or not. They must be whole radii. A trace that shows deviations only
// needs the radius added, or the profile is bent: the usual formula on equal angles takes a true
// circle that is e off its axis for one that departs by e²/2R.
func ProfilePoints(t []geom.Bearing, r []float64) []geom.Point {
	p := make([]geom.Point, min(len(t), len(r)))
	for i := range p {
		u := t[i].Unit()
		p[i] = geom.Point{X: r[i] * u.X, Y: r[i] * u.Y}
	}
	return p
}

// Roundness returns the four reference circles of a closed profile, given by points on it in any
// order, millimetres.
//
// The search is exact. The smallest circumscribed circle is centred on an edge or vertex of the
// Voronoi diagram of farthest points, the largest inscribed one on a vertex of the ordinary
// diagram, and the minimum zone where an edge of the one crosses an edge of the other; all are
// tried. Of several inscribed circles of the same size it returns one.
//
// Errors are those of [Orthogonal], a *[ProfileSizeError], and a *[GapError] when half of the
// round or more is open.
//
// Sources, from memory: H. Ebara, N. Fukuyama, H. Nakano, Y. Nakanishi, Roundness algorithms
// using the Voronoi diagrams, 1st Canadian Conference on Computational Geometry (1989);
// ISO 12181-1 for the terms. Held to a general-purpose optimiser by TestRoundnessAgainstSearch.
func Roundness(points []geom.Point) (RoundnessResult, error) {
	var out RoundnessResult
	if len(points) > maxProfile {
		return out, &ProfileSizeError{Have: len(points), Most: maxProfile}
	}
	f, err := Orthogonal(points, nil)
	if err != nil {
		return out, err
	}
	from, gap := widestGap(f.Centre, points)
	if gap >= math.Pi-gapSlack {
		return out, &GapError{From: from, Gap: gap}
	}
	p := seenFrom(f.Centre, points, f.Radius*profileGrain)
	near, far := p.diagram(1), p.diagram(-1)
	inner, ok := p.inscribed(near)
	if !ok {
		return out, &GapError{From: from, Gap: gap}
	}
	out.LeastSquares = p.about(geom.Point{})
	out.LeastSquares.Radius = f.Radius
	out.MaximumInscribed = inner
	out.MinimumCircumscribed = p.circumscribed(far)
	out.MinimumZone = p.zone(near, far)
	for _, c := range []*ReferenceCircle{&out.LeastSquares, &out.MaximumInscribed, &out.MinimumCircumscribed, &out.MinimumZone} {
		c.Centre = c.Centre.Add(f.Centre)
	}
	return out, nil
}
