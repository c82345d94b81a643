package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Roundness is the form of the reference: the four reference circles of its profile. The order of
// the fields is that of the text.
type Roundness struct {
	Stations             int        `json:"stations"`
	Lobes                int        `json:"lobes"`
	LeastSquares         FormCircle `json:"least_squares"`
	MinimumZone          FormCircle `json:"minimum_zone"`
	MinimumCircumscribed FormCircle `json:"minimum_circumscribed"`
	MaximumInscribed     FormCircle `json:"maximum_inscribed"`
	Peak                 Spot       `json:"peak"`
	Valley               Spot       `json:"valley"`
}

// FormCircle is one reference circle: its centre, the profile's departure from it (peak to valley),
// and the departure that the readings' stated repeatability alone would typically make, null where
// none is stated.
type FormCircle struct {
	X         Number `json:"x"`
	Y         Number `json:"y"`
	Departure Number `json:"departure"`
	Noise     Number `json:"noise"`
}

// Spot is where the metal stands proud of the least-squares circle most, or lies back most.
type Spot struct {
	Reading   int    `json:"reading"` // from 1
	Bearing   Number `json:"bearing"`
	Departure Number `json:"departure"`
}

// Notes that go with the form.
const (
	noteLobes   = "%d %s are sure to show no more than %d lobes: more may hide between them, and the surface depart by more%s"
	noteSwing   = "; an error of the swing itself looks the same"
	noteNoNoise = "how much of a departure the readings' own spread makes cannot be told: that needs the repeatability, stated"
	noteNoise   = "in brackets behind each departure stands what readings that repeat as stated make of a true circle, on average"
	noteSlip    = "a reading that does not fit the others is in the form too: settle it first"
)

// WithRoundness puts the form of the reference into the record.
func (x Fit) WithRoundness(r *indicator.Roundness) Fit {
	circle := func(c *indicator.FormCircle) FormCircle {
		return FormCircle{
			X: Number(x.Unit.From(c.Centre.X)), Y: Number(x.Unit.From(c.Centre.Y)),
			Departure: Number(x.Unit.From(c.Departure)), Noise: Number(x.Unit.From(c.Noise)),
		}
	}
	spot := func(s indicator.Spot) Spot {
		return Spot{s.Index + 1, Degrees360(s.At), Number(x.Unit.From(s.Departure))}
	}
	x.Roundness = &Roundness{
		Stations: r.Places, Lobes: r.Lobes,
		LeastSquares: circle(&r.LeastSquares), MinimumZone: circle(&r.MinimumZone),
		MinimumCircumscribed: circle(&r.MinimumCircumscribed), MaximumInscribed: circle(&r.MaximumInscribed),
		Peak: spot(r.Peak), Valley: spot(r.Valley),
	}
	what, swing := "stations", noteSwing
	if x.Setup.Pair() {
		what, swing = "points", ""
	}
	noise := noteNoise
	if x.Roundness.MinimumZone.Noise.Unknown() {
		noise = noteNoNoise
	}
	x.Notes = append(x.Notes, fmt.Sprintf(noteLobes, r.Places, what, r.Lobes, swing), noise)
	if len(x.Suspects) > 0 {
		x.Notes = append(x.Notes, noteSlip)
	}
	return x
}

// text spells the form, a circle a line.
func (r *Roundness) text(u geom.Unit) string {
	var b strings.Builder
	fixed := func(n Number) string { return geom.FormatFixed(float64(n), geom.Places(0, u)) }
	b.WriteString("\nform of the surface:")
	for _, c := range []struct {
		name string
		*FormCircle
	}{
		{"least-squares circle (LSC)", &r.LeastSquares}, {"minimum-zone circles (MZC)", &r.MinimumZone},
		{"smallest circle outside (MCC)", &r.MinimumCircumscribed}, {"largest circle inside (MIC)", &r.MaximumInscribed},
	} {
		fmt.Fprintf(&b, "\n  %s: departs by %s %v", c.name, fixed(c.Departure), u)
		if !c.Noise.Unknown() {
			fmt.Fprintf(&b, " (readings alone: about %s %v)", fixed(c.Noise), u)
		}
		fmt.Fprintf(&b, ", centre x %s y %s %v", fixed(c.X), fixed(c.Y), u)
	}
	fmt.Fprintf(&b, "\n  metal proud of the least-squares circle by %s %v at %s (reading %d), back by %s %v at %s (reading %d)",
		fixed(r.Peak.Departure), u, Degrees(RoundTo(float64(r.Peak.Bearing), 1)), r.Peak.Reading,
		fixed(r.Valley.Departure), u, Degrees(RoundTo(float64(r.Valley.Bearing), 1)), r.Valley.Reading)
	return b.String()
}
