package indicator_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A tip off the radial line, as the sum of two vectors: R along the line and t at an angle to it. The
// example is the design's: R 42, t −12, 2° makes 10 µm and 5° makes 64 µm.
func TestOffLine(t *testing.T) {
	for _, c := range []struct{ swing, reach, deg, um, tol float64 }{
		{42, -12, 2, 10, 0.5}, {42, -12, 5, 64, 0.5}, {42, -12, -5, 64, 0.5}, {42, 12, 5, math.NaN(), 0}, {20, -19, 1, math.NaN(), 0},
		{42, 0, 5, 0, 1e-9},
	} {
		s := indicator.Setup{Reach: c.reach}
		a := geom.FromDegrees(c.deg)
		got := s.OffLine(c.swing, float64(a))
		u := a.Unit()
		exact := math.Hypot(c.swing+c.reach*u.X, c.reach*u.Y) - (c.swing + c.reach)
		near(t, fmt.Sprintf("R %v t %v %v°", c.swing, c.reach, c.deg), got, exact, 1e-12)
		if !math.IsNaN(c.um) {
			near(t, fmt.Sprintf("the design's example at %v°", c.deg), 1000*got, c.um, c.tol)
		}
		first := -c.reach * float64(a) * float64(a) / 2 * c.swing / (c.swing + c.reach)
		// the next order
		near(t, fmt.Sprintf("first order at %v°", c.deg), got, first, first*first/(c.swing+c.reach)+0.001*math.Abs(first)+1e-15)
	}
}

// What the sweep makes of a tip off the line: a swing radius that is wrong by just that, the same way
// whichever side the tip is off. The ball is large, so that its middle's reach is not the tip's.
func TestOffLineInASweep(t *testing.T) {
	const swing = 42.0
	for _, c := range fourWays {
		for _, off := range []geom.Bearing{4 * geom.Degree, -4 * geom.Degree} {
			wall := swing + c.reach
			s := indicator.Setup{Touch: c.touch, ReferenceRadius: wall, Reach: c.reach, ReachKnown: true, TipDiameter: 4}
			b := stations(6, 0, 360)
			f := mustFit(t, indicator.Dial{}, s, b, toolFor(c.touch, c.reach, 2).swung(b, swing, off, geom.Point{}, wall,
				c.touch == indicator.Bore))
			// The plunger leans as well, by about the angle at which it meets the wall: a second order of a
			// reading of some hundredths.
			near(t, fmt.Sprintf("%v %v off by %v°", c.touch, c.way, off.Degrees()), f.Swing().V-swing, s.OffLine(swing, float64(off)),
				0.4e-3)
		}
	}
}

// The needle's turning point in each of the four cases, watched: highest or lowest at the radial line.
func TestTurning(t *testing.T) {
	const swing = 42.0
	want := []indicator.Extreme{indicator.Highest, indicator.Lowest, indicator.Lowest, indicator.Highest}
	for i, c := range fourWays {
		k := toolFor(c.touch, c.reach, 1)
		wall := swing + c.reach
		at := func(deg float64) float64 {
			return k.read(geom.Point{X: swing}, geom.FromDegrees(deg), geom.Point{}, wall, c.touch == indicator.Bore)
		}
		seen := indicator.NoExtreme
		switch {
		case at(0) > at(-3) && at(0) > at(3):
			seen = indicator.Highest
		case at(0) < at(-3) && at(0) < at(3):
			seen = indicator.Lowest
		}
		s := indicator.Setup{Touch: c.touch, Reach: c.reach, TipDiameter: 2}
		if seen != want[i] || s.Turning() != want[i] {
			t.Errorf("%v %v: the needle turns at its %v, the program says %v, want %v", c.touch, c.way, seen, s.Turning(), want[i])
		}
		// Three readings off the mark find it, and prove the sign of the reach.
		r, err := indicator.Rock([3]geom.Bearing{-2 * geom.Degree, 5 * geom.Degree, 1 * geom.Degree}, [3]float64{at(-2), at(5), at(1)},
			0.001)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("%v %v: angle of the turning point", c.touch, c.way), r.At.Degrees(), 0, 0.02)
		near(t, "reading there", r.Reading, at(0), 0.1e-3)
		if r.Extreme != want[i] || r.Says(c.touch) != c.way || r.Beyond {
			t.Errorf("%v %v: rocked %+v says %v, want the %v", c.touch, c.way, r, r.Says(c.touch), want[i])
		}
		if r, err = indicator.Rock([3]geom.Bearing{1 * geom.Degree, 3 * geom.Degree, 5 * geom.Degree}, [3]float64{at(1), at(3), at(5)},
			0); err != nil || !r.Beyond {
			t.Errorf("all on one side: %+v, %v; want it told that the turning point lies beyond", r, err)
		}
	}
	if e := (indicator.Setup{}).Turning(); e != indicator.NoExtreme {
		t.Errorf("no reach turns at its %v, want nowhere", e)
	}
}

// A needle turns at its lowest where the middle of the three reads less than the line between its neighbours, however little: 0.5 µm of
// a fine indicator, or half a millimetre of a long reach. By hand, of the parabola m = a + b·φ², which turns at 0 at a.
func TestRockHoweverLittleItBows(t *testing.T) {
	for _, b := range []float64{1e-4, 0.05, 0.9, 1.1, 40} {
		for _, way := range []float64{1, -1} {
			m := func(deg float64) float64 { a := float64(geom.FromDegrees(deg)); return 0.2 + way*b*a*a }
			r, err := indicator.Rock([3]geom.Bearing{-3 * geom.Degree, 1 * geom.Degree, 4 * geom.Degree}, [3]float64{m(-3), m(1), m(4)}, 0)
			if err != nil {
				t.Fatal(err)
			}
			want := map[float64]indicator.Extreme{1: indicator.Lowest, -1: indicator.Highest}[way]
			if r.Extreme != want || r.Beyond {
				t.Errorf("%+v, want the %v within the three", r, want)
			}
			near(t, "angle", float64(r.At), 0, 1e-9)
			near(t, "reading", r.Reading, 0.2, 1e-12)
		}
	}
}

// Readings that bow by no more than they scatter turn nowhere.
func TestRockRefuses(t *testing.T) {
	var rock *indicator.RockError
	three := [3]geom.Bearing{-3 * geom.Degree, 0, 3 * geom.Degree}
	for _, c := range []struct {
		at    [3]geom.Bearing
		m     [3]float64
		sigma float64
	}{
		{three, [3]float64{0.1, 0.1, 0.1}, 0},
		{three, [3]float64{0, 0.010, 0}, 0.003}, // 10 against 3·√1.5·3 = 11 µm
		{[3]geom.Bearing{0, 0, 3 * geom.Degree}, [3]float64{0, 1, 0}, 0},
	} {
		if r, err := indicator.Rock(c.at, c.m, c.sigma); !errors.As(err, &rock) {
			t.Errorf("%v at %v: %+v, %v; want a RockError", c.m, c.at, r, err)
		}
	}
	if _, err := indicator.Rock(three, [3]float64{0, 0.012, 0}, 0.003); err != nil {
		t.Errorf("a bow of 12 µm against 11: %v", err)
	}
}

// By hand: at R 42 with t −12 the dial reads zero on 30, in a bore and round a boss. A ring of 30.2
// leaves the tip 0.2 short, −0.2; a plug of 30.2 presses it, +0.2. A lever of cos = 0.8 shows 1.25 times that.
func TestNull(t *testing.T) {
	near(t, "reference", indicator.NullReference(42, -12), 30, 0)
	near(t, "reach", indicator.NullReach(42, 30), -12, 0)
	radii := []float64{29, 30.2, 30.25, 54}
	for touch, sign := range map[indicator.Touch]float64{indicator.Bore: -1, indicator.Boss: 1} {
		d := indicator.Dial{From: -0.8, To: 0.8, LeverAngle: math.Atan2(3, 4)}
		all, best := d.Gauges(touch, 42, -12, radii)
		if best != 1 {
			t.Fatalf("%v: gauge %d is nearest, want 1", touch, best)
		}
		for i, w := range []float64{-1.25, 0.25, 0.3125, 30} {
			near(t, fmt.Sprintf("%v on %v", touch, radii[i]), all[i].Reading, sign*w, 1e-12)
			if all[i].Off != (math.Abs(w) > 0.8) {
				t.Errorf("%v: reading %v beyond the dial is %v", touch, w, all[i].Off)
			}
		}
		near(t, "reach for 54", all[3].Reach, 12, 1e-12)
		// The tool, set so, reads what is told (a point on a plunger).
		k := toolFor(touch, -12, 0)
		near(t, "read", k.read(geom.Point{X: 42}, 0, geom.Point{}, 30.2, touch == indicator.Bore), sign*0.2, 1e-12)
	}
	if _, best := (indicator.Dial{From: -0.1, To: 0.1}).Gauges(indicator.Bore, 42, -12, radii); best != -1 {
		t.Errorf("gauge %d keeps a needle of ±0.1 on the dial, want none", best)
	}
}
