package gauge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/trammel/geom"
)

// A needle that trembles by more than is stated is told once, behind ten seconds in one place, with a range that then lets it stand still
// by the rule itself; none that rests, or goes on.
func TestRestless(t *testing.T) {
	var rng *rand.Rand
	for name, x := range map[string]struct {
		at   func(s float64) float64
		told string // seconds
	}{
		"trembles":  {func(float64) float64 { return 0.1 + 0.004*rng.NormFloat64() }, "10"},
		"at rest":   {func(float64) float64 { return 0.1 + 0.0005*rng.NormFloat64() }, ""},
		"goes on":   {func(s float64) float64 { return 0.05*s + 0.004*rng.NormFloat64() }, ""},
		"and rests": {func(s float64) float64 { return 0.004 * rng.NormFloat64() * float64(1-int(s/20)%2) }, "10"},
	} {
		rng = rand.New(rand.NewPCG(3, 14)) // each the same, in whatever order
		r := reader(t, func(s *Settings) { s.Stable = 10 })
		r.Begin(false)
		told, wants := "", 0.0
		for i := range 1600 {
			s := float64(i) / 25
			at := simBegin.Add(time.Duration(s * float64(time.Second)))
			r.Add(fmt.Appendf(nil, "%.3f\n", x.at(s)), at, nil)
			if e := r.Restless(at); e != nil {
				told += fmt.Sprintf(" %d", int(s))
				wants = e.Wants
			}
		}
		if len(told) > 0 {
			told = told[1:]
		}
		if told != x.told {
			t.Errorf("%s: told at %q s, want %q", name, told, x.told)
		}
		if x.told == "" {
			continue
		}
		s, rests := NewSteady(10, math.Ceil(wants*100)/100), 0
		for i := range 500 {
			s.Add(0.1+0.004*rng.NormFloat64(), simTime(i))
			if _, err := s.Mean(simTime(i)); err == nil {
				rests++
			}
		}
		if rests < 250 {
			t.Errorf("%s: within %.3f it stands still %d times of 500", name, wants, rests)
		}
	}
	because, hint := (&Restless{By: 0.0112, Within: 0.01, Wants: 0.0231, Most: 0.1}).In(geom.Millimetre)
	if because != "it trembles by 0.011 mm and goes nowhere, more than within = 0.01" ||
		hint != "state within = 0.03 (trammel gauge, or [gauge] in the machine file), or type the reading" {
		t.Errorf("%s; %s", because, hint)
	}
	if _, hint := (&Restless{By: 0.0112, Within: 0.01, Wants: 0.0231, Most: 0.02}).In(geom.Millimetre); hint != "see what shakes it, or type the reading" {
		t.Errorf("where no needle stands still on the dial so, it says to %s", hint)
	}
}
