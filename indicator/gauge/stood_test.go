package gauge

import (
	"fmt"
	"math"
	"testing"
)

// What a needle has done since the last entry is told from all that has come since, not from what is taken: how it was swung away and
// came back to the same figure counts.
func TestStay(t *testing.T) {
	trembles := func(i int) float64 { return 0.188 + 0.001*float64(i%2) }
	for name, x := range map[string]struct {
		at     func(i int) float64
		within float64
		stay   Stay
	}{
		"on hold":            {func(int) float64 { return 0.188 }, 0.01, Held},
		"its last figure":    {trembles, 0.01, Trembled},
		"in a narrow range":  {trembles, 0.005, Trembled}, // two last figures
		"swung, and back":    {func(i int) float64 { return trembles(i) + 0.03*math.Exp(-math.Pow(float64(i-40), 2)) }, 0.01, Left},
		"elsewhere":          {func(i int) float64 { return 0.188 + 0.02*float64(i/40) }, 0.01, Left},
		"beyond the dial":    {func(i int) float64 { return map[bool]float64{true: 5, false: 0.188}[i == 40] }, 0.01, Left},
		"a coarse last step": {func(i int) float64 { return 0.19 + 0.01*float64(i/70) }, 0.04, Trembled},
	} {
		r := reader(t, func(s *Settings) { s.Most, s.Within = 1.6, x.within })
		r.Begin(false)
		for i := range 80 {
			if i == 20 {
				r.Forget()
			}
			r.Add(fmt.Appendf(nil, "%+.3f\r\n", x.at(i)), simTime(i), nil)
		}
		if m, err := r.Mean(simTime(79)); err != nil || m.Stay != x.stay {
			t.Errorf("%s: %v, %v, want %v", name, m.Stay, err, x.stay)
		}
	}
}

// Whoever took a needle that trembles where it stood is not asked again in that sweep; of one that shows the same figure all the
// time they are, and so in the next sweep.
func TestSwings(t *testing.T) {
	var w Swings
	doubts := func(station int, stay Stay, want bool) {
		t.Helper()
		if _, got := w.Doubts(station, Mean{Stay: stay}); got != want {
			t.Errorf("station %d, %v: doubted %v, want %v", station, stay, got, want)
		}
	}
	doubts(1, Held, false) // nothing to compare it with
	w.Entered(1, false)
	doubts(2, Left, false)
	doubts(1, Held, false) // read again where it stands
	doubts(2, Trembled, true)
	doubts(2, Held, true)
	w.Entered(0, false) // a note
	doubts(2, Held, false)
	w.Entered(2, false)
	w.Insisted()
	doubts(3, Trembled, false)
	doubts(3, Held, true)
	w.Entered(0, true)
	w.Entered(1, false)
	doubts(2, Trembled, true)
}
