package indicator

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Touched is what coordinates touched on a circle say, in the terms of a sweep: seen from the circle's own
// centre, every point is a bearing and a distance.
type Touched struct {
	// Found is the circle seen from its own centre, which it therefore leaves at zero; the covariance is
	// that of the orthogonal fit. Its Setup has no radius and no reach.
	Found Estimate
	// Centre is where the circle's centre lies, in the coordinates' frame, millimetres.
	Centre geom.Point
	// Bearings and Distances are those of the points, seen from there.
	Bearings  []geom.Bearing
	Distances []float64

	touch Touch
	tip   float64
}

// Locate fits a circle to the coordinates (millimetres) at which the middle of a round tip stood when it
// touched, by orthogonal distance. d says how finely they are read and how well they repeat.
//
// About the best centre C the residual |P − C| − ρ changes by −(cos θ, sin θ)·dC − dρ, θ being the bearing of P
// from C: the rows of the linear radial model, whose solution from there is no step. So the misreads, the
// ellipse and the next station of a sweep serve points as well.
//
// Errors are those of [fit.Orthogonal].
func (s Setup) Locate(d Dial, points []geom.Point) (Touched, error) {
	l, err := Locate(d, points)
	t := Touched{Centre: l.Circle.Centre, touch: s.Touch, tip: s.TipDiameter}
	if err != nil {
		return t, err
	}
	for _, p := range points {
		v := p.Sub(t.Centre)
		t.Bearings, t.Distances = append(t.Bearings, v.Bearing()), append(t.Distances, v.Norm())
	}
	d.LeverAngle, d.AngleError = 0, 0
	t.Found, err = Fit(d, Setup{Kind: Points, Touch: Boss}, t.Bearings, t.Distances)
	t.Found.Circle.Centre = geom.Point{} // what is left of the search
	t.Found.Circle.Level = l.Circle.Radius
	return t, err
}

// Radius is that of the surface: half a tip beyond the points in a bore, half a tip within them round a
// boss.
func (t *Touched) Radius() Value {
	f := &t.Found
	half := -t.touch.sign() * t.tip / 2
	return Value{f.Circle.Level + half, f.expandedLevel()}
}

func (f *Estimate) expandedLevel() float64 {
	if f.Dof <= 0 {
		return math.NaN()
	}
	return fit.Coverage(f.Dof) * f.spread() * math.Sqrt(max(0, f.Circle.Cofactor[0][0]))
}

// CentreX and CentreY return the centre's coordinates.
func (t *Touched) CentreX() Value { return Value{t.Centre.X, t.Found.CentreX().U} }

// CentreY: see CentreX.
func (t *Touched) CentreY() Value { return Value{t.Centre.Y, t.Found.CentreY().U} }

// From returns the circle seen from a place: its centre error is how far the spindle, standing there, still
// has to go. doubt is the standard uncertainty of each coordinate of that place, millimetres.
func (t *Touched) From(p geom.Point, doubt geom.Point) Estimate {
	f := t.Found
	f.Circle.Centre = t.Centre.Sub(p)
	f = f.Moved(Axis{0, 1, 0}, 0, doubt.X)
	return f.Moved(Axis{0, 0, 1}, 0, doubt.Y)
}

// Residual is how far a point lies outside the circle, millimetres.
func (t *Touched) Residual(p geom.Point) float64 {
	return p.Sub(t.Centre).Norm() - t.Found.Circle.Level
}

// UnstatedLimit is how far a reference may be out, ±, where nobody says how right its radius is, millimetres: as much as a
// drilled hole is of its diameter, the loosest that a reference is known by (common practice, no source). More is a slip.
const UnstatedLimit = 0.1

// lonelyLimit is the same of three points, which nothing but that radius checks: a slip of one of them that leaves the radius right
// to so much leaves the centre right to about twice as much.
const lonelyLimit = 0.03

// Contradicts reports whether the touched radius cannot be the one that is stated, give or take its limit (0: nobody said one):
// its own doubt is counted at 99 %. Where that is not known, three points without a repeatability, it is the loosest limit. A
// point that is far off makes the doubt as large as the damage that it does, and would excuse itself: of a doubt that the
// readout's repeatability does not explain, no more is counted than the loosest limit.
func (t *Touched) Contradicts(radius, limit float64) bool {
	r := t.Radius()
	if limit == 0 && t.Found.Circle.N == fit.MinStations {
		limit = lonelyLimit
	}
	if limit == 0 || !r.Sure() {
		limit = max(limit, UnstatedLimit)
	}
	band := limit
	if r.Sure() {
		own := fit.Student(1-0.01/2, math.Inf(1)) * t.Found.Dial.Repeatability * math.Sqrt(max(0, t.Found.Circle.Cofactor[0][0]))
		band += min(r.U*fit.Student(1-0.01/2, t.Found.Dof)/fit.Coverage(t.Found.Dof), max(UnstatedLimit, own))
	}
	return math.Abs(r.V-radius) > band
}

// Slipped is the one point (from 0) without which the others have the radius that is stated; ok is false where there is none,
// or more than one, and of fewer than four points: three have a circle whatever they are.
func (s Setup) Slipped(d Dial, points []geom.Point, radius, limit float64) (which int, ok bool) {
	const least = fit.MinPlaces + 1
	if len(points) < least {
		return 0, false
	}
	for i := range points {
		t, err := s.Locate(d, slices.Delete(slices.Clone(points), i, i+1))
		if err != nil || t.Contradicts(radius, limit) {
			continue
		}
		if ok {
			return 0, false
		}
		which, ok = i, true
	}
	return which, ok
}
