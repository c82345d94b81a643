package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

func placeOf(p geom.Point, u geom.Unit) *XY {
	return &XY{Number(u.From(p.X)), Number(u.From(p.Y))}
}

// text is a place as it stands on the readouts: "X 12.345 Y -3.210 mm".
func (p *XY) text(places int, u geom.Unit) string {
	return fmt.Sprintf("X %s Y %s %v", geom.FormatFixed(float64(p.X), places), geom.FormatFixed(float64(p.Y), places), u)
}

// Touching is how a circle is touched.
func Touching(t indicator.Touch) string {
	if t == indicator.Boss {
		return "the boss from outside"
	}
	return "the bore from inside"
}

// touched is the circle of a session that is set by points; ok is false for the others, and where none fits.
func touched(s *session.State) (t indicator.Touched, ok bool) {
	if s.Set.Job.Setup.Kind != indicator.Points {
		return t, false
	}
	t, err := s.Located()
	return t, err == nil
}

// PlaceWords says where a point lies by the readouts: "X 12.345 Y -3.210 mm".
func PlaceWords(d indicator.Dial, p geom.Point, u geom.Unit) string {
	return placeOf(p, u).text(ReadingPlaces(d, u), u)
}

// GoWords says where the centre is found by the readouts: "go to X 12.345 Y -3.210 mm".
func GoWords(d indicator.Dial, centre geom.Point, u geom.Unit) string {
	return "go to " + PlaceWords(d, centre, u)
}

// pointSteps are the steps before the first point.
func pointSteps(s *indicator.Setup, u geom.Unit) []string {
	return []string{
		fmt.Sprintf("1  edge finder or probe in the spindle; its tip is %s %v across", geom.FormatFixed(u.From(s.TipDiameter), geom.Places(0, u)), u),
		"2  zero the readouts anywhere, and leave them so until the centre is reached",
		"3  lock quill and knee; touch each time at the same height",
		"4  touch " + Touching(s.Touch) + " at places spread all round, square to the wall, and type x y as the readouts show them; the tip's own radius is allowed for",
	}
}

// touchedFit is the record of a session's points. The centre stands in the readout's frame; the verdict is on
// where the spindle stands.
func touchedFit(s *session.State, u geom.Unit) Fit {
	t, _ := s.Located()
	f := &t.Found
	v := s.Verdicts(f)
	x := Fit{
		Unit: u, Setup: indicator.Points, Touch: s.Set.Job.Setup.Touch, Readings: len(t.Distances),
		Radius:    in(u, t.Radius()),
		Centre:    &Centre{*in(u, t.CentreX()), *in(u, t.CentreY())},
		Offset:    Number(u.From(t.Centre.Norm())),
		Bearing:   Number(t.Centre.Bearing().Degrees360()),
		Sigma:     Number(u.From(f.Sigma)),
		Dof:       Number(f.Dof),
		Residuals: []Number{},
		Suspects:  []Suspect{},
		Budget:    []Part{},
		Verdict:   Verdict{v.Radius, v.Centre},
		Notes:     []string{},
	}
	for _, d := range t.Distances {
		x.Residuals = append(x.Residuals, Number(u.From(d-f.Circle.Level)))
	}
	for _, w := range s.Suspects(f) {
		x.Suspects = append(x.Suspects, Suspect{w.Index + 1, Number(u.From(w.Residual)), w.Because, Number(nan)})
	}
	if f.Dof <= 0 {
		x.Notes = append(x.Notes, noteNoSpread)
	}
	x.shape(f, t.Bearings, t.Distances)
	x.arcNotes(f, t.Bearings, t.Distances)
	if rho, r := s.Set.Job.Setup.ReferenceRadius, t.Radius(); rho > 0 && r.Sure() && math.Abs(r.V-rho) > r.U {
		x.Notes = append(x.Notes, fmt.Sprintf("the touched radius is %s %v beside the reference's: check the tip's diameter and which side was touched",
			geom.FormatSigned(u.From(r.V-rho), geom.Places(u.From(r.U), u)), u))
	}
	x.Notes = append(x.Notes, GoWords(s.Set.Job.Dial, t.Centre, u))
	return x
}

// goTo tells a wind to a coordinate.
func (l WindLine) goTo() string {
	to := geom.FormatFixed(float64(l.Readout.To), l.places)
	from := geom.FormatFixed(float64(l.Readout.From), l.places)
	how := "collar to 0, " + spell(l.shown, l.Moves)
	if l.shown.Readout {
		how = "about " + spell(l.shown, l.Moves)
	}
	return fmt.Sprintf("%s: go from %s to %s %v (%s); type where it stands then, or done%s", l.heading(), from, to, l.unit, how, l.warned())
}
