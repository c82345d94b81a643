package main

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// k95 is the 97.5 % point of the normal distribution: tables, e.g. NIST/SEMATECH e-Handbook 1.3.6.7.1 (from memory).
const k95 = 1.959964

// coverage is how many steps of simulated parts lie inside their bands of 95 %, blend by blend, and the mean square
// of their distances in standard uncertainties.
type coverage struct {
	parts  int
	inside []int
	square []float64
}

// cover makes so many parts, from a seed on.
func cover(t testing.TB, parts int, first uint64) coverage {
	t.Helper()
	p, all := quadrant(t), make([][]float64, parts)
	sideBySide(t, parts, func(i int) (err error) {
		all[i], err = scored(p, first+uint64(i))
		return err
	})
	c := coverage{parts: parts, inside: make([]int, len(all[0])), square: make([]float64, len(all[0]))}
	for _, steps := range all {
		for k, z := range steps {
			if math.Abs(z) <= k95 {
				c.inside[k]++
			}
			c.square[k] += z * z / float64(parts)
		}
	}
	return c
}

func (c *coverage) share() (share float64) {
	for _, n := range c.inside {
		share += float64(n) / float64(c.parts*len(c.inside))
	}
	return share
}

func (c *coverage) String() string {
	text := fmt.Sprintf("%d parts, %.2f %% of all steps inside; by blend", c.parts, 100*c.share())
	for k, n := range c.inside {
		text += fmt.Sprintf("  %.1f (rms %.2f)", 100*float64(n)/float64(c.parts), math.Sqrt(c.square[k]))
	}
	return text
}

// atLeast is the fewest successes of n that chance p leaves in all but one of rare cases: the binomial law, its failures
// summed from none on.
func atLeast(n int, p, rare float64) int {
	term, failures := math.Pow(p, float64(n)), 0
	for sum := term; sum < 1-1/rare; sum += term {
		term *= float64(n-failures) / float64(failures+1) * (1 - p) / p
		failures++
	}
	return n - failures
}

// The true step at a blend, made of circles that are intersected, lies inside the band that the accepted settings foretell:
// 95 ± 2 of 100, of which BenchmarkStepsOfParts tells to a few tenths. Of so few parts as here chance leaves more room: of 300 a
// blend that is inside in 93 of 100 has fewer than atLeast in one of ten thousand runs, and its mean square (1.082², for 1.96
// covers 93 % of a normal law of that width; 0.903² for 97 %) strays by 4 times √(2/300), for no law here has longer tails than the normal.
func TestStepsOfSimulatedParts(t *testing.T) {
	const parts = 300
	c := cover(t, parts, 1)
	t.Log(c.String())
	if len(c.inside) != 8 {
		t.Fatalf("%d steps foretold, want the rim's 8", len(c.inside))
	}
	least, stray := atLeast(parts, 0.93, 10000), 4*math.Sqrt(2.0/parts)
	for k, n := range c.inside {
		if n < least {
			t.Errorf("blend %d: %d of %d steps inside, want %d at least", k, n, parts, least)
		}
		if v := c.square[k]; v < 0.903*0.903*(1-stray) || v > 1.082*1.082*(1+stray) {
			t.Errorf("blend %d: mean square %.3f standard uncertainties², want %.3f to %.3f", k, v, 0.903*0.903*(1-stray),
				1.082*1.082*(1+stray))
		}
	}
}

// BenchmarkStepsOfParts makes 2000 parts, and tells how many in 100 of the true steps lie inside their bands, over all, and
// at the blends where fewest and most do.
func BenchmarkStepsOfParts(b *testing.B) {
	const parts = 2000
	var all, worst, most float64
	for b.Loop() {
		c := cover(b, parts, 1)
		all, worst, most = 100*c.share(), 100*float64(slices.Min(c.inside))/parts, 100*float64(slices.Max(c.inside))/parts
	}
	b.ReportMetric(all, "%inside")
	b.ReportMetric(worst, "%fewest")
	b.ReportMetric(most, "%most")
}
