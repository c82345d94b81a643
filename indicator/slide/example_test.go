package slide_test

import (
	"fmt"

	"example.org/trammel/indicator/slide"
)

// The offset slide of a head: 2 mm a turn, 100 divisions, backlash 0.15 mm.
func ExampleSlide_Wind() {
	s := slide.Slide{
		Name:          "offset",
		TravelPerTurn: 2,
		Divisions:     100,
		Clockwise:     slide.Increase,
		TakeUp:        slide.Increase,
		Figures:       slide.Clockwise,
		Backlash:      0.15,
	}
	for _, travel := range []float64{+0.231, -0.231, +4.5} {
		w := s.Wind(travel)
		fmt.Printf("%+.3f mm:", w.Travel)
		for _, m := range w.Moves {
			fmt.Printf(" %v %d turns %.2f div;", m.Turn, m.Turns, m.Divisions)
		}
		fmt.Printf(" collar from 0 to %.2f\n", w.CollarTo)
	}
	// Output:
	// +0.231 mm: clockwise 0 turns 11.55 div; collar from 0 to 11.55
	// -0.231 mm: anticlockwise 0 turns 61.55 div; clockwise 0 turns 50.00 div; collar from 0 to 88.45
	// +4.500 mm: clockwise 2 turns 25.00 div; collar from 0 to 25.00
}

// A left-hand screw whose slide is always brought up towards smaller coordinates: going there is
// one clockwise movement.
func ExampleSlide_Wind_leftHand() {
	s := slide.Slide{
		Name:          "y",
		TravelPerTurn: 4,
		Divisions:     200,
		Clockwise:     slide.Decrease,
		TakeUp:        slide.Decrease,
		Figures:       slide.Clockwise,
		Backlash:      0.15,
	}
	for _, travel := range []float64{-0.61, +0.61} {
		for _, m := range s.Wind(travel).Moves {
			fmt.Printf("%+.2f mm: %v %.1f div\n", travel, m.Turn, m.Divisions)
		}
	}
	// Output:
	// -0.61 mm: clockwise 30.5 div
	// +0.61 mm: anticlockwise 130.5 div
	// +0.61 mm: clockwise 100.0 div
}

func ExampleSlide_Load() {
	s := slide.Slide{TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase, Backlash: 0.15}
	for _, m := range s.Load() {
		fmt.Printf("%v %.0f div\n", m.Turn, m.Divisions)
	}
	// Output:
	// anticlockwise 50 div
	// clockwise 50 div
}
