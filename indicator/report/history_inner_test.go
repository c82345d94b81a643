package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
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

// The months of a machine are told in their own unit: a lock that moves a slide by a thousandth of an inch each time.
func TestHistoryOfLocksInInches(t *testing.T) {
	b := slide.Prior(slide.Slide{Name: "x", TravelPerTurn: 2.54, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
		Figures: slide.Clockwise, Backlash: 0.1})
	for range 40 {
		b.Locks = append(b.Locks, slide.LockSeen{Moved: 0.0254, U: 0.0001})
	}
	for u, want := range map[geom.Unit]string{geom.Millimetre: "0.0254 ±", geom.Inch: "0.00100 ±"} {
		h := History{Unit: u}
		var after session.State
		after.Lessons = []setup.Taught{{Slide: "x", Lesson: b}}
		h.learn("j", session.Record{}, &session.State{}, &after)
		if len(h.Slides) != 1 || len(h.Slides[0].Rows) != 1 || !strings.HasPrefix(h.Slides[0].Rows[0].Lock, want) {
			t.Errorf("%v: %+v, want a lock of %s", u, h.Slides, want)
		}
	}
}

// In inches all of it is in inches: by hand 25.4 mm is one.
func TestHistoryInInches(t *testing.T) {
	now := slide.Prior(slide.Slide{Name: "x", TravelPerTurn: 2.54, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
		Figures: 1, Backlash: 0.127, Lock: true})
	now.Travels = []slide.TravelSeen{{Moved: 5.08, Turned: 2.54, U: 0.00254}}
	now.Reversals = []slide.ReversalSeen{{Turned: 0.127, U: 0.00254}}
	now.Locks = []slide.LockSeen{{Moved: 0.0508, U: 0.00254}}
	h := History{Unit: geom.Inch}
	want := "travel +0.2000 in for +0.1000 in, backlash +0.0050 in, lock +0.0020 in"
	if got := h.seen(slide.Lesson{}, now); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	after := session.State{}
	after.Lessons = []setup.Taught{{Slide: "x", Lesson: now}}
	h.learn("j.jsonl", session.Record{N: 1}, &session.State{}, &after)
	row := h.Slides[0].Rows[0]
	for what, said := range map[string]string{"lock": row.Lock, "backlash": row.Play} {
		if !strings.HasSuffix(said, " in") {
			t.Errorf("%s %q, want it in inches", what, said)
		}
	}
}

// A clock that was put back between two events of a journal turns nothing round that a machine has taught: what came behind stands behind,
// with the time that was written.
func TestHistoryGoesByTheJournal(t *testing.T) {
	recs := testdata.Records(t, "v1-every-kind.jsonl")
	events := func() (out []int) {
		for _, s := range HistoryOf("", []Journal{{Name: "a", Events: recs}}, geom.Millimetre).Slides {
			for _, r := range s.Rows {
				if out = append(out, r.Event); !r.At.Equal(recs[r.Event-1].T) {
					t.Errorf("event %d is told of %v, want %v as it was written", r.Event, r.At, recs[r.Event-1].T)
				}
			}
		}
		return out
	}
	was := events()
	if len(was) < 3 {
		t.Fatalf("rows of events %v, want some", was)
	}
	for i := range recs {
		recs[i].T = recs[0].T.Add(-time.Duration(i) * time.Minute)
	}
	if is := events(); !slices.Equal(is, was) {
		t.Errorf("with the clock put back: rows of events %v, want %v", is, was)
	}
}
