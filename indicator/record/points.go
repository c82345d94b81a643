package record

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// NewPoints puts a circle fitted to coordinates into unit u. The centre stands in the
// coordinates' own frame; a residual is a point's distance from the centre minus the radius.
func NewPoints(l *indicator.Located, points []geom.Point, v indicator.Verdicts, u geom.Unit) Fit {
	c := l.Circle.Centre
	x := Fit{
		Unit: u, Setup: indicator.Points, Readings: len(points),
		Radius:    ValueOf(u, l.Radius()),
		Centre:    CentreOf(u, l),
		Offset:    Number(u.From(c.Norm())),
		Bearing:   Number(c.Bearing().Degrees360()),
		Sigma:     Number(u.From(l.Sigma)),
		Dof:       Number(l.Dof),
		Residuals: make(Many, len(points)),
		Suspects:  []Outlier{},
		Budget:    []Part{},
		Verdict:   Verdict{v.Radius, v.Centre},
		Assumed:   AssumedOf(NoLeans, v, u),
		Notes:     []string{notePoints},
	}
	for i, p := range points {
		x.Residuals[i] = Number(u.From(l.Circle.Residual(p)))
	}
	if l.Dof <= 0 {
		x.Notes = append(x.Notes, noteNoSpread)
	}
	return x
}

// notePoints says what a set of coordinates is not searched for.
const notePoints = "coordinates are not searched for misreads or for the shape of the circle: suspects is empty and shape null"
