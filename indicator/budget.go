package indicator

import (
	"math"

	"example.org/trammel/geom/fit"
)

// Part is one line of a budget.
type Part struct {
	Name string
	// U is the part's standard uncertainty in the result, millimetres, and Dof how well it is
	// known; +Inf for what comes from a stated limit.
	U, Dof float64
	// Cure says what would make it smaller.
	Cure string
}

// Budget is what an uncertainty is made of.
type Budget []Part

// Of is the part of a name; it is 0 where the budget has none, which is exact.
func (b Budget) Of(name string) Part {
	for _, p := range b {
		if p.Name == name {
			return p
		}
	}
	return Part{Name: name}
}

// Rest is all that is not the readings: the largest part, and all of them together by root sum of squares.
func (b Budget) Rest() (largest Part, u float64) {
	for _, p := range b {
		if p.Name == PartReadings {
			continue
		}
		if p.U > largest.U {
			largest = p
		}
		u = math.Hypot(u, p.U)
	}
	return largest, u
}

// The parts' names.
const (
	PartReadings  = "readings"
	PartReference = "reference radius"
	PartReach     = "reach"
	PartForm      = "reference's form"
	PartDial      = "dial error"
	PartLever     = "lever angle"
	PartDrift     = "drift"
	PartTilt      = "tilt"
	PartHeld      = "held radius"
	PartZero      = "zero radius"
)

// FromLimit turns a stated limit ± a into a standard uncertainty a/√3 (a rectangular
// distribution; JCGM 100:2008 4.3.7, from memory).
func FromLimit(limit float64) float64 { return limit / math.Sqrt(3) }

// Budget lists what the uncertainty of the radius is made of: the readings, and whatever limits
// have been stated for the reference's radius, the reach, the dial's own error and the lever
// angle. What is not stated is taken as exact and not listed. Nil where no radius is claimed.
func (f *Estimate) Budget() Budget {
	if !f.claims() || f.Dof <= 0 {
		return nil
	}
	readings := f.spread() * math.Sqrt(max(0, f.Circle.Cofactor[0][0]))
	if f.Circle.Hold {
		held := Part{Name: PartHeld, U: FromLimit(f.Setup.HeldLimit), Dof: math.Inf(1), Cure: "measure the radius that is held"}
		return Budget{{Name: PartReadings, Dof: f.Dof}, held}
	}
	cure := "take further stations, or a finer dial"
	if _, short := f.Collinear(); short {
		cure = "sweep more of the circle, or hold a radius that is known"
	} else if f.Trembles() {
		cure = "take further stations, or still what makes the needle tremble"
	}
	parts := Budget{{Name: PartReadings, U: readings, Dof: f.Dof, Cure: cure}}
	exact := func(name string, u float64, cure string) {
		if u > 0 {
			parts = append(parts, Part{Name: name, U: u, Dof: math.Inf(1), Cure: cure})
		}
	}
	if f.Circle.Sought == fit.ZeroDistance {
		exact(PartReference, FromLimit(f.Setup.ReferenceLimit), "measure the reference")
		exact(PartReach, FromLimit(f.Setup.ReachLimit), "measure the reach")
	}
	if f.Circle.Sought == fit.SurfaceRadius {
		exact(PartZero, FromLimit(f.Setup.ZeroLimit), "measure the zero radius")
	}
	form, _ := f.formPart()
	exact(PartForm, FromLimit(form), "turn the reference, or use more even stations or a rounder one")
	exact(PartDial, FromLimit(f.Dial.ErrorLimit)*f.Dial.scale(), "bring the readings near zero, or have the dial checked")
	exact(PartLever, math.Abs(f.meanReading()*math.Sin(f.Dial.LeverAngle))*FromLimit(f.Dial.LeverLimit),
		"lay the lever along the surface, or bring the readings near zero")
	if f.Change.Known() {
		// The circle is known as it stood at the middle of the sweep; what it was before, when the reach
		// was set, and what it is now lie half the drift to either side.
		exact(PartDrift, FromLimit(math.Abs(f.Change.V)*f.Dial.scale()/2), "let all come to rest, and begin the sweep again")
	}
	exact(PartTilt, FromLimit(f.Setup.tilted()), "sweep at the cutting height")
	return parts
}

// Trembles reports whether the readings' spread is taken to be what the needle of a cable indicator trembles by, because they scatter
// about the circle by less: a few readings do so by chance, and nobody has stated how well one repeats.
func (f *Estimate) Trembles() bool {
	d := &f.Dial
	return d.Repeatability == 0 && d.Trembling > d.Rounding() && f.Dof > 0 && f.spread() <= d.prior().Floor
}

// claims reports whether the fit says a radius at all.
func (f *Estimate) claims() bool {
	return f.Circle.Sought == fit.SurfaceRadius || (f.Circle.Sought == fit.ZeroDistance && f.Setup.ReachKnown)
}

// heldU is the standard uncertainty of a held level, millimetres: that of the held radius, and of
// what lies between it and the level. 0 where none is held.
func (f *Estimate) heldU() float64 {
	if !f.Circle.Hold {
		return 0
	}
	sum := math.Hypot(FromLimit(f.Setup.HeldLimit), FromLimit(f.Dial.ErrorLimit)*f.Dial.scale())
	if f.Circle.Sought == fit.ZeroDistance {
		sum = math.Hypot(sum, math.Hypot(FromLimit(f.Setup.ReferenceLimit), FromLimit(f.Setup.ReachLimit)))
	}
	if f.Circle.Sought == fit.SurfaceRadius {
		sum = math.Hypot(sum, FromLimit(f.Setup.ZeroLimit))
	}
	return sum
}

// meanReading is what the fitted circle gives on the average, to first order: the reading of a
// concentric reference.
func (f *Estimate) meanReading() float64 {
	level := f.Circle.Level
	if f.Circle.Sought == fit.ZeroDistance {
		return (f.Circle.Surface - level) / f.perReading()
	}
	return (level - f.Setup.ZeroRadius) / f.perReading()
}

// Combine adds the parts up: the combined standard uncertainty by root sum of squares, and its
// effective degrees of freedom by the Welch–Satterthwaite formula
//
//	ν = u⁴ / Σ (uᵢ⁴/νᵢ)
//
// Source: JCGM 100:2008, G.4.1, equation G.2b (from memory).
func (b Budget) Combine() (u, dof float64) {
	sum, by := 0.0, 0.0
	for _, p := range b {
		q := p.U * p.U
		sum += q
		if !math.IsInf(p.Dof, 1) {
			by += q * q / p.Dof
		}
	}
	if by == 0 {
		return math.Sqrt(sum), math.Inf(1)
	}
	return math.Sqrt(sum), sum * sum / by
}

// radiusU is the expanded uncertainty of the radius, NaN where the spread is not known.
func (f *Estimate) radiusU() float64 {
	parts := f.Budget()
	if parts == nil {
		return math.NaN()
	}
	return parts.expanded()
}

// expanded is the expanded uncertainty (95 %) of what the parts make.
func (b Budget) expanded() float64 {
	u, dof := b.Combine()
	return fit.Coverage(dof) * u
}

// Limiting returns the part of the budget that is worth working on: the readings, or, where all
// other parts together outweigh them so that more readings cannot help, the largest of the others.
func (f *Estimate) Limiting() (p Part, beyondReadings, ok bool) {
	parts := f.Budget()
	if parts == nil {
		return p, false, false
	}
	readings := parts.Of(PartReadings)
	if largest, rest := parts.Rest(); rest > readings.U {
		return largest, true, true
	}
	return readings, false, true
}
