package report

import (
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// What is new between two lessons is told by its last, not by the first that was ever taught.
func TestHistoryTellsTheNewest(t *testing.T) {
	was := slide.Lesson{Radii: []slide.RadiusSeen{{R: 41}}, Travels: []slide.TravelSeen{{Moved: 0.1, Turned: 0.11}},
		Reversals: []slide.ReversalSeen{{Turned: 0.12}}, Locks: []slide.LockSeen{{Moved: 0.001}}}
	now := slide.Lesson{
		Radii:   []slide.RadiusSeen{{R: 41}, {R: 42}},
		Travels: []slide.TravelSeen{{Moved: 0.1, Turned: 0.11}, {Moved: 0.2, Turned: 0.21}},
		Reversals: []slide.ReversalSeen{
			{Turned: 0.12},
			{Turned: 0.15},
		},
		Locks:  []slide.LockSeen{{Moved: 0.001}, {Moved: 0.002}},
		Origin: 1,
	}
	h := History{Unit: geom.Millimetre}
	want := "radius 42.000 mm, travel +0.200 mm for +0.210 mm, backlash +0.150 mm, lock +0.002 mm, origin lost"
	if got := h.seen(was, now); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := h.seen(now, now); got != "" {
		t.Errorf("%q of nothing new", got)
	}
}
