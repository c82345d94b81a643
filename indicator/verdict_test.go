package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator"
)

// The zones of the decision rule; the file names the sources and how sure they are.
func TestJudgeAgainstReference(t *testing.T) {
	words := map[string]indicator.Verdict{
		"conform":     indicator.Inside,
		"not proven":  indicator.Undecided,
		"non-conform": indicator.Outside,
	}
	seen := 0
	for _, c := range readReference(t, "../testdata/decision/decision_rule.json") {
		if c.Kind != "zone" {
			continue
		}
		want, ok := words[c.Verdict]
		if !ok {
			t.Fatalf("%s: verdict %q has no counterpart", c.ID, c.Verdict)
		}
		seen++
		target, tolerance := (c.LSL+c.USL)/2, (c.USL-c.LSL)/2
		if got := indicator.Judge(indicator.Value{V: c.Y - target, U: c.U}, tolerance, 1); got != want {
			t.Errorf("%s: %v with U %v in %v to %v is %v, want %v", c.ID, c.Y, c.U, c.LSL, c.USL, got, want)
		}
		// The rule has no up or down.
		if got := indicator.Judge(indicator.Value{V: target - c.Y, U: c.U}, tolerance, 1); got != want {
			t.Errorf("%s mirrored is %v, want %v", c.ID, got, want)
		}
	}
	if seen != 7 {
		t.Errorf("%d zones checked, the reference has 7", seen)
	}
}

// The risk of accepting what lies just at the limit: with U = 2u it is at most the 0.025 that the
// reference prints for a guard band of U, and more than the 0.0016 of one of 1.5 U. (The guard
// band of the 2017 default, 0.83 U, would take it to 0.05.) Instead of chance, the measured value
// takes every quantile of its normal law once.
func TestRiskAtTheLimit(t *testing.T) {
	risk := map[float64]float64{}
	for _, c := range readReference(t, "../testdata/decision/decision_rule.json") {
		if c.Kind == "pfa" {
			risk[c.WOverU] = c.Values[0].Value
		}
	}
	const tolerance, u, n = 0.02, 0.002, 20000
	accepted := 0
	for i := range n {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/n-1)
		if indicator.Judge(indicator.Value{V: tolerance + u*z, U: 2 * u}, tolerance, 1) == indicator.Inside {
			accepted++
		}
	}
	got := float64(accepted) / n
	if got > risk[1] || got <= risk[1.5] {
		t.Errorf("%.4f of what lies at the limit is accepted, want at most %v and more than %v", got, risk[1], risk[1.5])
	}
}

// The edges, in numbers that a float64 holds exactly: inside includes its edge, outside does not.
func TestJudgeEdges(t *testing.T) {
	above := 0.375 + 1.0/(1<<52) // a smaller step is rounded away when U is added
	beyond := math.Nextafter(0.625, 1)
	nan := math.NaN()
	for _, c := range []struct {
		v, u, tolerance float64
		want            indicator.Verdict
	}{
		{0.375, 0.125, 0.5, indicator.Inside},
		{-0.375, 0.125, 0.5, indicator.Inside},
		{above, 0.125, 0.5, indicator.Undecided},
		{-above, 0.125, 0.5, indicator.Undecided},
		{0.625, 0.125, 0.5, indicator.Undecided},
		{beyond, 0.125, 0.5, indicator.Outside},
		{-beyond, 0.125, 0.5, indicator.Outside},
		{0, 0.5, 0.5, indicator.Inside},
		{0, 0.501, 0.5, indicator.Undecided},
		{0.5, 0, 0.5, indicator.Inside},
		// Without an uncertainty nothing is proven, however far off.
		{0, nan, 0.5, indicator.Undecided},
		{100, nan, 0.5, indicator.Undecided},
		{100, math.Inf(1), 0.5, indicator.Undecided},
		// Without a value nothing can be asked.
		{nan, nan, 0.5, indicator.NoVerdict},
		{nan, 0.1, 0.5, indicator.NoVerdict},
	} {
		if got := indicator.Judge(indicator.Value{V: c.v, U: c.u}, c.tolerance, 1); got != c.want {
			t.Errorf("%v ± %v against ± %v is %v, want %v", c.v, c.u, c.tolerance, got, c.want)
		}
	}
}

// A guard widens the band of both verdicts: 0.125 · 1.5 = 0.1875.
func TestJudgeGuard(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want indicator.Verdict
	}{
		{0.3125, indicator.Inside}, {-0.3125, indicator.Inside},
		{0.3126, indicator.Undecided}, {-0.3126, indicator.Undecided},
		{0.6875, indicator.Undecided}, {-0.6875, indicator.Undecided}, {0.6876, indicator.Outside}, {-0.6876, indicator.Outside},
	} {
		if got := indicator.Judge(indicator.Value{V: c.v, U: 0.125}, 0.5, 1.5); got != c.want {
			t.Errorf("%v ± 0.125 with a guard of 1.5 against ± 0.5 is %v, want %v", c.v, got, c.want)
		}
	}
}

// The guard is the ratio of two quantiles: with ten degrees of freedom t(0.995) = 3.169 and
// t(0.975) = 2.228, with infinitely many 2.576 and 1.960 (NIST/SEMATECH e-Handbook of Statistical
// Methods, 1.3.6.7.2). It is 1 for a sweep that is looked at once, and where nothing is known.
func TestGuard(t *testing.T) {
	for _, c := range []struct{ dof, tail, want float64 }{
		{10, 0.005, 3.169 / 2.228}, {math.Inf(1), 0.005, 2.576 / 1.960}, {10, 0.025, 1}, {10, 0.1, 1}, {0, 0.005, 1},
	} {
		f := indicator.Estimate{Dof: c.dof}
		near(t, "guard", f.Guard(c.tail), c.want, 5e-4)
	}
}
