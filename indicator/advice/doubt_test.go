package advice_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// A wind of 0.15 leaves a fiftieth, 0.003, and the hand two tenths of a division of 0.02, 0.004: 0.005 together,
// whatever way it went; without a collar the hand's part falls away.
func TestDoubtOfUntaught(t *testing.T) {
	sl := screw("x")
	bare := sl
	bare.Divisions = 0
	for _, c := range []struct {
		name string
		sl   slide.Slide
		by   float64
		want float64
	}{{"with a collar", sl, 0.15, 0.005}, {"the other way", sl, -0.15, 0.005}, {"without a collar", bare, 0.15, 0.003}} {
		w := slide.Wind{Travel: c.by}
		if got := advice.DoubtOf(w, c.sl, slide.Prior(c.sl), false); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		// A lesson that has seen nothing has taught nothing.
		if got := advice.DoubtOf(w, c.sl, slide.Prior(sl), true); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s, nothing seen: %v, want %v", c.name, got, c.want)
		}
	}
}

// Once a wind has been seen to go right, the next is known better than a fiftieth of it: 10 mm by the screw in general
// (0.3 % of it at most, a rectangle's √3, 0.017) and not 0.2.
func TestDoubtOfTaught(t *testing.T) {
	sl := screw("x")
	w := slide.Wind{Travel: 10}
	b, _ := slide.Prior(sl).SeenTravel(slide.TravelSeen{Turned: 10, Moved: 10, U: 0.002})
	if len(b.Travels) != 1 {
		t.Fatalf("%d travels kept, want one", len(b.Travels))
	}
	untaught, taught := advice.DoubtOf(w, sl, b, false), advice.DoubtOf(w, sl, b, true)
	if math.Abs(untaught-math.Hypot(0.2, 0.004)) > 1e-12 || !(taught > 0 && taught < 0.02) {
		t.Errorf("untaught %v, want 0.200; taught %v, want less than 0.02", untaught, taught)
	}
	// Where no sweep looks at it, what is known of screws in general counts at once: 0.3 % of 10 over √3 at least.
	if got := advice.DoubtAlone(w, sl, slide.Prior(sl), true); got < 0.03/math.Sqrt(3) || got > 0.03 {
		t.Errorf("alone: %v, want 0.0173 to 0.03", got)
	}
	if got := advice.DoubtAlone(w, sl, slide.Prior(sl), false); math.Abs(got-untaught) > 1e-12 {
		t.Errorf("alone, with no lesson: %v, want %v", got, untaught)
	}
}

// A step of 0.005 that was read is a rectangle 0.005 wide, one that a hand went to 0.005 either way: the divisors √12
// and √3 of JCGM 100:2008, 4.3.7 (from memory). 95 % of a value that is known exactly in its spread lie within 1.96
// standard ones.
func TestShownAndStandardDoubt(t *testing.T) {
	for read, want := range map[bool]float64{true: 0.005 / math.Sqrt(12), false: 0.005 / math.Sqrt(3)} {
		if got := advice.ShownDoubt(0.005, read); math.Abs(got-want) > 1e-15 {
			t.Errorf("read %v: %v, want %v", read, got, want)
		}
	}
	if got := advice.Standard(indicator.Value{U: 0.0196}, math.Inf(1)); math.Abs(got-0.01) > 1e-5 {
		t.Errorf("standard %v of ±0.0196, want 0.01", got)
	}
}
