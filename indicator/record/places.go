package record

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// XY is a point by the readouts.
type XY struct {
	X Number `json:"x"`
	Y Number `json:"y"`
}

// PlaceOf is a point in unit u.
func PlaceOf(p geom.Point, u geom.Unit) *XY {
	return &XY{Number(u.From(p.X)), Number(u.From(p.Y))}
}

// Text is a place as it stands on the readouts: "X 12.345 Y -3.210 mm".
func (p *XY) Text(places int, u geom.Unit) string {
	return fmt.Sprintf("X %s Y %s %v", geom.FormatFixed(float64(p.X), places), geom.FormatFixed(float64(p.Y), places), u)
}

// Touching is how a circle is touched.
func Touching(t indicator.Touch) string {
	if t == indicator.Boss {
		return "the boss from outside"
	}
	return "the bore from inside"
}

// PlaceWords says where a point lies by the readouts: "X 12.345 Y -3.210 mm".
func PlaceWords(d indicator.Dial, p geom.Point, u geom.Unit) string {
	return PlaceOf(p, u).Text(ReadingPlaces(d, u), u)
}

// GoWords says where the centre is found by the readouts: "go to X 12.345 Y -3.210 mm".
func GoWords(d indicator.Dial, centre geom.Point, u geom.Unit) string {
	return "go to " + PlaceWords(d, centre, u)
}

// TouchedFit is the record of a session's points. The centre stands in the readout's frame; the verdict is on
// where the spindle stands.
func TouchedFit(s *session.State, u geom.Unit) Fit {
	t, _ := s.Located()
	f := &t.Found
	v := s.Verdicts(f)
	x := Fit{
		Unit: u, Setup: s.Set.Job.Setup.Kind, Touch: s.Set.Job.Setup.Touch, Readings: len(t.Distances),
		Radius:    ValueOf(u, t.Radius()),
		Centre:    CentreOf(u, &t),
		Offset:    Number(u.From(t.Centre.Norm())),
		Bearing:   Number(t.Centre.Bearing().Degrees360()),
		Sigma:     Number(u.From(f.Sigma)),
		Dof:       Number(f.Dof),
		Residuals: Many{},
		Suspects:  []Outlier{},
		Budget:    []Part{},
		Verdict:   Verdict{v.Radius, v.Centre},
		Assumed:   AssumedOf(NoLeans, v, u),
		Notes:     []string{},
	}
	for _, d := range t.Distances {
		x.Residuals = append(x.Residuals, Number(u.From(d-f.Circle.Level)))
	}
	for _, w := range s.Suspects(f) {
		x.Suspects = append(x.Suspects, Outlier{w.Index + 1, Number(u.From(w.Residual)), w.Because, Number(nan)})
	}
	if f.Dof <= 0 {
		x.Notes = append(x.Notes, noteNoSpread)
	}
	x.shape(f, t.Bearings, t.Distances)
	x.arcNotes(f, t.Bearings, t.Distances)
	if rho, r := s.Set.Job.Setup.ReferenceRadius, t.Radius(); rho > 0 && r.Sure() && math.Abs(r.V-rho) > r.U {
		x.Notes = append(x.Notes, fmt.Sprintf("the touched radius is off by %s %v from the reference's: check the tip's "+
			"diameter and which "+
			"side was touched",
			geom.FormatSigned(u.From(r.V-rho), geom.Places(u.From(r.U), u)), u))
	}
	x.Notes = append(x.Notes, GoWords(s.Set.Job.Dial, t.Centre, u))
	return x
}
