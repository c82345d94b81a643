package record

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Collinearity is what a sweep over a part of a circle cannot tell apart: each u95 is that of the
// readings alone.
type Collinearity struct {
	Bearing   Number `json:"bearing"`
	RadiusU95 Number `json:"radius_u95"`
	CentreU95 Number `json:"centre_u95"`
	// TogetherU95 is that of the combination which is known: radius less centre (carried), or
	// their sum.
	TogetherU95 Number `json:"together_u95"`
	Difference  bool   `json:"difference"`
	// HeldU95 is that of the centre's part, were the radius held.
	HeldU95 Number `json:"held_u95"`
}

// arcNotes says what the arc cannot tell apart, and what a held radius is worth.
func (x *Fit) arcNotes(f *indicator.Estimate, bearings []geom.Bearing, readings []float64) {
	u := x.Unit
	if t, ok := f.Collinear(); ok {
		x.Collinear = &Collinearity{Degrees360(t.Along), Number(u.From(t.Radius)), Number(u.From(t.Part)), Number(u.From(t.Together)),
			t.Difference, Number(u.From(t.Held))}
		x.Notes = append(x.Notes, x.Collinear.text(u, f.Circle.Sought))
	}
	if !f.Circle.Hold {
		return
	}
	held := fmt.Sprintf("the radius is held at %s", ValueOf(u, indicator.Value{V: f.Setup.HeldRadius, U: f.Setup.HeldLimit}).Text(x.Unit))
	if f.Setup.HeldLimit == 0 {
		held = fmt.Sprintf("the radius is held at %s %v as if it were exact", geom.FormatFixed(u.From(f.Setup.HeldRadius), 4), u)
	}
	x.Notes = append(x.Notes, held)
	if off := f.HeldOff(bearings, readings); off.Sure() && math.Abs(off.V) > off.U {
		x.Notes = append(x.Notes, fmt.Sprintf("the readings do not agree with the radius that is held: by them alone it would be "+
			"other by %s", ValueOf(u, off).Text(x.Unit)))
	}
}

// text says it in words. Where no radius is sought, there is none to hold.
func (t Collinearity) text(u geom.Unit, sought fit.Sought) string {
	size := func(n Number) string { return geom.FormatFixed(float64(n), geom.Places(float64(n), u)) }
	at := Degrees(RoundTo(float64(t.Bearing), 1))
	if sought == fit.MeanReading {
		return fmt.Sprintf("the arc is short: the centre along %s is known to ±%s %v only", at, size(t.CentreU95), u)
	}
	how := "sum"
	if t.Difference {
		how = "difference"
	}
	return fmt.Sprintf("the arc is short: the radius (±%s) and the centre along %s (±%s) are known only together, their %s to ±%s %v; "+
		"with the radius held the centre would be known to ±%s %v",
		size(t.RadiusU95), at, size(t.CentreU95), how, size(t.TogetherU95), u, size(t.HeldU95), u)
}
