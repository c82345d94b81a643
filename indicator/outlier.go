package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Cause names what may have gone wrong with a reading. It is a proposal: the person decides.
type Cause string

// The causes. Unknown stands for a reading that is off by nothing that is known.
const (
	NoCause      Cause = ""
	Revolution   Cause = "revolution"    // the needle's turns were miscounted by one
	TenDivisions Cause = "ten divisions" // the figure beside the right one was read
	SignTurned   Cause = "sign"          // plus for minus
	Swapped      Cause = "swapped"       // entered in its neighbour's place
	UnknownCause Cause = "unknown"
	FormCause    Cause = "form" // a reading, or the reference: lobes that it may well have explain the round too
)

// Check refuses a word that names no cause.
func (c Cause) Check() error {
	switch c {
	case Revolution, TenDivisions, SignTurned, Swapped, UnknownCause, FormCause:
		return nil
	case NoCause:
	}
	return fmt.Errorf("cause %q, need %s, %s, %s, %s or %s", c, Revolution, TenDivisions, SignTurned, Swapped, UnknownCause)
}

// Outlier is a reading that does not fit the others. Lengths are millimetres of reading.
type Outlier struct {
	Index int // of the reading, from 0
	// Residual is the reading minus what the others give at its station.
	Residual float64
	Because  Cause
	// WouldBe is the reading it would be if the cause is right; NaN where none is known.
	WouldBe float64
}

// agreement is the level of the band that a corrected reading must fall into for its cause to be
// named: a wrong name is worse than "unknown", and a right value is missed once in two hundred.
const agreement = 0.995

// Suspects returns the readings of a fitted sweep that do not fit the others, at most two (see
// [fit.Radial.Suspects]), each with the cause that brings it back among them, if one does. Where lobes of the reference, as large as
// is let pass, explain the round as well, none is blamed: it is a reading, or the ring.
func (f *Estimate) Suspects(bearings []geom.Bearing, readings []float64) []Outlier {
	if len(readings) > fit.MaxScreen {
		return nil
	}
	y, w := f.observed(bearings, readings)
	k := f.perReading()
	s := f.Circle.Suspects(bearings, y, w, f.Dial.prior())
	lobed := s.N > 0 && f.Circle.Lobed(bearings, y, w, f.Dial.prior(), s, f.Setup.Form.Allowed)
	var out []Outlier
	for i := range s.N {
		at := s.Index[i]
		x := Outlier{Index: at, Residual: s.Delta[i] / k, Because: UnknownCause, WouldBe: math.NaN()}
		if lobed {
			x.Because = FormCause
		} else if s.Swapped {
			x.Because, x.WouldBe = Swapped, readings[s.Index[1-i]]
		} else {
			band := fit.Student(1-(1-agreement)/2, s.Dof) * s.Sigma[i] / math.Abs(k)
			x.Because, x.WouldBe = f.Dial.Misread(readings[at], readings[at]-x.Residual, band)
		}
		out = append(out, x)
	}
	return out
}

// RingMay reports whether lobes of the reference, as large as is let pass, explain as well that one of the readings does not fit
// the others.
func (f *Estimate) RingMay(bearings []geom.Bearing, readings []float64, i int) bool {
	y, w := f.observed(bearings, readings)
	return f.Circle.Lobed(bearings, y, w, f.Dial.prior(), fit.Outliers{N: 1, Index: [2]int{i}}, f.Setup.Form.Allowed)
}

// observed returns the distances and weights that were fitted; no weights where stations are
// weighed alike.
func (f *Estimate) observed(bearings []geom.Bearing, readings []float64) (y, w []float64) {
	for i, m := range readings {
		y = append(y, f.distance(m))
		if f.perAcross > 0 {
			w = append(w, 1/f.growth(bearings[i]))
		}
	}
	return y, w
}

// Misread names the slip that turns a reading into the one that is expected, within ± band, and
// the reading it would be: one revolution of the needle, ten divisions, or the sign. Of several
// the nearest counts. Millimetres of reading.
func (d Dial) Misread(reading, expected, band float64) (Cause, float64) {
	cause, would, near := UnknownCause, math.NaN(), band
	try := func(c Cause, m float64) {
		if off := math.Abs(m - expected); off <= near && d.Check(m) == nil {
			cause, would, near = c, m, off
		}
	}
	for _, way := range [2]float64{-1, 1} {
		if d.Revolution > 0 {
			try(Revolution, reading+way*d.Revolution)
		}
		if d.Graduation > 0 {
			try(TenDivisions, reading+way*10*d.Graduation)
		}
	}
	if reading != 0 {
		try(SignTurned, -reading)
	}
	return cause, would
}

// Shape tests the reference for lobes (see [fit.Radial.Shape]); amplitudes in millimetres.
func (f *Estimate) Shape(bearings []geom.Bearing, readings []float64) fit.Shape {
	if len(readings) > fit.MaxScreen {
		return fit.Shape{Two: math.NaN(), Three: math.NaN()}
	}
	y, w := f.observed(bearings, readings)
	return f.Circle.Shape(bearings, y, w, f.Dial.prior())
}

// Aliases warns of what a few stations spaced equally round a whole circle take for something
// else; empty where there is nothing to warn of.
//
// Sampling: n equal stations cannot tell k lobes from n − k (from one, where n − k = 1, which is
// a centre error; from a change of radius, where k = n).
func Aliases(bearings []geom.Bearing) string {
	if !equallyRound(bearings) {
		return ""
	}
	switch len(bearings) {
	case 3:
		return "three equal stations take an oval reference for a centre error, and a three-jaw squeeze for a change of radius"
	case 4:
		return "four equal stations take a three-jaw squeeze for a centre error"
	}
	return ""
}

// equallyRound reports whether stations stand at equal angles round the whole circle, to the few
// degrees that a hand may stray without seeing more of the surface.
func equallyRound(bearings []geom.Bearing) bool {
	const stray = 5 * geom.Degree
	n := len(bearings)
	for i := range bearings {
		for j := range i {
			// Folded by n, all stations come to lie in one place, and no two of them started there.
			if bearings[i].Apart(bearings[j]) < float64(stray) ||
				(bearings[i]*geom.Bearing(n)).Normalized().Apart((bearings[j]*geom.Bearing(n)).Normalized()) > float64(n)*float64(stray) {
				return false
			}
		}
	}
	return n > 0
}
