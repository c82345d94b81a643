package advice_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// The needle stands at 0.1 and is to go half a millimetre, up or down. A fifth of the way is 0.1: at 0.19 of it the
// slide has stood still, at 0.21 it has not. Half the way to the other side, and it has gone back, unless it is wound
// past on that side.
func TestWhereTheNeedleStopped(t *testing.T) {
	for _, way := range []float64{1, -1} {
		for _, c := range []struct {
			part, past  float64 // of the way; past 0 for a wind that does not turn
			still, back bool
		}{
			{0, 0, true, false}, {0.19, 0, true, false}, {0.21, 0, false, false}, {1, 0, false, false}, {1.2, 0, false, false},
			{-0.19, 0, true, false}, {-0.21, 0, false, false}, {-0.49, 0, false, false}, {-0.51, 0, false, true}, {-1, 0,
				false, true},
			{-1, 1.5, false, true}, {-1, -0.3, false, false}, {0.19, -0.3, true, false},
		} {
			p := advice.Park{Now: 0.1, Goal: 0.1 + 0.5*way}
			if c.past != 0 {
				past := 0.1 + 0.5*way*c.past
				p.Past = &past
			}
			reading := 0.1 + 0.5*way*c.part
			if still, back := p.StoodStill(reading), p.WentBack(reading); still != c.still || back != c.back {
				t.Errorf("%v of %v mm, past at %v: still %v, back %v, want %v, %v", c.part, 0.5*way, c.past, still, back,
					c.still, c.back)
			}
		}
	}
}

// A hand sets a tenth of 2 mm in 100 divisions, 0.002: a slide is short by more than that, than a quarter of its
// tolerance (half of Half), and than 0.7 of its doubt; once without a lock, twice with one, and only where the needle
// was read.
func TestShort(t *testing.T) {
	for _, c := range []struct {
		name        string
		half, by, u float64
		times       int
		lock, read  bool
		want        bool
	}{
		{"a quarter of the tolerance, over", 0.02, 0.0101, 0, 1, false, true, true},
		{"a quarter of the tolerance, under", 0.02, 0.0099, 0, 1, false, true, false},
		{"the other way", 0.02, -0.0101, 0, 1, false, true, true},
		{"what a hand sets, over", 0.002, 0.0021, 0, 1, false, true, true},
		{"what a hand sets, under", 0.002, 0.0019, 0, 1, false, true, false},
		{"0.7 of the doubt, over", 0.02, 0.0141, 0.02, 1, false, true, true},
		{"0.7 of the doubt, under", 0.02, 0.0139, 0.02, 1, false, true, false},
		{"not yet wound", 0.02, 0.5, 0, 0, false, true, false},
		{"wound twice", 0.02, 0.5, 0, 2, false, true, false},
		{"wound twice, locked", 0.02, 0.5, 0, 2, true, true, true},
		{"wound three times, locked", 0.02, 0.5, 0, 3, true, true, false},
		{"not read", 0.02, 0.5, 0, 1, false, false, false},
	} {
		e := advice.Task{Slide: screw("x"), Travel: indicator.Value{V: c.by, U: c.u}, Half: c.half}
		e.Slide.Lock = c.lock
		if got := e.Short(c.times, c.read); got != c.want {
			t.Errorf("%s: short %v, want %v", c.name, got, c.want)
		}
	}
}

// By the collar a slide that serves 0.02 is brought in again once more than 0.02 is open; under the needle only past
// twice that, and past 1.2 times what the sweep left open, for then it is no better known than before.
func TestBlind(t *testing.T) {
	for _, c := range []struct {
		u, swept float64
		parked   bool
		want     bool
	}{
		{0.0199, 0.05, false, false}, {0.0201, 0.05, false, true},
		{0.0399, 0.01, true, false}, {0.0401, 0.01, true, true},
		{0.0599, 0.05, true, false}, {0.0601, 0.05, true, true},
		{math.NaN(), 0.01, false, false},
	} {
		e := advice.Task{Slide: screw("x"), Travel: indicator.Value{U: c.u}, Half: 0.02}
		if got := e.Blind(c.parked, c.swept); got != c.want {
			t.Errorf("±%v, parked %v, swept ±%v: blind %v, want %v", c.u, c.parked, c.swept, got, c.want)
		}
	}
}

// A slide whose play has to be taken up is parked for where the needle stays on the dial all the way: where it begins, where the slide
// turns back beyond its goal, and where it stops. X goes 0.55 against its take-up, and 0.12 beyond (three fifths of a play of 0.2); the
// bore's centre comes from 0.2 left of the axis to 0.75 right of it, over 0.87. Where X acts most the dial of ±0.8 shows the goal and not
// the turning point, by the wall that a ray meets.
func TestParkedWhereTheTurningPointIsOnTheDial(t *testing.T) {
	f := swept(t, geom.Point{X: 0.2}, 8)
	x := screw("x")
	x.Backlash = 0.2
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	axis, _ := cross.Axis("x")
	p := advice.Parking{Dial: dial, Circle: &f, Slide: x, Axis: axis, By: indicator.Value{V: -0.55, U: 0.01},
		Marks: func(yield func(geom.Bearing) bool) {
			for deg := 0; deg < 360; deg += 15 {
				if !yield(geom.FromDegrees(float64(deg))) {
					return
				}
			}
		}, Reached: func(geom.Bearing) bool { return true }}
	w, park := p.Place()
	if park == nil || park.Past == nil || len(w.Moves) != 2 {
		t.Fatalf("%+v parked %+v, want a wind that turns back, under the needle", w, park)
	}
	for what, c := range map[string][2]float64{"now": {0.2, park.Now}, "turning": {0.87, *park.Past}, "goal": {0.75, park.Goal}} {
		shows := reads(geom.Point{X: c[0]}, park.Bearing)
		if math.Abs(shows) > 0.8 || math.Abs(shows-c[1]) > 1e-6 {
			t.Errorf("%s, parked at %v°: the dial of ±0.8 shows %.4f, told %.4f", what, park.Bearing.Degrees360(), shows, c[1])
		}
	}
	if across := math.Abs(math.Cos(float64(park.Bearing))); math.Abs(across-math.Cos(math.Pi/6)) > 1e-9 {
		t.Errorf("parked at %v°, want the first marks beside where X acts most", park.Bearing.Degrees360())
	}
}
