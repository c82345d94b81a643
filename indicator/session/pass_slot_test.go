package session_test

import (
	"slices"
	"testing"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
)

// The first pass along a slot's centre line leaves metal on both sides, so its job knows no cut: the passes are the drawing's. By
// hand: 5 mm in steps of 2 are three, of 5/3 mm each.
func TestPassesAlongASlot(t *testing.T) {
	o := benchOpened(t)
	o.Steps, o.Job.Cut = true, nil
	o.Arc = &part.Picked{Part: "plate", N: 5, Radius: 42, Swing: 42, From: 0, To: 1, Side: "on", Cutter: 6, Sense: "none",
		Depth: 5, Step: 2, Spring: true}
	p := open(t, o, near42(0, 0, 0))
	for p.prompt().Waits != session.ForNothing {
		p.hands.(*ideal).arc = 42
		p.answer(1)
	}
	all, passes := behind(p)
	second := 5.0 * 2 / 3
	want := []session.CutPass{{N: 1, Of: 3, Depth: 5.0 * 1 / 3, Step: 2, First: true, Fresh: true, AtOnce: 5.0 * 1 / 3},
		{N: 2, Of: 3, Depth: 5.0 * 2 / 3, Step: 2, AtOnce: 5.0 * 1 / 3}, {N: 3, Of: 3, Depth: 5, Step: 2, AtOnce: 5 - second},
		{N: 3, Of: 3, Depth: 5, Step: 2, Spring: true}}
	if !slices.Equal(passes, want) || !slices.Contains(all, session.LiftOut) || slices.Contains(all, session.Cut) {
		t.Errorf("%v: passes %+v, want %+v", all, passes, want)
	}
}
