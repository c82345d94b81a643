package slide_test

import (
	"testing"

	"example.org/trammel/indicator/slide"
)

// What is told is what a hand can set, a tenth of a division; where that rounds up to the last mark
// of the collar, it is a turn more and the collar stands at zero.
func TestShown(t *testing.T) {
	s := slide.Slide{TravelPerTurn: 2, Divisions: 100}
	for _, c := range []struct {
		in, want slide.Move
	}{
		{slide.Move{Turns: 0, Divisions: 11.55}, slide.Move{Turns: 0, Divisions: 11.6}},
		{slide.Move{Turns: 1, Divisions: 16.64}, slide.Move{Turns: 1, Divisions: 16.6}},
		{slide.Move{Turns: 0, Divisions: 99.96}, slide.Move{Turns: 1, Divisions: 0}},
		{slide.Move{Turns: 2, Divisions: 99.94}, slide.Move{Turns: 2, Divisions: 99.9}},
	} {
		if got := s.Shown(c.in); got != c.want {
			t.Errorf("%+v is told as %+v, want %+v", c.in, got, c.want)
		}
	}
	for figure, want := range map[float64]float64{88.45: 88.5, 99.96: 0, 0.04: 0, 99.94: 99.9} {
		if got := s.ShownCollar(figure); got != want {
			t.Errorf("collar %v is told as %v, want %v", figure, got, want)
		}
	}
	for count, want := range map[float64]struct {
		turns     int
		divisions float64
	}{1.9999: {1, 0}, 1.9989: {0, 99.9}, -0.0005: {0, 0}, -0.03: {-1, 98.5}, 4: {2, 0}} {
		if turns, divisions := s.TurnsOf(count); turns != want.turns || divisions != want.divisions {
			t.Errorf("a count of %v mm is %d turns and %v divisions, want %d and %v", count, turns, divisions, want.turns, want.divisions)
		}
	}
}
