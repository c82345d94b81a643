package record

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Along is the part of the centre error in one direction: bearing in degrees.
type Along struct {
	Bearing Number `json:"bearing"`
	Value   Number `json:"value"`
	U95     Number `json:"u95"`
}

// acrossFor is the part across that a pair's swing radius is warned of by: as much as cut-and-try begins with
// (common practice, no source), millimetres.
const acrossFor = 0.3

// smallEnough is how much that may make in the swing radius, millimetres, before the reference is called small.
const smallEnough = 0.002

// NewPair is the record of two readings across from each other: what is known along their line. What lies across
// is null, and so is the swing radius, which it would change.
func NewPair(p *indicator.Pair, s indicator.Setup, on indicator.Assumed, u geom.Unit) Fit {
	x := FailedFit(s, 2, nil, u)
	x.Exact = on.Names()
	x.Along = &Along{Degrees360(p.Bearing), Number(u.From(p.Along.V)), Number(u.From(p.Along.U))}
	across := Degrees360(p.Bearing + math.Pi/2)
	x.Notes = append(x.Notes, fmt.Sprintf("two readings across from each other: the centre is known along %s alone, and across, towards "+
		"%s, not at all; stations at %s and %s would show it",
		Degrees(RoundTo(float64(x.Along.Bearing), 1)), Degrees(RoundTo(float64(across), 1)),
		Degrees(RoundTo(float64(across), 1)), Degrees(RoundTo(math.Mod(float64(across)+180, 360), 1))))
	if !p.Along.Sure() {
		x.Notes = append(x.Notes, "two readings leave nothing to judge the spread by: state the dial's repeatability")
	}
	if p.Swing.Known() {
		x.Notes = append(x.Notes, fmt.Sprintf("the swing radius would be %s with the centre on that line, and is less by a²/%s %v where "+
			"it lies across by a: not claimed",
			ValueOf(u, p.Swing).Text(x.Unit), geom.FormatFixed(u.From(2*p.Reference), 1), u))
	}
	if by := p.Short(acrossFor); by > smallEnough || (math.IsNaN(by) && p.Reference > 0) {
		x.Notes = append(x.Notes, fmt.Sprintf("a small reference: a centre that lies across by %s %v would change the radius by %s %v",
			geom.FormatFixed(u.From(acrossFor), geom.Places(0, u)), u, geom.FormatFixed(u.From(by), geom.Places(0, u)), u))
	}
	return x
}
