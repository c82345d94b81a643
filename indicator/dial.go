package indicator

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Dial is a dial indicator or lever indicator. Lengths are millimetres of reading, angles
// radians.
type Dial struct {
	// Graduation is what one division of the dial is worth; 0 when it is not known.
	Graduation float64 `json:"graduation"`
	// Revolution is the travel of one turn of the needle; 0 when it is not known.
	Revolution float64 `json:"revolution"`
	// From and To bound the readings the dial can show; both 0 when nothing is known.
	From float64 `json:"from"`
	To   float64 `json:"to"`
	// ReadsTo is how finely the needle is read, in divisions.
	ReadsTo float64 `json:"reads_to"`
	// AngleError is the standard uncertainty of a station's angle.
	AngleError float64 `json:"angle_error"`
	// LeverAngle is the angle between the lever and the surface's tangent plane at contact; 0
	// for a plunger square to the surface.
	LeverAngle float64 `json:"lever_angle"`
	// ErrorLimit bounds the dial's own error over its range, ±, and LeverLimit that of the lever
	// angle; 0 where they are taken as exact.
	ErrorLimit float64 `json:"error_limit,omitempty"`
	LeverLimit float64 `json:"lever_limit,omitempty"`
	// Falls says that the figures fall as the tip is pressed; else they grow. A reading is what the dial shows, either way.
	Falls bool `json:"falls,omitempty"`
	// WholeNumbers is what a whole number counts that is typed as a reading.
	WholeNumbers WholeNumbers `json:"whole_numbers,omitempty"`
	// Repeatability is the standard deviation of one reading, 0 when it is not known.
	Repeatability float64 `json:"repeatability"`
	// Repeats is from how many readings of one place that was found; 0 where it is stated and nobody says from how many.
	Repeats int `json:"repeats,omitempty"`
	// Trembling is the standard deviation of one sample of an indicator with a cable while its needle stands still, as its readings
	// have shown it; 0 where none has. Where no repeatability is stated no reading's doubt is below it.
	Trembling float64 `json:"-"`
	// Before searches its readings for misreads as settings of old did: see [fit.Prior].
	Before bool `json:"-"`
}

// WholeNumbers is what a number without a point counts that is typed as a reading, by its word in files; empty: the job's unit.
type WholeNumbers string

// Thousandths of an inch, as the figures of an inch dial are called out (common practice, no source): 12 is 0.012 in.
const Thousandths WholeNumbers = "thousandths"

// UnmarshalText refuses a word that is not known.
func (w *WholeNumbers) UnmarshalText(b []byte) error {
	if v := WholeNumbers(b); v != "" && v != Thousandths {
		return fmt.Errorf("whole numbers as %q, need %s", b, Thousandths)
	}
	*w = WholeNumbers(b)
	return nil
}

// DefaultReadsTo is how finely a person reads a needle between two divisions: to a fifth
// (common practice, no source).
const DefaultReadsTo = 0.2

// RepeatDof is how many degrees of freedom a stated repeatability is worth: about that of a
// nine-fold repeat, which is as much as anyone tries before writing the figure down.
const RepeatDof = 8

// Gain is what a reading must be multiplied with to give the tip's travel, + as it is pressed: cos(lever angle), and its
// negative where the figures fall as the tip is pressed.
func (d Dial) Gain() float64 {
	if d.Falls {
		return -math.Cos(d.LeverAngle)
	}
	return math.Cos(d.LeverAngle)
}

// scale is the same of what has no sign, like a spread.
func (d Dial) scale() float64 { return math.Cos(d.LeverAngle) }

// Rounding returns the standard deviation that rounding a reading brings: the finest step that
// is read, over √12 (a rectangular distribution; JCGM 100:2008 4.3.7, from memory).
func (d Dial) Rounding() float64 { return d.ReadsTo * d.Graduation / math.Sqrt(12) }

// prior is the spread of one reading as the fit wants it: in travel of the tip.
func (d Dial) prior() fit.Prior {
	p := fit.Prior{Floor: math.Hypot(d.Rounding(), d.Trembling) * d.scale(), Step: d.Graduation * d.scale(), Before: d.Before}
	if d.Repeatability > 0 {
		p.Sigma = math.Hypot(d.Repeatability, d.Rounding()) * d.scale()
		p.Dof = RepeatDof
		if d.Repeats > 1 {
			p.Dof = float64(d.Repeats - 1)
		}
	}
	return p
}

// RangeError: a reading that the dial cannot show. Millimetres.
type RangeError struct{ Reading, From, To float64 }

func (e *RangeError) Error() string {
	return fmt.Sprintf("reading %.4g mm is off the dial, need %.4g to %.4g mm", e.Reading, e.From, e.To)
}

// Check refuses a reading that is not finite or that the dial cannot show.
func (d Dial) Check(reading float64) error {
	if math.IsNaN(reading) || math.IsInf(reading, 0) {
		return fmt.Errorf("reading %v, need a finite number", reading)
	}
	// A reading typed at the very end of the range may be a rounding above it in another unit.
	const slack = 1e-9
	if (d.From != 0 || d.To != 0) && (reading < d.From-slack || reading > d.To+slack) {
		return &RangeError{Reading: reading, From: d.From, To: d.To}
	}
	return nil
}

// Farthest is how far from zero the dial can show at all, wherever its bezel is turned to, millimetres; 0 where its range is not
// known.
func (d Dial) Farthest() float64 { return d.To - d.From }

// Places is how many decimals a reading has in unit u: enough for the finest step that is read.
func (d Dial) Places(u geom.Unit) int {
	step := u.From(d.Graduation * d.ReadsTo)
	if !(step > 0) {
		return 3
	}
	for p := range 6 {
		scaled := step * math.Pow10(p)
		if math.Abs(scaled-math.Round(scaled)) < 1e-6*scaled {
			return p
		}
	}
	return 6
}
