package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// touched is the circle of a session that is set by points; ok is false for the others, and where none fits.
func touched(s *session.State) (t indicator.Touched, ok bool) {
	if s.Set.Job.Setup.Kind != indicator.Points {
		return t, false
	}
	t, err := s.Located()
	return t, err == nil
}

// pointSteps are the steps before the first point.
func pointSteps(s *indicator.Setup, u geom.Unit) []string {
	return []string{
		fmt.Sprintf("1  edge finder or probe in the spindle; its tip is %s %v across", geom.FormatFixed(u.From(s.TipDiameter), geom.Places(0, u)), u),
		"2  zero the readouts anywhere, and leave them so until the centre is reached",
		"3  lock quill and knee; touch each time at the same height",
		"4  touch " + record.Touching(s.Touch) + " at places spread all round, square to the wall, and type x y as the readouts show them; the tip's own radius is allowed for",
	}
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
