package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
)

// Fit is the one record of a fit: of the verb fit, and of every closed sweep.
type Fit struct {
	Unit      geom.Unit       `json:"unit"`
	Setup     indicator.Kind  `json:"setup"`
	Touch     indicator.Touch `json:"touch"`
	Readings  int             `json:"readings"`
	Radius    *Value          `json:"radius"`
	Swing     *Value          `json:"swing"`
	Centre    *Centre         `json:"centre"`
	Offset    Number          `json:"offset"`
	Bearing   Number          `json:"bearing"`
	Sigma     Number          `json:"sigma"`
	Dof       Number          `json:"dof"`
	Residuals []Number        `json:"residuals"`
	Suspects  []Suspect       `json:"suspects"`
	Shape     *Shape          `json:"shape"`
	Verdict   Verdict         `json:"verdict"`
	Notes     []string        `json:"notes"`
}

// Centre is the centre error e = C − A.
type Centre struct {
	X Value `json:"x"`
	Y Value `json:"y"`
}

// Suspect is a reading that does not fit the others.
type Suspect struct {
	Reading  int    `json:"reading"`
	Residual Number `json:"residual"`
	Because  string `json:"because"`
	WouldBe  Number `json:"would_be"`
}

// Shape is what the reference itself departs from a circle by.
type Shape struct {
	TwoLobe     Number `json:"two_lobe"`
	ThreeLobe   Number `json:"three_lobe"`
	Significant bool   `json:"significant"`
}

// Verdict is the pair of verdicts.
type Verdict struct {
	Radius indicator.Verdict `json:"radius"`
	Centre indicator.Verdict `json:"centre"`
}

// Notes that a record may carry.
const (
	noteNoSpread = "three readings leave nothing to judge the spread by, so no uncertainty is known: take a fourth, or state the dial's repeatability"
	noteNoSwing  = "no radius is claimed: that needs the reference's radius and the reach, or the zero radius"
	noteNoReach  = "no swing radius is claimed: that needs the reach"
	noteNoOffset = "the centre error is zero and points nowhere"
	noteNotYet   = "readings are not yet searched for misreads, nor the reference for its shape: suspects is empty and shape null"
)

// NewFit puts a fitted sweep into unit u. bearings and readings are those that were fitted.
func NewFit(f *indicator.Found, bearings []geom.Bearing, readings []float64, t job.Target, u geom.Unit) Fit {
	v := t.Judge(f)
	x := Fit{
		Unit: u, Setup: f.Setup.Kind, Touch: f.Setup.Touch, Readings: len(readings),
		Radius: in(u, f.Radius()), Swing: in(u, f.Swing()),
		Centre:    &Centre{*in(u, f.CentreX()), *in(u, f.CentreY())},
		Offset:    Number(u.From(f.Offset().V)),
		Bearing:   Number(f.Circle.Centre.Bearing().Degrees360()),
		Sigma:     Number(u.From(f.Sigma)),
		Dof:       Number(f.Dof),
		Residuals: make([]Number, len(readings)),
		Suspects:  []Suspect{},
		Verdict:   Verdict{v.Radius, v.Centre},
		Notes:     []string{},
	}
	for i, b := range bearings {
		x.Residuals[i] = Number(u.From(f.Residual(b, readings[i])))
	}
	switch {
	case x.Swing == nil && x.Radius == nil && f.Setup.ReferenceRadius == 0:
		x.Notes = append(x.Notes, noteNoSwing)
	case x.Swing == nil && x.Radius == nil:
		x.Notes = append(x.Notes, noteNoReach)
	}
	if f.Dof <= 0 {
		x.Notes = append(x.Notes, noteNoSpread)
	}
	// Below what is written the offset is zero, and where it points is noise.
	if math.Abs(float64(x.Offset)) < smallest/2 {
		x.Offset, x.Bearing = 0, Number(nan)
		x.Notes = append(x.Notes, noteNoOffset)
	}
	x.Notes = append(x.Notes, noteNotYet)
	return x
}

// failedFit is the record of a sweep that no circle fits.
func failedFit(s indicator.Setup, n int, err error, u geom.Unit) Fit {
	return Fit{Unit: u, Setup: s.Kind, Touch: s.Touch, Readings: n, Offset: Number(nan), Bearing: Number(nan), Sigma: Number(nan),
		Residuals: []Number{}, Suspects: []Suspect{}, Verdict: Verdict{indicator.Undecided, indicator.Undecided},
		Notes: []string{err.Error()}}
}

// Text spells the record for a person.
func (x Fit) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d readings, %v", x.Readings, x.Touch)
	value := func(name string, v *Value) {
		if v != nil {
			fmt.Fprintf(&b, "\n%s %s", name, x.measured(*v))
		}
	}
	value("surface radius", x.Radius)
	value("swing radius", x.Swing)
	if x.Centre != nil {
		value("centre x", &x.Centre.X)
		value("centre y", &x.Centre.Y)
		fmt.Fprintf(&b, "\ncentre off by %s %v", x.fixed(x.Offset, x.Centre.X.U95), x.Unit)
		if !isNaN(x.Bearing) {
			fmt.Fprintf(&b, " towards %s", Degrees(roundTo(float64(x.Bearing), 1)))
		}
	}
	if !isNaN(x.Sigma) {
		fmt.Fprintf(&b, "\nspread of one reading %s %v (%v degrees of freedom)", x.fixed(x.Sigma, x.Sigma), x.Unit, float64(x.Dof))
	}
	if x.Verdict.Radius != indicator.NoVerdict || x.Verdict.Centre != indicator.NoVerdict {
		fmt.Fprintf(&b, "\nradius %v, centre %v", x.Verdict.Radius, x.Verdict.Centre)
	}
	for _, n := range x.Notes {
		fmt.Fprintf(&b, "\nnote: %s", n)
	}
	return b.String()
}

// fixed prints a number to the places that an uncertainty in the same unit allows.
func (x Fit) fixed(v, u Number) string {
	return geom.FormatFixed(float64(v), geom.Places(float64(u), x.Unit))
}

func (x Fit) measured(v Value) string {
	return Measured(x.Unit, indicator.Value{V: x.Unit.MM(float64(v.Value)), U: x.Unit.MM(float64(v.U95))})
}
