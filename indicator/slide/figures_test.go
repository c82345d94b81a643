package slide_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/slide"
)

// By hand, on a collar of 100 divisions of 0.02: from 37.5 on, 50 clockwise is 87.5, and 50 anticlockwise is 12.5 short of 0, so 87.5
// again, past it; with figures that grow anticlockwise, or a coordinate that shrinks clockwise, the same figures the other way round.
func TestFiguresAlongACollar(t *testing.T) {
	right := slide.Slide{TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, Figures: slide.Clockwise}
	left, back := right, right
	left.Clockwise, back.Figures = slide.Decrease, slide.Anticlockwise
	for _, c := range []struct {
		name     string
		s        slide.Slide
		from     float64
		m        slide.Move
		to       float64
		pastZero bool
	}{
		{"on", right, 37.5, slide.Move{Turn: slide.Clockwise, Divisions: 50}, 87.5, false},
		{"past", right, 37.5, slide.Move{Turn: slide.Anticlockwise, Divisions: 50}, 87.5, true},
		{"on past", right, 87.5, slide.Move{Turn: slide.Clockwise, Divisions: 50}, 37.5, true},
		{"to 0", right, 37.5, slide.Move{Turn: slide.Anticlockwise, Divisions: 37.5}, 0, false},
		{"on to 0", right, 37.5, slide.Move{Turn: slide.Clockwise, Divisions: 62.5}, 0, false},
		{"from 0", right, 0, slide.Move{Turn: slide.Anticlockwise, Divisions: 50}, 50, false},
		{"from 0, a turn and more", right, 0, slide.Move{Turn: slide.Anticlockwise, Turns: 1, Divisions: 1}, 99, true},
		{"a turn", right, 37.5, slide.Move{Turn: slide.Clockwise, Turns: 1}, 37.5, true},
		{"left-hand", left, 37.5, slide.Move{Turn: slide.Clockwise, Divisions: 50}, 87.5, false},
		{"left-hand, past", left, 37.5, slide.Move{Turn: slide.Anticlockwise, Divisions: 50}, 87.5, true},
		{"figures the other way", back, 37.5, slide.Move{Turn: slide.Anticlockwise, Divisions: 50}, 87.5, false},
		{"figures the other way, past", back, 37.5, slide.Move{Turn: slide.Clockwise, Divisions: 50}, 87.5, true},
	} {
		at := c.from * 0.02 * float64(c.s.Clockwise) * float64(c.s.Figures)
		if got := c.s.Collar(at); math.Abs(got-c.from) > 1e-9 {
			t.Fatalf("%s: begins at %v, want %v", c.name, got, c.from)
		}
		if got := c.s.Collar(c.s.Counts(at, c.m)); math.Abs(got-c.to) > 1e-9 {
			t.Errorf("%s: ends at %v, want %v", c.name, got, c.to)
		}
		if got := c.s.PastZero(at, c.m); got != c.pastZero {
			t.Errorf("%s: past 0 %v, want %v", c.name, got, c.pastZero)
		}
	}
}
