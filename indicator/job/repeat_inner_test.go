package job

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Of five readings that scatter as they should, be it by less than a mark or by several, one is asked once more in no more than one
// round of twenty, to what so many rounds can tell; a reading that is a whole mark out where the others stand within a fifth is always
// asked once more.
func TestRepeatApart(t *testing.T) {
	const rounds = 10000
	chance := rand.New(rand.NewPCG(5, 18))
	five := func(readings ...float64) *answers {
		a := &answers{all: []Given{{Key: "unit", toml: `"mm"`}, {Key: "setup.kind", toml: `"carried"`},
			{Key: "dial.graduation", toml: "0.01"}}}
		for i, v := range readings {
			a.all = append(a.all, Given{Key: "dial." + readingKey(i), toml: decimal(v)})
		}
		return a
	}
	asked := func(a *answers) (n int) {
		for i := range repeatReadings {
			if a.apart(i) > 0 {
				n++
			}
		}
		return n
	}
	for _, sigma := range []float64{0.001, 0.002, 0.004, 0.01, 0.03} {
		alarms := 0
		for range rounds / 5 {
			var r [repeatReadings]float64
			for i := range r {
				r[i] = math.Round(chance.NormFloat64()*sigma/0.002) * 0.002 // read to a fifth of a mark
			}
			if asked(five(r[:]...)) > 0 {
				alarms++
			}
		}
		if part := float64(alarms) / (rounds / 5); part > 0.05+3*math.Sqrt(0.05*0.95*5/rounds) {
			t.Errorf("spread %v: %.2f %% of rounds are asked once more, want at most 5 %%", sigma, 100*part)
		}
	}
	for n := range repeatReadings {
		r := [repeatReadings]float64{0.1, 0.102, 0.1, 0.102, 0.1}
		r[n] += 0.012
		if a := five(r[:]...); a.apart(n) == 0 || asked(a) != 1 {
			t.Errorf("reading %d a mark out: asked for %d of them, want that one alone", n+1, asked(a))
		}
		if a := five(r[:4]...); asked(a) != 0 {
			t.Errorf("four readings: %d are asked once more", asked(a))
		}
	}
}
