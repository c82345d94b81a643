package check_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/indicator/check"
)

// How an arc of radius r, about the origin, measures by every way: each figure from where the circle truly is, by
// Pythagoras on the points where a pin, a foot or an edge touches it, and from no formula of a measurement.
func measured(r float64) map[string]map[string]float64 {
	sag := func(half float64) float64 { return r - math.Sqrt(r*r-half*half) } // height of the arc over a chord
	const pin, ball, pitch = 6.0, 3.0, 4.0
	// A pin on the plate that the arc stands on touches it from outside: their middles are r + 3 apart, and r − 3 in height.
	beside := math.Sqrt((r+pin/2)*(r+pin/2) - (r-pin/2)*(r-pin/2))
	// Two pins that lie in the hollow: their middles are r − 3 from the arc's, here 9 to either side of the lowest place.
	low := math.Sqrt((r-pin/2)*(r-pin/2) - 81)
	// A pin on the bottom under a rim 30 wide.
	rim := math.Sqrt(r*r - 225)
	return map[string]map[string]float64{
		"chord":        {"chord": 30, "sagitta": sag(15)},
		"base":         {"base": 24, "depth": r + ball/2 - math.Sqrt((r+ball/2)*(r+ball/2)-144), "foot-ball": ball},
		"cusp":         {"cusp": sag(pitch / 2), "pitch": pitch},
		"diameter":     {"diameter": 2 * r},
		"over pins":    {"over-pins": 2*beside + pin, "pin": pin},
		"between pins": {"between-pins": 2*beside - pin, "pin": pin},
		"hollow pins":  {"hollow-pins": 18 + pin, "pin": pin, "height": r - low + pin/2},
		"hollow pin":   {"chord": 30, "pin": pin, "stands": pin - (r - rim)},
		"from hole":    {"from-hole": r - 12, "hole": 24, "off-centre": 0},
	}
}

// Every way finds the arc that it was measured on, is found by its figures, and takes no figure that is not among the
// lengths; no length is of no way.
func TestEveryWay(t *testing.T) {
	used := map[string]bool{}
	for i := range check.Ways {
		w := &check.Ways[i]
		for _, n := range append(slices.Clone(w.Needs), w.May) {
			used[n] = true
			if n != "" && n != check.PointsOn && !slices.ContainsFunc(check.Lengths, func(l check.Length) bool { return l.Name == n }) {
				t.Errorf("%s takes %s, which is no length", w.Name, n)
			}
		}
		if got := check.WayOf(w.Needs); got != w {
			t.Errorf("the figures %q are of way %+v, want %s", w.Needs, got, w.Name)
		}
		if w.Measure == nil {
			continue
		}
		figures, ok := measured(40)[w.Name]
		if !ok {
			t.Errorf("%s measures no true arc here", w.Name)
			continue
		}
		side := check.Inside
		if w.Only != nil {
			side = *w.Only
		}
		a, err := w.Measure(func(name string) check.Figure { return check.Figure{V: figures[name]} }, side)
		if err != nil || math.Abs(a.Radius.V-40) > 1e-9 {
			t.Errorf("%s: radius %v, %v, want 40", w.Name, a.Radius.V, err)
		}
	}
	for _, l := range check.Lengths {
		if !used[l.Name] {
			t.Errorf("%s is of no way", l.Name)
		}
	}
	for _, none := range [][]string{{"chord"}, {"chord", "sagitta", "pin"}, {"pin"}, {"diameter", check.PointsOn}} {
		if w := check.WayOf(none); w != nil {
			t.Errorf("%q are the figures of %s, want of no way", none, w.Name)
		}
	}
}
