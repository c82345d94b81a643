package advice

import (
	"math"

	"example.org/trammel/indicator"
)

// Reason says why an open sweep is to be closed.
type Reason uint8

// The reasons.
const (
	GoOn    Reason = iota // it is not
	Decided               // nothing is undecided any more
	ToWind                // winding helps sooner than further stations can
	AtLimit               // as many stations as make sense, and still undecided
)

// Open is a sweep that is open, as far as its closing goes by it.
type Open struct {
	Looks
	Entries int
	// Full says that it takes no more stations.
	Full bool
	// Judge compares a fitted sweep with the target, tail being the risk that the look may take.
	Judge func(f *indicator.Estimate, tail float64) indicator.Verdicts
	// Measured is Judge as if all that is assumed were right: what is undecided by Judge and not by it waits for somebody to say
	// how right that is, not for readings.
	Measured func(f *indicator.Estimate, tail float64) indicator.Verdicts
	// Tasks are what each slide would have to do.
	Tasks func(f *indicator.Estimate, v indicator.Verdicts) []Task
}

// Close says whether the sweep, which is fitted as f, has to be closed, and why. Before its planned stations
// are in, only a clear answer closes it: all inside, or winds that are known to half of what they
// have to meet.
func (o *Open) Close(f *indicator.Estimate) Reason {
	look, now := o.At(o.Entries)
	if !now {
		return GoOn
	}
	planned := o.Entries >= o.Planned
	v := o.Judge(f, look.Tail)
	if !o.whole(o.Entries) {
		formed := f.WithForm()
		if v = o.Judge(&formed, look.Tail); !v.Has(indicator.Outside) {
			return GoOn
		}
	}
	switch {
	case v.Has(indicator.Outside):
		if planned || windsKnown(f, o.Tasks(f, v)) {
			return ToWind
		}
		return GoOn
	case !v.Has(indicator.Undecided):
		return Decided
	case !planned:
		return GoOn
	case o.Full || !o.hopeful(f):
		if len(Worthwhile(o.Tasks(f, v), v)) > 0 {
			return ToWind
		}
		if o.Full || !o.Measured(f, look.Tail).Has(indicator.Undecided) {
			return AtLimit
		}
		// Where what limits is not the readings, more of them cannot help.
		_, beyond, _ := f.Limiting()
		if beyond && v.Radius == indicator.Undecided && v.Centre != indicator.Undecided {
			return AtLimit
		}
	}
	return GoOn
}

// enoughDof is how well the spread of a reading has to be known before a sweep may stop early for
// its winds: a few readings more than unknowns look steadier than they are now and then, and to
// stop just then is to believe it.
const enoughDof = 6

// windsKnown reports whether every wind would land well inside what it serves.
func windsKnown(f *indicator.Estimate, all []Task) bool {
	if f.Dof < enoughDof {
		return false
	}
	for _, e := range all {
		if !(e.Travel.U <= e.Half/2) {
			return false
		}
	}
	return true
}

// hopeful reports whether the undecided verdicts could still be decided with as many stations
// as the sweep may have: an uncertainty shrinks with the square root of their number, and the last
// look may take its own share of the risk. Three readings without a stated repeatability know no uncertainty, and a
// fourth gives one; to wind by them instead would be to chase the noise for ever.
func (o *Open) hopeful(f *indicator.Estimate) bool {
	if f.Dof <= 0 {
		return true
	}
	g := *f
	more := float64(o.Limit - o.Entries)
	g.Sigma *= math.Sqrt(float64(f.Circle.N) / (float64(f.Circle.N) + more))
	g.Dof += more
	last, _ := o.At(o.Limit)
	return !o.Judge(&g, last.Tail).Has(indicator.Undecided)
}
