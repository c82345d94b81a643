package setup

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// swept is a ground round which an indicator is carried, or that is turned under one: a station is a bearing, and its
// answer what the needle shows.
type swept struct{ GroundFacts }

// Under: see [Ground].
func (g swept) Under() GroundFacts { return g.GroundFacts }

// Fit: see [Ground]. Errors are those of [indicator.Fit].
func (swept) Fit(of *Job, as indicator.Setup, all Entries) (indicator.Estimate, error) {
	r := all.round()
	return indicator.FitDrift(of.Dial, as, r.Bearings, r.Readings, r.Places)
}

// Seen: see [Ground]. A drift that was fitted is taken out of the readings.
func (swept) Seen(b *Bench, f *indicator.Estimate) ([]geom.Bearing, []float64) {
	r := b.Round()
	if r.Places != nil {
		return r.Bearings, f.Evened(r.Readings, r.Places)
	}
	return r.Bearings, r.Readings
}

// Suspects: see [Ground].
func (g swept) Suspects(b *Bench, f *indicator.Estimate) []indicator.Outlier {
	bearings, readings := g.Seen(b, f)
	return f.Suspects(bearings, readings)
}

// Doubted: see [Ground].
func (g swept) Doubted(b *Bench, f *indicator.Estimate, settled func(int) bool) (Doubt, bool) {
	for _, x := range g.Suspects(b, f) {
		if settled(x.Index) {
			continue
		}
		d := Doubt{Index: x.Index, Because: x.Because}
		if !math.IsNaN(x.WouldBe) {
			d.WouldBe = &x.WouldBe
		}
		return d, true
	}
	return Doubt{}, false
}

// Entered: see [Ground].
func (swept) Entered(of *Job, all Entries, e Entry, x Expected) Judged {
	j := Judged{OffBy: indicator.Value{V: e.Reading - x.V, U: x.U}, WouldBe: math.NaN()}
	if !(x.Dof > 0) {
		return j
	}
	if math.Abs(j.OffBy.V) <= x.U {
		return j // inside the 95 % band, and so inside the wider one, which costs more to find
	}
	band := x.U * fit.Student(1-surpriseAlarm/2, x.Dof) / fit.Coverage(x.Dof)
	if math.Abs(j.OffBy.V) > band {
		j.Surprise = true
		j.Because, j.WouldBe = of.Dial.Misread(e.Reading, x.V, x.U)
		if far := j.Because == indicator.Revolution || j.Because == indicator.TenDivisions; far && x.As.FormLimit == 0 {
			x.As.Form.Allowed /= 2 // just so large a slip by chance, of few stations, is more likely made than a ring so bad
		}
		if ringMay(of, all, e, x) {
			j.Because, j.WouldBe = indicator.FormCause, math.NaN()
		}
	}
	return j
}

// ringMay reports whether a reading that was not expected may as well be the reference's. Where it and the others are too few to say,
// lobes may have put out both what was read and what was expected.
func ringMay(of *Job, all Entries, e Entry, x Expected) bool {
	r := all.round()
	bearings, readings := append(slices.Clip(r.Bearings), e.Bearing), append(slices.Clip(r.Readings), e.Reading)
	if len(readings) <= fit.MinStations {
		return math.Abs(e.Reading-x.V) <= 2*x.As.Form.Allowed
	}
	f, err := indicator.Fit(of.Dial, x.As, bearings, readings)
	return err == nil && f.RingMay(bearings, readings, len(readings)-1)
}

// Form: see [Ground].
func (swept) Form(b *Bench, f *indicator.Estimate) (indicator.Roundness, error) {
	if n := len(b.Round().Readings); n < indicator.MinProfile {
		return indicator.Roundness{}, fmt.Errorf("%d readings, need at least %d stations", n, indicator.MinProfile)
	}
	if f == nil {
		found, err := indicator.Fit(b.Job.Dial, b.Setup, b.Round().Bearings, b.Round().Readings)
		if err != nil {
			return indicator.Roundness{}, err
		}
		f = &found
	}
	return f.Roundness(b.Round().Bearings, b.Round().Readings)
}
