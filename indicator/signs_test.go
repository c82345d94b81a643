package indicator_test

import (
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// The four signs, worked out from the picture at the machine and not from any formula of the
// program. Seen from above, X to the right and Y away from the operator; four stations, at 0°
// (right), 90° (away), 180° (left) and 270° (towards the operator).
//
// The reference has a radius of 18.61 mm and stands out of centre by 0.61 mm along each axis.
// These go by hand because 0.61² + 18.60² = 18.61² (61² + 1860² = 3721 + 3459600 = 3463321 =
// 1861²): a wall point that lies 0.61 to the side of the reference's middle lies 18.60 before it.
// So along an axis the wall is met at 18.60 ± 0.61 from the head axis:
//
//	on the side to which the reference is shifted   18.60 + 0.61 = 19.21
//	on the other side                               18.60 − 0.61 = 17.99
//
// The dial reads zero when the tip stands at the zero radius (swing radius + reach) from the
// head axis. In a bore the tip pushes outwards: a wall that is nearer than the zero radius
// presses the plunger in, and the dial reads the difference, plus. Round a boss the tip pushes
// inwards: a wall that is farther out presses the plunger in.
var fourSigns = []struct {
	name     string
	touch    indicator.Touch
	reach    float64
	readings []float64
	swing    float64
	ex, ey   float64
}{
	{
		// A ring smaller than the swing circle: the tip is turned in by 11.40. The swing
		// stands at 30.05, so the zero radius is 30.05 − 11.40 = 18.65. The ring is shifted
		// right and towards the operator.
		//
		//	0°    wall at 19.21, 0.56 beyond the tip's zero: needle back      −0.56
		//	90°   wall at 17.99, 0.66 short of it: plunger pressed            +0.66
		//	180°  17.99                                                       +0.66
		//	270°  19.21                                                       −0.56
		name: "bore, reach in", touch: indicator.Bore, reach: -11.40,
		readings: []float64{-0.56, 0.66, 0.66, -0.56},
		swing:    30.05, ex: 0.61, ey: -0.61,
	},
	{
		// A ring larger than the swing circle: the tip is turned out by 6.60. The swing stands
		// at 11.90, so the zero radius is 18.50. The ring is shifted left and towards the
		// operator.
		//
		//	0°    wall at 17.99, 0.51 short of the tip's zero: pressed        +0.51
		//	90°   17.99                                                       +0.51
		//	180°  wall at 19.21, 0.71 beyond                                  −0.71
		//	270°  19.21                                                       −0.71
		name: "bore, reach out", touch: indicator.Bore, reach: 6.60,
		readings: []float64{0.51, 0.51, -0.71, -0.71},
		swing:    11.90, ex: -0.61, ey: -0.61,
	},
	{
		// A plug larger than the swing circle: the tip stands 6.60 farther out than the
		// spindle and points back in. The swing stands at 12.08, the zero radius is 18.68. The
		// plug is shifted left and away.
		//
		//	0°    wall at 17.99, 0.69 short of the tip's zero: needle back    −0.69
		//	90°   wall at 19.21, 0.53 beyond: plunger pressed                 +0.53
		//	180°  19.21                                                       +0.53
		//	270°  17.99                                                       −0.69
		name: "boss, reach out", touch: indicator.Boss, reach: 6.60,
		readings: []float64{-0.69, 0.53, 0.53, -0.69},
		swing:    12.08, ex: -0.61, ey: 0.61,
	},
	{
		// A plug inside the swing circle: the tip is turned in by 11.40. The swing stands at
		// 29.90, the zero radius is 18.50. The plug is shifted right and away.
		//
		//	0°    wall at 19.21, 0.71 beyond the tip's zero: pressed          +0.71
		//	90°   19.21                                                       +0.71
		//	180°  wall at 17.99, 0.51 short                                   −0.51
		//	270°  17.99                                                       −0.51
		name: "boss, reach in", touch: indicator.Boss, reach: -11.40,
		readings: []float64{0.71, 0.71, -0.51, -0.51},
		swing:    29.90, ex: 0.61, ey: 0.61,
	},
}

func TestFourSigns(t *testing.T) {
	for _, c := range fourSigns {
		t.Run(c.name, func(t *testing.T) {
			s := indicator.Setup{Touch: c.touch, ReferenceRadius: 18.61, Reach: c.reach, ReachKnown: true}
			f := mustFit(t, indicator.Dial{}, s, quarters, c.readings)
			near(t, "swing radius", f.Swing().V, c.swing, exactMM)
			near(t, "centre error x", f.CentreX().V, c.ex, exactMM)
			near(t, "centre error y", f.CentreY().V, c.ey, exactMM)
			if f.Radius().Known() {
				t.Errorf("the surface's radius was given, yet %v is claimed of it", f.Radius())
			}
			for i, b := range quarters {
				near(t, "residual", f.Residual(b, c.readings[i]), 0, exactMM)
				near(t, "expected reading", f.Expect(b).V, c.readings[i], exactMM)
			}
		})
	}
}

// Both components of the centre error differ here, and both are far from small: 16² + 63² =
// 25² + 60² = 65². A ring of 65 whose middle lies at (16, 25) is met
//
//	at 0°    16 + 60 = 76     (the wall point (76, 0) lies 60 right of and 25 below the middle)
//	at 90°   25 + 63 = 88     (the wall point (0, 88) lies 16 left of and 63 above it)
//	at 180° −16 + 60 = 44
//	at 270° −25 + 63 = 38
//
// With the zero radius at 70 (swing 40, reach +30) the dial, were it long enough, would read
// 70 − 76 = −6, 70 − 88 = −18, 70 − 44 = 26 and 70 − 38 = 32. Opposite half differences still give
// the middle without any root, (26 + 6)/2 = 16 and (32 + 18)/2 = 25, but the half sums, 10 and 7,
// do not agree on the radius: only the exact model closes on 70.
func TestFarOutOfCentre(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 65, Reach: 30, ReachKnown: true}
	f := mustFit(t, indicator.Dial{}, s, quarters, []float64{-6, -18, 26, 32})
	near(t, "swing radius", f.Swing().V, 40, exactMM)
	near(t, "centre error x", f.CentreX().V, 16, exactMM)
	near(t, "centre error y", f.CentreY().V, 25, exactMM)
	near(t, "offset", f.Offset().V, 29.68164415931166, exactMM) // √(256 + 625) = √881

	// The same plug, met from outside: every reading turns its sign.
	s.Touch = indicator.Boss
	f = mustFit(t, indicator.Dial{}, s, quarters, []float64{6, 18, -26, -32})
	near(t, "boss: swing radius", f.Swing().V, 40, exactMM)
	near(t, "boss: centre error x", f.CentreX().V, 16, exactMM)
	near(t, "boss: centre error y", f.CentreY().V, 25, exactMM)
}

// A plug of 25 out of centre by (0.3, 0.4), swing 30, reach −5: the zero radius is 25. Here the
// roots do not come out even:
//
//	√(25² − 0.4²) = √624.84 = 25·√(1 − 0.000256)
//	              = 25·(1 − 0.000128 − 0.000000008192 − 0.0000000000010486 − …)
//	              = 24.996 799 795 173 8
//	√(25² − 0.3²) = √624.91 = 25·√(1 − 0.000144)
//	              = 25·(1 − 0.000072 − 0.000000002592 − 0.0000000000001866 − …)
//	              = 24.998 199 935 195 3
//
//	0°     0.3 + 24.9967997951738 − 25 = +0.2967997951738
//	90°    0.4 + 24.9981999351953 − 25 = +0.3981999351953
//	180°  −0.3 + 24.9967997951738 − 25 = −0.3032002048262
//	270°  −0.4 + 24.9981999351953 − 25 = −0.4018000648047
//
// Their mean is −0.0025, which a plain average would put onto the swing radius: e²/(4·25) =
// 0.25/100. The exact model does not.
func TestExactRoots(t *testing.T) {
	// The readings above are rounded to 1e-13.
	const tol = 2e-13
	s := indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 25, Reach: -5, ReachKnown: true}
	f := mustFit(t, indicator.Dial{}, s, quarters, []float64{0.2967997951738, 0.3981999351953, -0.3032002048262, -0.4018000648047})
	near(t, "swing radius", f.Swing().V, 30, tol)
	near(t, "centre error x", f.CentreX().V, 0.3, tol)
	near(t, "centre error y", f.CentreY().V, 0.4, tol)
	near(t, "offset", f.Offset().V, 0.5, tol)
}

// What may be turned, shifted or shuffled without a change of meaning.
func TestFitIdentities(t *testing.T) {
	s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	b := degrees(10, 55, 120, 190, 250, 320)
	m := []float64{0.120, 0.043, -0.101, -0.188, -0.052, 0.097}
	f := mustFit(t, indicator.Dial{}, s, b, m)

	// Zeroing the dial 0.05 higher up makes every reading 0.05 less, and in a bore that is a tip
	// 0.05 farther in: the swing radius seems 0.05 less.
	less := make([]float64, len(m))
	for i := range m {
		less[i] = m[i] - 0.05
	}
	g := mustFit(t, indicator.Dial{}, s, b, less)
	near(t, "dial moved: swing", g.Swing().V, f.Swing().V-0.05, exactMM)
	near(t, "dial moved: x", g.CentreX().V, f.CentreX().V, exactMM)
	near(t, "dial moved: y", g.CentreY().V, f.CentreY().V, exactMM)

	// The whole machine seen from 90° further round: x becomes y, y becomes −x.
	turned := make([]geom.Bearing, len(b))
	for i := range b {
		turned[i] = b[i] + 90*geom.Degree
	}
	g = mustFit(t, indicator.Dial{}, s, turned, m)
	near(t, "turned: swing", g.Swing().V, f.Swing().V, exactMM)
	near(t, "turned: x", g.CentreX().V, -f.CentreY().V, exactMM)
	near(t, "turned: y", g.CentreY().V, f.CentreX().V, exactMM)

	// The order of the stations does not matter.
	g = mustFit(t, indicator.Dial{}, s, degrees(250, 10, 320, 120, 55, 190),
		[]float64{-0.052, 0.120, 0.097, -0.101, 0.043, -0.188})
	near(t, "shuffled: swing", g.Swing().V, f.Swing().V, exactMM)
	near(t, "shuffled: x", g.CentreX().V, f.CentreX().V, exactMM)
	near(t, "shuffled: y", g.CentreY().V, f.CentreY().V, exactMM)
}
