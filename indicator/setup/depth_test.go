package setup_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/indicator/setup"
)

// Cuts of round figures, by hand: 6 in steps of 2 are 2, 4, 6; 5 in steps of 2 takes three passes and so is cut by thirds; one of
// the step's own depth is one pass; and 0.3 in by 0.1 in, whose millimetres are not exactly three to one, stays three.
func TestPasses(t *testing.T) {
	for _, c := range []struct {
		depth, step float64
		want        []float64
	}{
		{6, 2, []float64{2, 4, 6}}, {5, 2, []float64{5.0 / 3, 10.0 / 3, 5}}, {6, 6, []float64{6}}, {6, 5.9, []float64{3, 6}},
		{0.3 * 25.4, 0.1 * 25.4, []float64{2.54, 5.08, 7.62}}, {0, 0, nil}, {6, 0, nil}, {101, 1, nil},
	} {
		got := (&setup.Cut{Depth: c.depth, Step: c.step}).Passes()
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }) {
			t.Errorf("%v in steps of %v: %v, want %v", c.depth, c.step, got, c.want)
		}
	}
	if p := (*setup.Cut)(nil).Passes(); p != nil {
		t.Errorf("no cut has the passes %v", p)
	}
}

// Whatever depth and step: the passes go down all the way, evenly, to exactly the depth, no step is larger than may be, and one pass
// fewer would need a larger one.
func TestPassesGoDownEvenly(t *testing.T) {
	const hair = 1e-9
	for i := range 400 {
		depth := 0.05 + 0.173*float64(i)
		for _, share := range []float64{0.011, 0.1, 1.0 / 3, 0.4, 0.5, 0.7, 0.999, 1} {
			step := depth * share
			all := (&setup.Cut{Depth: depth, Step: step}).Passes()
			if len(all) == 0 || all[len(all)-1] != depth {
				t.Fatalf("%v in steps of %v: %v, want it to end at the depth", depth, step, all)
			}
			before := 0.0
			for _, at := range all {
				if by := at - before; !(by > 0) || by > step*(1+hair) || math.Abs(by-all[0]) > hair*depth {
					t.Fatalf("%v in steps of %v: %v, want even steps", depth, step, all)
				}
				before = at
			}
			if n := len(all) - 1; n > 0 && depth/float64(n) <= step*(1-hair) {
				t.Fatalf("%v in steps of %v: %d passes, and %d would do", depth, step, n+1, n)
			}
		}
	}
}

// A record's depth that no file can have stated is refused, so that no journal asks for more passes than anybody makes.
func TestDepthChecked(t *testing.T) {
	for _, c := range []struct {
		cut setup.Cut
		ok  bool
	}{
		{setup.Cut{Cutter: 8}, true},
		{setup.Cut{Cutter: 8, Depth: 6, Step: 2, Spring: true, Entry: setup.WayInHole}, true},
		{setup.Cut{Cutter: 8, Depth: 6}, false}, {setup.Cut{Cutter: 8, Step: 2}, false}, {setup.Cut{Cutter: 8, Spring: true}, false},
		{setup.Cut{Cutter: 8, Entry: setup.WayInOff}, false}, {setup.Cut{Cutter: 8, Depth: 6, Step: 7}, false},
		{setup.Cut{Cutter: 8, Depth: 1e9, Step: 1e-9}, false}, {setup.Cut{Cutter: 8, Depth: -6, Step: -6}, false},
		{setup.Cut{Cutter: 8, Depth: 6, Step: 2, Entry: "side"}, false},
	} {
		if err := (&setup.Job{Cut: &c.cut, Sweep: setup.Sweep{Stations: 6, To: 6}}).Check(); (err == nil) != c.ok {
			t.Errorf("%+v: %v, want it taken: %v", c.cut, err, c.ok)
		}
	}
}
