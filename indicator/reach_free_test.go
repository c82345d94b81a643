package indicator_test

import (
	"errors"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A ring, then the spindle half a turn and a plug: both ways round, with the tip out in the ring and
// with it in. Neither round stands true, and no reach is known beforehand.
func TestPairOfRounds(t *testing.T) {
	const swing = 42.0
	for _, reach := range []float64{11.7, -11.7} {
		k := toolFor(indicator.Bore, reach, 1)
		b := stations(8, 0.4, 360)
		ring, plug := swing+reach+0.1, swing-reach-0.15
		far := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: ring, TipDiameter: 2}
		f := mustFit(t, indicator.Dial{}, far, b, k.swung(b, swing, 0, geom.Point{X: 0.2, Y: 0.1}, ring, true))
		close := indicator.Setup{Touch: indicator.Boss, ReferenceRadius: plug, TipDiameter: 2}
		// Half a turn of the spindle: the arm points the other way, and so does the tip.
		n := mustFit(t, indicator.Dial{}, close, b, k.swung(b, swing, 180*geom.Degree, geom.Point{X: -0.1, Y: 0.3}, plug, false))
		got, r := indicator.PairReach(f.Zero("ring"), n.Zero("plug"))
		near(t, "swing", r.V, swing, exactMM)
		near(t, "reach", got.V, reach, exactMM)
	}
	// By the formula of the readings' means, by hand, with a lever of cos = 0.8: readings 0.05 and −0.03 are
	// 0.04 and −0.024 of travel; R = (54 + 30 + 0.064)/2 = 42.032, t = (24 + 0.016)/2 = 12.008.
	d := indicator.Dial{LeverAngle: math.Atan2(3, 4)}
	got, r := indicator.PairReach(
		indicator.Mean{Dial: d, Touch: indicator.Bore, Radius: 54, RadiusLimit: 0.003, Reading: 0.05, ReadingLimit: 0.001}.Zero("ring"),
		indicator.Mean{Dial: d, Touch: indicator.Boss, Radius: 30, Reading: -0.03, ReadingLimit: 0.001}.Zero("plug"))
	near(t, "swing", r.V, 42.032, 1e-12)
	near(t, "reach", got.V, 12.008, 1e-12)
	// 0.003/√3/2 = 0.866 µm, twice 0.8·0.001/√3/2 = 0.231 µm: √(0.75 + 2·0.05333) = 0.92556 µm.
	near(t, "U", r.Value().U, 1.959963985*math.Sqrt(0.75+2*0.16/3)/1000, 1e-9)
}

// A pin of 6 mm in the spindle, met on its right by an indicator that the table carries: where the
// table stands when the needle shows the same is the pin's right flank. With a pin bent by 0.01 the
// answer is out by no more than half of the runout that this shows (0.02).
func TestPin(t *testing.T) {
	flank := func(swing float64, head geom.Bearing, bent geom.Point) float64 {
		u := head.Unit() // the bend rides round with the head
		return swing*u.X + bent.X*u.X - bent.Y*u.Y + 3
	}
	for _, bent := range []geom.Point{{}, {X: 0.01}, {X: -0.006, Y: 0.008}, {Y: 0.01}} {
		p := indicator.Pin{Difference: flank(42.013, 0, bent) - flank(42.013, 180*geom.Degree, bent), Resolution: 0.005,
			Runout: 2 * bent.Norm()}
		r, err := p.Swing()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "swing", r.V, 42.013, bent.Norm()+1e-12)
		near(t, "swing, the bend along the arm", r.V, 42.013+bent.X, 1e-12)
	}
	// ±10 µm, a step of 5 µm twice: half of 10/√3 and of 5/√6; runout 4 µm: 2/√2 (arc sine).
	r, err := indicator.Pin{Difference: 84, DifferenceLimit: 0.010, Resolution: 0.005, Runout: 0.004}.Swing()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "U", r.Value().U, 1.959963985*math.Sqrt(25.0/3+25.0/24+2)/1000, 1e-9)
	if r, _ = (indicator.Pin{Difference: 84, Runout: 0.004}).Swing(); r.Value().Sure() {
		t.Errorf("a readout of which nothing is stated gives U %v, want it unknown", r.Value().U)
	}
	var place *indicator.PlaceError
	if _, err = (indicator.Pin{Difference: -84}).Swing(); !errors.As(err, &place) {
		t.Errorf("a negative difference: %v, want a PlaceError", err)
	}
}

// A cutter of 6 carried round at 42 leaves metal up to 39 on the inside and from 45 on the outside.
func TestCut(t *testing.T) {
	in, err := indicator.Cut{Arc: 39, ArcLimit: 0.006, Cutter: 6, CutterLimit: 0.006, MetalInside: true}.Swing()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "metal inside", in.V, 42, 1e-12)
	near(t, "U", in.Value().U, 1.959963985*math.Sqrt(12+3)/1000, 1e-9)
	out, err := indicator.Cut{Arc: 45, ArcLimit: 0.006, Cutter: 6}.Swing()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "metal outside", out.V, 42, 1e-12)
	near(t, "sensitivity", in.Terms[1].Sensitivity, 0.5, 0)
	// Found on a sweep with the tip's zero at 30: the reach is −12.
	z := indicator.Mean{Touch: indicator.Bore, Radius: 30.1, Reading: -0.1, ReadingLimit: 0.001}.Zero("reference")
	near(t, "reach", indicator.ReachAt(z, in).V, -12, 1e-12)
	var place *indicator.PlaceError
	if _, err = (indicator.Cut{Arc: 2, Cutter: 6}).Swing(); !errors.As(err, &place) {
		t.Errorf("a hollow of 2 by a cutter of 6: %v, want a PlaceError", err)
	}
}

// A reach of 12 towards the head axis, typed without its minus: the sweep of 30 says 18 where the scale
// says 42 or so, and the first wind would be 24. With a short reach the scale cannot tell.
func TestPlausibleReach(t *testing.T) {
	z := indicator.Value{V: 30.02, U: 0.004}
	scale := indicator.Value{V: 42, U: 1}
	given, turned := indicator.PlausibleReach(z, 12, scale, 42)
	near(t, "swing as typed", given.Swing, 18.02, 1e-12)
	near(t, "first wind as typed", given.Wind, 23.98, 1e-12)
	near(t, "swing, sign turned", turned.Swing, 42.02, 1e-12)
	near(t, "first wind, sign turned", turned.Wind, -0.02, 1e-12)
	if !given.Contradicts || turned.Contradicts {
		t.Errorf("+12 contradicts %v and −12 %v, want true and false", given.Contradicts, turned.Contradicts)
	}
	given, turned = indicator.PlausibleReach(z, -12, scale, 0)
	if given.Contradicts || !turned.Contradicts || !math.IsNaN(given.Wind) {
		t.Errorf("−12: %+v, turned %+v; want it to agree, and no wind without a target", given, turned)
	}
	given, turned = indicator.PlausibleReach(indicator.Value{V: 41.8, U: 0.004}, -0.4, scale, 42)
	if given.Contradicts || turned.Contradicts {
		t.Errorf("a reach of 0.4 against a scale to ±1: %+v, %+v, want neither to contradict", given, turned)
	}
	// A swing radius below zero contradicts whatever the scale says.
	given, _ = indicator.PlausibleReach(indicator.Value{V: 5, U: math.NaN()}, 5.5, indicator.Value{V: 0.2, U: 1}, 42)
	if !given.Contradicts {
		t.Error("a swing radius of −0.5 does not contradict, want it to")
	}
}
