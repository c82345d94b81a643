package setup

import "fmt"

// Batch says how further parts are set on one setting, one after the other. Lengths are millimetres.
type Batch struct {
	// Bracket says that the indicator stands on a bracket of its own, and need not change places with the cutter.
	Bracket bool `json:"bracket,omitempty"`
	// FixtureLimit bounds how far from its place a part comes to lie in the fixture or against the stop, ±; 0 where nobody says.
	FixtureLimit float64 `json:"fixture_limit,omitempty"`
	// Every is how many parts on the next sweep is due, behind the second part; 0 where what the parts before have shown says it.
	Every int `json:"every,omitempty"`
}

// MostEvery bounds how many parts on a sweep is due.
const MostEvery = 1000

// check refuses what no file can have stated.
func (b *Batch) check() error {
	if b.Every < 0 || b.Every > MostEvery {
		return fmt.Errorf("job: part.every %d, need 0 to %d", b.Every, MostEvery)
	}
	return checkAll("job: ", []figure{upTo("part.fixture_limit", b.FixtureLimit, mostLength)})
}

// Batch is what the job says of further parts.
func (j *Job) Batch() Batch {
	if j.Part == nil {
		return Batch{}
	}
	return *j.Part
}
