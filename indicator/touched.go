package indicator

import (
	"math"

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
