package slide_test

import (
	"fmt"

	"example.org/trammel/indicator/slide"
)

// The slots of a belt tensioner's plates: two radii have been set and swept, a third is wanted.
func ExampleLesson() {
	b := slide.Prior(slide.Slide{Name: "offset", TravelPerTurn: 2, Divisions: 100})
	for _, seen := range []slide.RadiusSeen{
		{Count: 12.40, R: 28.013, U: 0.002, Common: 0.003, Setup: 1},
		{Count: 44.40, R: 59.985, U: 0.002, Common: 0.003, Setup: 1},
	} {
		b, _ = b.SeenRadius(seen)
	}
	learnt := b.Posterior()
	count, _ := learnt.StartFor(42)
	fmt.Printf("gain %.4f ±%.4f\n", learnt.Gain().V, learnt.Gain().U)
	fmt.Printf("wind the collar to %.3f ±%.3f mm\n", count.V, count.U)

	// Somebody moved the ring by 0.3.
	b, found := b.SeenRadius(slide.RadiusSeen{Count: count.V + 0.3, R: 42.001, U: 0.002, Common: 0.003, Setup: 1})
	fmt.Printf("%v: it shows %.3f ±%.3f mm too much\n", found.Kind, found.Shown.V, found.Shown.U)

	count, _ = b.Posterior().StartFor(50)
	fmt.Printf("by the new ring, wind to %.3f ±%.3f mm\n", count.V, count.U)
	// Output:
	// gain 0.9992 ±0.0002
	// wind the collar to 26.399 ±0.007 mm
	// slipped collar: it shows 0.299 ±0.006 mm too much
	// by the new ring, wind to 34.705 ±0.008 mm
}
