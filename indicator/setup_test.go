package indicator_test

import (
	"errors"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// A lever that stands at an angle to the wall: with cos α = 0.8 (the 3-4-5 triangle) the needle
// shows 1/0.8 = 1.25 times what the tip travels. The ring of TestFourSigns, "bore, reach in",
// then reads −0.56·1.25 = −0.70 and 0.66·1.25 = 0.825.
func TestLeverAngle(t *testing.T) {
	d := indicator.Dial{LeverAngle: math.Atan2(3, 4)}
	near(t, "gain", d.Gain(), 0.8, 1e-15)
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 18.61, Reach: -11.40, ReachKnown: true}
	m := []float64{-0.70, 0.825, 0.825, -0.70}
	f := mustFit(t, d, s, quarters, m)
	near(t, "swing radius", f.Swing().V, 30.05, exactMM)
	near(t, "centre error x", f.CentreX().V, 0.61, exactMM)
	near(t, "centre error y", f.CentreY().V, -0.61, exactMM)
	for i, b := range quarters {
		// Expected readings and residuals are what the needle shows, not what the tip travels.
		near(t, "expected reading", f.Expect(b).V, m[i], exactMM)
	}
	// The sign of the angle does not matter: the lever may lean either way.
	d.LeverAngle = -d.LeverAngle
	f = mustFit(t, d, s, quarters, m)
	near(t, "leaning the other way: swing radius", f.Swing().V, 30.05, exactMM)
}

// A pin of 0.5 mm radius, touched with a ball of 1 mm radius, 0.3 mm out of centre towards 90°.
// From 0° and from 180° the ball rides over the pin's flank: its middle keeps 0.5 + 1 = 1.5 from
// the pin's middle, and its nearest point stands at
//
//	√(1.5² − 0.3²) − 1 = √2.16 − 1 = 1.469693845669907 − 1 = 0.469693845669907
//
// from the axis, where a point would stand at √(0.5² − 0.3²) = √0.16 = 0.4: 69.7 µm less. At 90°
// and 270° pin, ball and axis are in line: 0.3 + 0.5 = 0.8 and −0.3 + 0.5 = 0.2. With the zero
// radius at 0.5 (swing 10.5, reach −10) the dial reads the difference to 0.5.
func TestTipBall(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 0.5, Reach: -10, ReachKnown: true, TipDiameter: 2}
	m := []float64{-0.030306154330093, 0.3, -0.030306154330093, -0.3}
	f := mustFit(t, indicator.Dial{}, s, quarters, m)
	near(t, "swing radius", f.Swing().V, 10.5, exactMM)
	near(t, "centre error x", f.CentreX().V, 0, exactMM)
	near(t, "centre error y", f.CentreY().V, 0.3, exactMM)
	// With the fitted pin a point would have to read 0.4 − 0.5 at 0°; the ball's flank makes it
	// about 70 µm more.
	ball := f.Expect(0).V - (math.Sqrt(0.16) - 0.5)
	near(t, "what the ball makes at 0°", ball, 0.0697, 0.00005)

	// The same readings taken for a point's put the spread into the fit: a tip that is not told
	// is found out, not swallowed.
	s.TipDiameter = 0
	f = mustFit(t, indicator.Dial{}, s, quarters, m)
	if math.Abs(f.Swing().V-10.5) < 0.02 {
		t.Errorf("a ball taken for a point gives swing %v, want it wrong by tens of micrometres", f.Swing().V)
	}
}

// A ball in a ring: the ring's radius 3, the ball's radius 0.5, so the ball's middle runs on a
// circle of 2.5. With the ring's middle 0.7 off towards 0° (0.7² + 2.4² = 2.5²) the ball's far
// point stands
//
//	at 0°   0.7 + 2.5 + 0.5 = 3.7       at 180°  −0.7 + 2.5 + 0.5 = 2.3
//	at 90° and 270°   2.4 + 0.5 = 2.9
//
// from the axis. Zero radius 3.1 (swing 8.1, reach −5): the readings are 3.1 less each.
func TestTipBallInABore(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 3, Reach: -5, ReachKnown: true, TipDiameter: 1}
	f := mustFit(t, indicator.Dial{}, s, quarters, []float64{-0.6, 0.2, 0.8, 0.2})
	near(t, "swing radius", f.Swing().V, 8.1, exactMM)
	near(t, "centre error x", f.CentreX().V, 0.7, exactMM)
	near(t, "centre error y", f.CentreY().V, 0, exactMM)
}

// The indicator stands still at 90° and the table turns counter-clockwise. At table zero the
// middle of a plug of 8.41 stands at (0.41, −0.41); 0.41² + 8.40² = 8.41². A quarter turn carries
// it from (x, y) to (−y, x), and the indicator feels, from straight away of the axis, its Y:
//
//	table 0°     middle at (0.41, −0.41)    −0.41 + 8.40 = 7.99
//	table 90°    middle at (0.41, 0.41)      0.41 + 8.40 = 8.81
//	table 180°   middle at (−0.41, 0.41)     0.41 + 8.40 = 8.81
//	table 270°   middle at (−0.41, −0.41)   −0.41 + 8.40 = 7.99
//
// Zero radius 8.45: the readings are 8.45 less. The centre error is told in the table's own
// frame, where the cross slides are: (0.41, −0.41).
func TestTurned(t *testing.T) {
	s := indicator.Setup{Kind: indicator.Turned, Touch: indicator.Boss, ReferenceRadius: 8.41, Reach: -0.55, ReachKnown: true,
		IndicatorBearing: 90 * geom.Degree}
	// What is under an indicator at 90° of the machine after a quarter turn is what lay at 0° of
	// the table: the table has carried it there.
	wantDeg := []float64{90, 0, 270, 180}
	met := make([]geom.Bearing, len(quarters))
	for i, table := range quarters {
		met[i] = s.Surface(table)
		near(t, "met at", met[i].Degrees360(), wantDeg[i], 1e-12)
	}
	f := mustFit(t, indicator.Dial{}, s, met, []float64{7.99 - 8.45, 8.81 - 8.45, 8.81 - 8.45, 7.99 - 8.45})
	near(t, "swing radius", f.Swing().V, 9, exactMM)
	near(t, "centre error x", f.CentreX().V, 0.41, exactMM)
	near(t, "centre error y", f.CentreY().V, -0.41, exactMM)

	s.Kind = indicator.Carried
	for _, b := range quarters {
		if got := s.Surface(b); got != b {
			t.Errorf("carried: met at %v, want where the spindle is swung to, %v", got, b)
		}
	}
}

// With the zero radius known it is the surface that is measured. A ring of 8.41 stands 0.41 to
// the right: the wall is met at 0.41 + 8.41 = 8.82, at 8.40, at 8.00 and at 8.40; from a zero
// radius of 8.50 the dial reads −0.32, 0.10, 0.50, 0.10.
func TestZeroRadius(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Bore, ZeroRadius: 8.50}
	f := mustFit(t, indicator.Dial{}, s, quarters, []float64{-0.32, 0.10, 0.50, 0.10})
	near(t, "surface radius", f.Radius().V, 8.41, exactMM)
	near(t, "centre error x", f.CentreX().V, 0.41, exactMM)
	near(t, "centre error y", f.CentreY().V, 0, exactMM)
	near(t, "expected at 180°", f.Expect(180*geom.Degree).V, 0.50, exactMM)
	if f.Swing().Known() {
		t.Errorf("swing radius %v claimed without reference and reach", f.Swing().V)
	}

	s.Touch = indicator.Boss
	f = mustFit(t, indicator.Dial{}, s, quarters, []float64{0.32, -0.10, -0.50, -0.10})
	near(t, "boss: surface radius", f.Radius().V, 8.41, exactMM)
	near(t, "boss: centre error x", f.CentreX().V, 0.41, exactMM)
	near(t, "boss: expected at 180°", f.Expect(180*geom.Degree).V, -0.50, exactMM)
}

// With neither radius known, opposite readings still give the centre error: half their
// difference. In a bore −0.32 and 0.50 give (0.50 + 0.32)/2 = 0.41 towards the smaller reading.
// No radius is claimed.
func TestNeitherRadiusKnown(t *testing.T) {
	f := mustFit(t, indicator.Dial{}, indicator.Setup{Touch: indicator.Bore}, quarters, []float64{-0.32, 0.10, 0.50, 0.14})
	near(t, "centre error x", f.CentreX().V, 0.41, exactMM)
	near(t, "centre error y", f.CentreY().V, 0.02, exactMM)
	if f.Swing().Known() || f.Radius().Known() {
		t.Errorf("swing %v and radius %v claimed, want both unknown", f.Swing(), f.Radius())
	}
	// A reach alone says nothing of the radius either.
	f = mustFit(t, indicator.Dial{}, indicator.Setup{Touch: indicator.Bore, Reach: 5, ReachKnown: true}, quarters,
		[]float64{-0.32, 0.10, 0.50, 0.14})
	if f.Swing().Known() || f.Radius().Known() {
		t.Errorf("reach alone: swing %v and radius %v claimed, want both unknown", f.Swing(), f.Radius())
	}
}

// The reference's radius alone gives the exact centre error, and no swing radius.
func TestReferenceWithoutReach(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 65}
	f := mustFit(t, indicator.Dial{}, s, quarters, []float64{-6, -18, 26, 32}) // TestFarOutOfCentre
	near(t, "centre error x", f.CentreX().V, 16, exactMM)
	near(t, "centre error y", f.CentreY().V, 25, exactMM)
	if f.Swing().Known() || f.Radius().Known() {
		t.Errorf("swing %v and radius %v claimed, want both unknown", f.Swing(), f.Radius())
	}
}

// What no fit can use comes back as an error that says so, never as a number or a panic.
func TestFitRefuses(t *testing.T) {
	bore := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	var few *fit.TooFewError
	if _, err := indicator.Fit(indicator.Dial{}, bore, degrees(0, 120, 360), []float64{0, 0, 0}); !errors.As(err, &few) {
		t.Errorf("two places: %v, want a TooFewError", err)
	} else if few.Have != 2 || few.Need != 3 {
		t.Errorf("two places: %v, want 2 seen and 3 needed", few)
	}
	if _, err := indicator.Fit(indicator.Dial{}, bore, nil, nil); !errors.As(err, &few) {
		t.Errorf("no reading: %v, want a TooFewError", err)
	}
	var value *fit.ValueError
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if _, err := indicator.Fit(indicator.Dial{}, bore, quarters, []float64{0, 0, bad, 0}); !errors.As(err, &value) {
			t.Errorf("reading %v: %v, want a ValueError", bad, err)
		} else if value.Index != 2 {
			t.Errorf("reading %v: the error names reading %d, want 2", bad, value.Index)
		}
	}
	var outside *fit.OutsideError
	bore.TipDiameter = 60
	if _, err := indicator.Fit(indicator.Dial{}, bore, quarters, []float64{0, 0, 0, 0}); !errors.As(err, &outside) {
		t.Errorf("a ball as large as the bore: %v, want an OutsideError", err)
	}
}
