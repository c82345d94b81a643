package slide_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

// divTol is how far a count of divisions worked out by hand may be missed: roundings of numbers
// up to a few thousand.
const divTol = 1e-9

// metric is the slide of the example machine: 2 mm a turn, 100 divisions, so that one division is
// 0.02 mm; clockwise increases, take-up increases, backlash 0.15. Past a goal it is wound
// max(1.5·0.15, half a turn) = max(0.225, 1) = 1 mm = 50 divisions.
func metric() slide.Slide {
	return slide.Slide{Name: "x", TravelPerTurn: 2, Divisions: 100,
		Clockwise: slide.Increase, TakeUp: slide.Increase, Figures: slide.Clockwise, Backlash: 0.15}
}

// move is one movement as a test writes it.
type move struct {
	turn  slide.Turn
	turns int
	div   float64
}

const (
	cw  = slide.Clockwise
	acw = slide.Anticlockwise
)

func checkMoves(t *testing.T, what string, got []slide.Move, want []move) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: moves %+v, want %+v", what, got, want)
		return
	}
	for i, m := range got {
		if m.Turn != want[i].turn || m.Turns != want[i].turns || math.Abs(m.Divisions-want[i].div) > divTol {
			t.Errorf("%s, move %d: %v %d turns %.12g div, want %v %d turns %v div", what, i+1,
				m.Turn, m.Turns, m.Divisions, want[i].turn, want[i].turns, want[i].div)
		}
	}
}

// Winds of the example machine, by hand.
func TestWind(t *testing.T) {
	cases := []struct {
		name   string
		change func(*slide.Slide)
		travel float64
		moves  []move
		collar float64
	}{
		// 0.231/0.02 = 11.55.
		{"the take-up way", nil, 0.231, []move{{cw, 0, 11.55}}, 11.55},
		// 0.231 and 1 past it: 1.231/0.02 = 61.55 back, then 1/0.02 = 50 on. The collar ends
		// 11.55 below its zero: 100 − 11.55.
		{"against it", nil, -0.231, []move{{acw, 0, 61.55}, {cw, 0, 50}}, 88.45},
		{"nothing to do", nil, 0, []move{{cw, 0, 0}}, 0},
		// 4.231/0.02 = 211.55: two turns of 100 and 11.55.
		{"turns", nil, 4.231, []move{{cw, 2, 11.55}}, 11.55},
		// 5.231/0.02 = 261.55.
		{"turns against the take-up", nil, -4.231, []move{{acw, 2, 61.55}, {cw, 0, 50}}, 88.45},
		{"whole turns", nil, 6, []move{{cw, 3, 0}}, 0},
		// (3 + 1)/0.02 = 200 exactly.
		{"whole turns against the take-up", nil, -3, []move{{acw, 2, 0}, {cw, 0, 50}}, 50},
		// 1.9999999999/0.02 = 99.999999995: nobody sets that apart from a turn.
		{"as good as a turn", nil, 1.9999999999, []move{{cw, 1, 0}}, 0},
		// 2.9999999999/0.02 = 149.999999995, which is no whole turn in any case.
		{"as good as a turn, the other way", nil, -1.9999999999, []move{{acw, 1, 49.999999995}, {cw, 0, 50}}, 5e-9},
		// 99.95 divisions are not yet a turn.
		{"short of a turn", nil, 1.999, []move{{cw, 0, 99.95}}, 99.95},
		// Worn: 1.5·0.8 = 1.2 mm is more than half a turn: 1.431/0.02 = 71.55, 1.2/0.02 = 60.
		{"much backlash", func(s *slide.Slide) { s.Backlash = 0.8 }, -0.231, []move{{acw, 0, 71.55}, {cw, 0, 60}}, 88.45},
		// Told to wind 0.4 past: 0.631/0.02 = 31.55, 0.4/0.02 = 20.
		{"own overshoot", func(s *slide.Slide) { s.Overshoot = 0.4 }, -0.231, []move{{acw, 0, 31.55}, {cw, 0, 20}}, 88.45},
		// A left-hand screw: the same ways of the slide, the other way of the hand. The collar's
		// figures grow clockwise, and clockwise takes the slide back.
		{"left-hand screw", func(s *slide.Slide) { s.Clockwise = slide.Decrease }, 0.231, []move{{acw, 0, 11.55}}, 88.45},
		{"left-hand screw against the take-up", func(s *slide.Slide) { s.Clockwise = slide.Decrease }, -0.231,
			[]move{{cw, 0, 61.55}, {acw, 0, 50}}, 11.55},
		// Take-up towards smaller coordinates: now − is the easy way.
		{"take-up decrease", func(s *slide.Slide) { s.TakeUp = slide.Decrease }, -0.231, []move{{acw, 0, 11.55}}, 88.45},
		{"take-up decrease, against it", func(s *slide.Slide) { s.TakeUp = slide.Decrease }, 0.231, []move{{cw, 0, 61.55}, {acw, 0, 50}},
			11.55},
		// A collar figured the other way shows the other figure for the same place.
		{"collar figured anticlockwise", func(s *slide.Slide) { s.Figures = slide.Anticlockwise }, 0.231, []move{{cw, 0, 11.55}}, 88.45},
		{"collar figured anticlockwise, back", func(s *slide.Slide) { s.Figures = slide.Anticlockwise }, -0.231,
			[]move{{acw, 0, 61.55}, {cw, 0, 50}}, 11.55},
	}
	for _, c := range cases {
		s := metric()
		if c.change != nil {
			c.change(&s)
		}
		w := s.Wind(c.travel)
		if w.Slide != "x" || w.Travel != c.travel {
			t.Errorf("%s: wind of %q by %v, want x by %v", c.name, w.Slide, w.Travel, c.travel)
		}
		checkMoves(t, c.name, w.Moves, c.moves)
		if math.Abs(w.CollarTo-c.collar) > divTol {
			t.Errorf("%s: collar ends at %.12g, want %v", c.name, w.CollarTo, c.collar)
		}
	}
}

// Before a sweep the slide is wound off by as much as it is wound past a goal, and brought up.
func TestLoad(t *testing.T) {
	s := metric()
	checkMoves(t, "load", s.Load(), []move{{acw, 0, 50}, {cw, 0, 50}})
	s.TakeUp = slide.Decrease
	checkMoves(t, "load, take-up decrease", s.Load(), []move{{cw, 0, 50}, {acw, 0, 50}})
	s.Clockwise = slide.Decrease
	checkMoves(t, "load, left-hand screw", s.Load(), []move{{acw, 0, 50}, {cw, 0, 50}})
	s.Backlash = 1.5 // 2.25 mm = 112.5 divisions
	checkMoves(t, "load, much backlash", s.Load(), []move{{acw, 1, 12.5}, {cw, 1, 12.5}})
}

// An inch machine: 0.100 in a turn and 100 divisions of 0.001 in (common practice, no source).
// Half a turn is 0.050 in; 0.0125 in are 12.5 divisions, 0.3125 in are three turns and 12.5.
func TestInchSlide(t *testing.T) {
	s := slide.Slide{Name: "y", TravelPerTurn: geom.Inch.MM(0.100), Divisions: 100,
		Clockwise: slide.Increase, TakeUp: slide.Increase, Figures: slide.Clockwise, Backlash: geom.Inch.MM(0.006)}
	if got := geom.Inch.From(s.Division()); math.Abs(got-0.001) > 1e-15 {
		t.Errorf("a division is %v in, want 0.001", got)
	}
	if got := geom.Inch.From(s.Finest()); math.Abs(got-0.0001) > 1e-15 {
		t.Errorf("the finest wind is %v in, want 0.0001", got)
	}
	if got := geom.Inch.From(s.Past()); math.Abs(got-0.050) > 1e-15 {
		t.Errorf("wound %v in past a goal, want 0.050", got)
	}
	w := s.Wind(geom.Inch.MM(0.0125))
	checkMoves(t, "+0.0125 in", w.Moves, []move{{cw, 0, 12.5}})
	w = s.Wind(geom.Inch.MM(0.3125))
	checkMoves(t, "+0.3125 in", w.Moves, []move{{cw, 3, 12.5}})
	w = s.Wind(geom.Inch.MM(-0.0125))
	checkMoves(t, "-0.0125 in", w.Moves, []move{{acw, 0, 62.5}, {cw, 0, 50}})
	if math.Abs(w.CollarTo-87.5) > divTol {
		t.Errorf("collar ends at %v, want 87.5", w.CollarTo)
	}
}

// Whole turns and whole divisions come out whole, whatever the pitch does to the last digit.
func TestWholeNumbers(t *testing.T) {
	for _, pitch := range []float64{0.5, 1, 2, 2.5, 2.54, 3, 5.08, 6.35, 0.1 * 25.4, 0.05 * 25.4} {
		for _, marks := range []float64{20, 50, 80, 100, 120, 125, 200, 250} {
			s := slide.Slide{TravelPerTurn: pitch, Divisions: marks, Clockwise: slide.Increase, TakeUp: slide.Increase,
				Figures: slide.Clockwise}
			for n := 1; n <= 60; n++ {
				m := s.Wind(float64(n) * pitch).Moves[0]
				if m.Turns != n || m.Divisions > 1e-9*marks*float64(n) {
					t.Fatalf("%d turns of %v mm on %v marks: %d turns %g div", n, pitch, marks, m.Turns, m.Divisions)
				}
				if c := s.Collar(float64(n) * pitch); c > 1e-9*marks*float64(n) {
					t.Fatalf("%d turns of %v mm on %v marks: collar shows %g, want 0", n, pitch, marks, c)
				}
				// Half a division further, and the count is that of the marks.
				m = s.Wind(float64(n)*pitch + pitch/marks/2).Moves[0]
				if m.Turns != n || math.Abs(m.Divisions-0.5) > 1e-9*marks*float64(n) {
					t.Fatalf("%d turns and half a mark of %v mm on %v marks: %d turns %g div", n, pitch, marks, m.Turns, m.Divisions)
				}
			}
		}
	}
}

// The collar runs from 0 up to a whole turn, never to the whole turn itself.
func TestCollar(t *testing.T) {
	s := metric()
	for _, c := range []struct{ travel, clockwise, anticlockwise float64 }{
		{0, 0, 0},
		{0.231, 11.55, 88.45},
		{-0.231, 88.45, 11.55},
		{2, 0, 0},
		{-2, 0, 0},
		{1, 50, 50},
		{-3, 50, 50},
		{5.5, 75, 25}, // 275 divisions
		{-1e-13, 0, 0},
		{1.9999999999, 0, 5e-9},
	} {
		s.Figures = slide.Clockwise
		if got := s.Collar(c.travel); math.Abs(got-c.clockwise) > divTol || got < 0 || got >= 100 {
			t.Errorf("figured clockwise, %v mm: %.12g, want %v", c.travel, got, c.clockwise)
		}
		s.Figures = slide.Anticlockwise
		if got := s.Collar(c.travel); math.Abs(got-c.anticlockwise) > 1e-8 || got < 0 || got >= 100 {
			t.Errorf("figured anticlockwise, %v mm: %.12g, want %v", c.travel, got, c.anticlockwise)
		}
	}
}

// Under the needle the hand winds past by the play and a tenth, or three times the fifth of the play that it may be off by, unless
// the machine says otherwise (common practice, no source).
func TestPastParked(t *testing.T) {
	for _, c := range []struct{ play, overshoot, want float64 }{
		{0, 0, 0.1}, {0.05, 0, 0.15}, {0.1, 0, 0.2}, {0.2, 0, 0.32}, {0.5, 0, 0.8}, {0.2, 0.25, 0.25}, {0.05, 1.5, 1.5},
	} {
		s := slide.Slide{Name: "x", TravelPerTurn: 2, Divisions: 100, Backlash: c.play, Overshoot: c.overshoot}
		if got := s.PastParked(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("play %v, stated %v: past by %v, want %v", c.play, c.overshoot, got, c.want)
		}
	}
}

// A handwheel that is reached from 330° on to 60° is wound at 15°, the middle, or at the mark nearest to it.
func TestReachedAtTheMiddle(t *testing.T) {
	for _, c := range []struct{ from, to, step, want float64 }{
		{330, 420, 15, 15}, {330, 426, 15, 15}, {330, 426, 0, 18}, {100, 200, 15, 150},
		{16, 22, 15, 19}, {8, 14, 15, 11}, {350, 358, 15, 354}, {352, 366, 15, 0}, // no mark lies in the first three
	} {
		s := slide.Slide{Name: "table_x", ReachedFrom: geom.FromDegrees(c.from), ReachedTo: geom.FromDegrees(c.to)}
		at, ok := s.ReachedAt(geom.FromDegrees(c.step))
		if !ok || at.Apart(geom.FromDegrees(c.want)) > 1e-9 || !s.Reached(at) {
			t.Errorf("%+v: wound at %v° (%v)", c, at.Degrees360(), ok)
		}
	}
}

// A place lies beyond the travel by as much as it is above its upper end, or below its lower one.
func TestBeyondTheTravel(t *testing.T) {
	s := slide.Slide{Low: -5, High: 60}
	for at, want := range map[float64]float64{-5: 0, 60: 0, 20: 0, 60.25: 0.25, -5.5: -0.5, 0: 0} {
		if got := s.Beyond(at); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v is beyond -5 to 60 by %v, want %v", at, got, want)
		}
	}
	if got := (slide.Slide{}).Beyond(1e6); got != 0 {
		t.Errorf("beyond no stated travel by %v", got)
	}
}

// A handwheel is reached at the very angles that are stated, as they are rounded: from 350 on to 10 degrees, and not a degree farther.
func TestReachedAtItsEnds(t *testing.T) {
	s := slide.Slide{Name: "table_x", ReachedFrom: geom.FromDegrees(350), ReachedTo: geom.FromDegrees(370)}
	for deg, want := range map[float64]bool{350: true, 350 - 1e-8: true, -10: true, 10: true, 10 + 1e-8: true, 0: true, 360: true,
		370:        true,
		-10 - 1e-8: true, 349: false, 11: false, 180: false} {
		if got := s.Reached(geom.FromDegrees(deg)); got != want {
			t.Errorf("at %v degrees reached: %v, want %v", deg, got, want)
		}
	}
}
