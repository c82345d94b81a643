package slide_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/indicator/slide"
)

// For any machine file and any row of winds, told in whatever form, the simulated slide ends where the wind
// says, whatever its play up to the stated one and wherever in it the slide stood; every last movement
// goes the take-up way; and what a screw really moves is what the wind was told with.
func TestAnyWindOnAnySlide(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		way := rapid.SampledFrom([]slide.Way{slide.Increase, slide.Decrease})
		s := slide.Slide{
			Name:          "x",
			TravelPerTurn: rapid.Float64Range(0.5, 6).Draw(r, "travel per turn"),
			Divisions:     float64(rapid.IntRange(10, 500).Draw(r, "divisions")),
			Clockwise:     way.Draw(r, "clockwise"),
			TakeUp:        way.Draw(r, "take-up"),
			Figures:       rapid.SampledFrom([]slide.Turn{slide.Clockwise, slide.Anticlockwise}).Draw(r, "figures"),
			Backlash:      rapid.Float64Range(0, 0.5).Draw(r, "backlash"),
		}
		if rapid.Bool().Draw(r, "overshoot stated") {
			s.Overshoot = s.Backlash + rapid.Float64Range(0.01, 2).Draw(r, "overshoot")
		}
		gain := rapid.Float64Range(0.99, 1.01).Draw(r, "gain")
		play := s.Backlash * rapid.Float64Range(0, 1).Draw(r, "play")
		// The play is told as the collar counts it; the screw's flanks are apart by as much of its own.
		b := bench{pitch: s.TravelPerTurn * gain, rightHand: s.Clockwise == slide.Increase, play: play * gain}
		b.slide = b.low + b.play*rapid.Float64Range(0, 1).Draw(r, "stood")
		b.obey(t, s.Load(), s.Divisions)
		for range rapid.IntRange(1, 8).Draw(r, "winds") {
			travel := rapid.Float64Range(-4, 4).Draw(r, "travel")
			if rapid.Bool().Draw(r, "small") {
				travel /= 100
			}
			form := rapid.SampledFrom([]string{"collar", "by what was learnt", "parked", "from behind"}).Draw(r, "form")
			before, collar := b.slide, b.turned
			w, moves := s.Wind(travel), gain*travel
			switch form {
			case "by what was learnt":
				w, moves = s.WindBy(travel, travel/gain), travel
			case "parked":
				w = s.WindParked(travel)
			case "from behind":
				w = s.WindFromBehind(travel)
			}
			b.obey(t, w.Moves, s.Divisions)
			if got := b.slide - before; math.Abs(got-moves) > 1e-9 || w.Travel != travel {
				r.Fatalf("%s: told to go %+v, the slide went %+v by %+v", form, travel, got, w.Moves)
			}
			last := w.Moves[len(w.Moves)-1]
			if up := (last.Turn == slide.Clockwise) == (s.Clockwise == slide.Increase); up != (s.TakeUp == slide.Increase) {
				r.Fatalf("%s, travel %+v: last move %v, not the take-up way", form, travel, last.Turn)
			}
			if len(w.Moves) > 2 || (len(w.Moves) == 2 && form != "from behind" && travel*float64(s.TakeUp) >= 0) {
				r.Fatalf("%s, travel %+v: %d movements, more than it takes", form, travel, len(w.Moves))
			}
			if form != "by what was learnt" {
				// A collar within 1e-9 of a turn of its zero is told as zero.
				checkCollar(t, s, w.CollarTo, b.turned-collar, 2e-9*s.Divisions)
			}
		}
	})
}
