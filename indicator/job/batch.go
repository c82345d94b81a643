package job

import (
	"fmt"
	"math"

	"example.org/trammel/indicator/setup"
)

// rawPart is what a file says of further parts on one setting.
type rawPart struct {
	Bracket      *bool    `toml:"bracket"`
	FixtureError *float64 `toml:"fixture_error"`
	Every        *float64 `toml:"every"`
}

// part reads how further parts are set; nothing where the file does not say.
func (f *file) part(r *rawPart, j *setup.Job) {
	if r == nil {
		return
	}
	j.Part = &setup.Batch{
		Bracket: r.Bracket != nil && *r.Bracket,
		FixtureLimit: length(j.Unit, f.number("part.fixture_error", r.FixtureError, 0, positive,
			"above 0: how far from its place a part may come to lie; leave it out where it is not known")),
		Every: int(f.number("part.every", r.Every, 0, func(v float64) bool {
			return v >= 1 && v <= setup.MostEvery && v == math.Trunc(v)
		}, fmt.Sprintf("a whole number from 1 to %d: how many parts on the next sweep is due", setup.MostEvery))),
	}
}

// part is what a file says of it.
func (w *writer) part(r *rawJob) {
	b := w.job.Part
	if b == nil {
		return
	}
	r.Part = &rawPart{FixtureError: w.above(b.FixtureLimit)}
	if b.Bracket {
		r.Part.Bracket = &b.Bracket
	}
	if b.Every > 0 {
		every := float64(b.Every)
		r.Part.Every = &every
	}
}
