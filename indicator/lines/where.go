package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// onDrawing spells a place of the drawing.
func onDrawing(at geom.Point, u geom.Unit) string {
	show := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) }
	return fmt.Sprintf("x %s, y %s %v of the drawing", show(at.X), show(at.Y), u)
}

// barren reports whether nothing round is drawn about the centre of a setting's arc, and nothing states what is swept in its stead.
func barren(o *session.Opened) bool {
	return o.Arc != nil && o.Arc.Lone && o.Job.Target.WantsSwing() && setup.Of(&o.Job).Off.Out == "" && !setup.LieOf(&o.Job, &o.Machine).Known
}

// SweptWords say where what is swept has to stand: at a reference of the drawing, how that lies, and how the slides go on from there;
// or about an arc's centre where nothing round is drawn. Empty for an arc whose own hole is drawn, and for a job that stands alone.
func SweptWords(o *session.Opened, u geom.Unit) string {
	if c, ok := setup.CourseOf(&o.Job, &o.Machine); ok {
		signed := func(mm float64) string { return geom.FormatSigned(u.From(mm), geom.Places(0, u)) }
		way := "anticlockwise"
		if c.Angle < 0 {
			way = "clockwise"
		}
		return fmt.Sprintf("swept at %s, whose X lies %s %s from the way of %s; from there to the arc's centre %s %s, %s %s %v",
			onDrawing(c.Reference, u), record.Degrees(math.Abs(c.Angle.Degrees())), way, SlideName(c.Names[0]),
			SlideName(c.Names[0]), signed(c.Travel[0]), SlideName(c.Names[1]), signed(c.Travel[1]), u)
	}
	if !barren(o) {
		return ""
	}
	return fmt.Sprintf("nothing round is drawn about the centre of arc %d, %s: what is swept or touched has to stand there, "+
		"or setup.reference_at to say where it does", o.Arc.N,
		onDrawing(o.Arc.Centre, u))
}

// centreWords say whose centre is looked for as the machine is roughed in, behind a semicolon; empty where that is no question.
func centreWords(o *session.Opened, u geom.Unit) string {
	switch c, ok := setup.CourseOf(&o.Job, &o.Machine); {
	case ok:
		return "; the centre is that of the reference, " + onDrawing(c.Reference, u) + ", and not the arc's"
	case barren(o):
		return "; the centre is the arc's, " + onDrawing(o.Arc.Centre, u) + ", where nothing round is drawn"
	}
	return ""
}
