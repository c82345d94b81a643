package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Located is what coordinates touched on a circle say.
type Located struct {
	Circle fit.Points
	// Sigma is the standard deviation of one point's distance from the circle, millimetres, and
	// Dof its degrees of freedom; NaN and 0 where three points leave nothing to judge it by.
	Sigma, Dof float64
	// repeats is the stated standard deviation of one point, NaN where none is.
	repeats float64
}

// Locate fits a circle to coordinates (millimetres) by orthogonal distance. d gives what is known
// of a coordinate's spread: repeatability, and the rounding of a graduation. Errors are those of
// [fit.Orthogonal].
func Locate(d Dial, points []geom.Point) (Located, error) {
	c, err := fit.Orthogonal(points, nil)
	l := Located{Circle: c, repeats: math.NaN()}
	if err != nil {
		return l, err
	}
	p := d.prior()
	if p.Dof > 0 {
		l.repeats = p.Sigma
	}
	l.Sigma, l.Dof, _ = c.Spread(p)
	return l, nil
}

func (l *Located) value(v float64, i int) Value {
	if l.Dof <= 0 {
		return Value{v, math.NaN()}
	}
	return Value{v, fit.Coverage(l.Dof) * l.Sigma * math.Sqrt(max(0, l.Circle.Cofactor[i][i]))}
}

// Radius returns the circle's radius.
func (l *Located) Radius() Value { return l.value(l.Circle.Radius, 0) }

// CentreX returns the centre's first coordinate.
func (l *Located) CentreX() Value { return l.value(l.Circle.Centre.X, 1) }

// CentreY returns the centre's second coordinate.
func (l *Located) CentreY() Value { return l.value(l.Circle.Centre.Y, 2) }
