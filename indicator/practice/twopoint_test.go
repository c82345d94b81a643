package practice

import (
	"math"
	"testing"
)

// flawless is a drawn machine without any error but where it starts.
func flawless(bore bool, start Truth) Drawn {
	w := plain(bore, 30, 42, -12)
	w.Y.ClockwiseIncreases = false
	w.RangeFrom, w.RangeTo = -0.8, 0.8
	w.Start = start
	return Drawn{World: w, Want: Want{42, 0.02, 0.02, false}}
}

// On a flawless machine the two-point hand needs three trials: centre, radius, and a look. The signs of
// bore and boss are right, or it would need more.
func TestTwoPointOnFlawlessMachine(t *testing.T) {
	for _, bore := range []bool{true, false} {
		d := flawless(bore, Truth{42.3, 0.2, -0.15})
		out, err := twoPoint(&d, 1)
		if want := (Outcome{Accepted: true, Within: true, Trials: 3, Readings: 10, Winds: 3}); err != nil || out != want {
			t.Errorf("bore %v: %+v (%v), want %+v", bore, out, err, want)
		}
	}
	// In from the start: one look at four points, and one at two.
	d := flawless(true, Truth{42.01, 0.01, 0})
	if out, err := twoPoint(&d, 1); err != nil || out != (Outcome{Accepted: true, Within: true, Trials: 2, Readings: 6}) {
		t.Errorf("begun inside: %+v (%v), want two looks and no wind", out, err)
	}
}

// Play eats from a wind that turns back: the slide is short by it, and needs another trial.
func TestTwoPointPaysForPlay(t *testing.T) {
	d := flawless(true, Truth{42, 0.3, 0})
	d.X.Backlash = 0.2
	short := 0
	for seed := range uint64(20) {
		out, err := twoPoint(&d, seed)
		lost := 0.1 - New(d.World, seed).x.first // of the play, before the nut pulls upwards
		want := 3                                // wound, looked at, and looked at two points
		if lost > 0.02 {
			want++ // wound again before that
			short++
		}
		if err != nil || out.Trials != want || !out.Within {
			t.Errorf("seed %d, %.3f lost at first: %+v (%v), want %d trials", seed, lost, out, err, want)
		}
	}
	if short < 10 {
		t.Errorf("%d of 20 winds fell short, want most", short)
	}
}

// What two halves inside the tolerance cannot show: the corner of the square lies beyond the circle.
func TestTwoPointAcceptsCorners(t *testing.T) {
	d := flawless(true, Truth{42, 0.018, 0.018}) // 0.0255 from the axis
	if out, err := twoPoint(&d, 1); err != nil || !out.Accepted || out.Within {
		t.Errorf("%+v (%v), want accepted and not within", out, err)
	}
}

// A centre that was in until its slide was clamped is seen at the two points, and brought in again: the
// radius wound, the centre found out, wound, looked at twice.
func TestTwoPointGoesBackToCentre(t *testing.T) {
	d := flawless(true, Truth{42.1, 0.01, 0})
	d.X.LockShift = -0.02
	if out, err := twoPoint(&d, 1); err != nil || !out.Within || out.Trials != 5 || out.Winds != 2 {
		t.Errorf("%+v (%v), want it within after 5 trials and 2 winds", out, err)
	}
}

// From a coarse start he roughs in first.
func TestTwoPointRoughsIn(t *testing.T) {
	d := flawless(true, Truth{43.5, -1.2, 0.9})
	out, err := twoPoint(&d, 1)
	if err != nil || !out.Within || out.Trials < 3 || out.Trials > 5 || out.Winds < roughWinds {
		t.Errorf("%+v (%v), want accepted within 5 trials, a rough stage among them", out, err)
	}
}

// A hand that cannot get there is given up, and not counted as settled.
func TestTwoPointGivesUp(t *testing.T) {
	d := flawless(true, Truth{42, 0.3, 0})
	d.X.Backlash = 50 // the slide hardly knows that the hand winds
	if out, err := twoPoint(&d, 1); err != nil || out.Accepted || out.Within || out.Trials != mostTrials {
		t.Errorf("%+v (%v), want it given up after %d trials", out, err, mostTrials)
	}
	d.X.Backlash = math.Inf(1)
	if _, err := twoPoint(&d, 1); err == nil {
		t.Error("a slide that cannot be wound: no error")
	}
}

// After a rough stage the needle is on the dial all the way round, wherever it began, and near the
// middle: what is left is a look's noise, the turn of the ring and the screws' errors.
func TestRough(t *testing.T) {
	for seed := range uint64(200) {
		d := Draw(seed, Options{Coarse: true})
		m := New(d.World, seed)
		if err := m.rough(); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if got := m.Truth(); math.Abs(got.Swing-42) > 0.25 || math.Hypot(got.CentreX, got.CentreY) > 0.25 {
			t.Errorf("seed %d: roughed in to %+v from %+v", seed, got, d.Start)
		}
		for bearing := 0.0; bearing < 360; bearing += 30 {
			if quietAt(m, bearing); m.Dial().Off != "" {
				t.Errorf("seed %d: needle off at %g°", seed, bearing)
			}
		}
	}
	for _, bore := range []bool{true, false} {
		d := flawless(bore, Truth{40.2, 1.1, -1.4})
		m := New(d.World, 1)
		if err := m.rough(); err != nil || math.Abs(m.Truth().Swing-42) > 0.05 || math.Hypot(m.Truth().CentreX, m.Truth().CentreY) > 0.1 {
			t.Errorf("bore %v: %+v (%v), want about 42 and 0", bore, m.Truth(), err)
		}
	}
}
