package indicator_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// tool is an indicator clamped to the cutter spindle, as it stands at the machine: in directions and
// circles, with no formula of the program. Millimetres.
type tool struct {
	// ball is where the middle of the tip's ball stands at dial zero, from the spindle's axis outwards
	// along the arm; radius is the ball's. outwards says which way along the arm the tip presses.
	ball, radius float64
	outwards     bool
}

// toolFor is a tool whose reach, that of the ball's pressing side, is t.
func toolFor(t indicator.Touch, reach, radius float64) tool {
	if t == indicator.Bore {
		return tool{reach - radius, radius, true}
	}
	return tool{reach + radius, radius, false}
}

// read returns what the dial shows with the spindle's axis at s and the arm at a bearing, against a
// round wall about c: the plunger is let go until the ball's middle stands a ball's radius from the
// wall, inside it or outside.
func (k tool) read(s geom.Point, arm geom.Bearing, c geom.Point, wall float64, inside bool) float64 {
	u := arm.Unit()
	press := 1.0
	if !k.outwards {
		press = -1
	}
	gap := func(m float64) float64 { // room between ball and wall
		at := k.ball - press*m
		d := math.Hypot(s.X+at*u.X-c.X, s.Y+at*u.Y-c.Y)
		if inside {
			return wall - d - k.radius
		}
		return d - wall - k.radius
	}
	lo, hi := -3.0, 3.0 // pressed farther, there is more room
	if gap(lo) > 0 || gap(hi) < 0 {
		return math.NaN()
	}
	for range 80 {
		if mid := (lo + hi) / 2; gap(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// spun is a whole turn of the spindle against a round about c, the spindle's axis at the origin.
func (k tool) spun(b []geom.Bearing, c geom.Point, wall float64, inside bool) []float64 {
	m := make([]float64, len(b))
	for i := range b {
		m[i] = k.read(geom.Point{}, b[i], c, wall, inside)
	}
	return m
}

// swung is a sweep of a reference about c, the head axis at the origin: the arm stands off the radial
// line by off.
func (k tool) swung(b []geom.Bearing, swing float64, off geom.Bearing, c geom.Point, wall float64, inside bool) []float64 {
	m := make([]float64, len(b))
	for i := range b {
		u := b[i].Unit()
		m[i] = k.read(geom.Point{X: swing * u.X, Y: swing * u.Y}, b[i]+off, c, wall, inside)
	}
	return m
}

var fourWays = []struct {
	touch indicator.Touch
	way   indicator.Way
	reach float64
	round indicator.Round // as the picture has it: which way does the tip press, seen from the spindle?
}{
	{indicator.Bore, indicator.TipOut, 12.3, indicator.Ring},
	{indicator.Bore, indicator.TipIn, -12.3, indicator.Plug},
	{indicator.Boss, indicator.TipOut, 12.3, indicator.Plug},
	{indicator.Boss, indicator.TipIn, -12.3, indicator.Ring},
}

// In each of the four cases the reach that a spin finds is the one that makes a sweep of a reference
// say the true swing radius; ring, plug and reference all stand off centre, and the ball has a size.
func TestSpinThenSweep(t *testing.T) {
	const swing = 42.0
	for _, c := range fourWays {
		k := toolFor(c.touch, c.reach, 1.5)
		round := 12.2
		m := k.spun(stations(7, 0.2, 360), geom.Point{X: 0.11, Y: -0.07}, round, c.round == indicator.Ring)
		s := indicator.Spin{Touch: c.touch, Way: c.way, Round: c.round, Radius: round, TipDiameter: 3}
		reach, _, err := s.Reach(stations(7, 0.2, 360), m)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("%v %v: reach", c.touch, c.way), reach.V, c.reach, exactMM)

		wall := swing + c.reach + 0.2
		m = k.swung(stations(7, 0.2, 360), swing, 0, geom.Point{X: -0.2, Y: 0.15}, wall, c.touch == indicator.Bore)
		f := mustFit(t, indicator.Dial{}, indicator.Setup{Touch: c.touch, ReferenceRadius: wall, Reach: reach.V, ReachKnown: true,
			TipDiameter: 3}, stations(7, 0.2, 360), m)
		near(t, fmt.Sprintf("%v %v: swing", c.touch, c.way), f.Swing().V, swing, exactMM)
	}
}

// The wrong round is refused. A lever indicator that is switched over does touch it, with the ball's
// other side: what is then made of its readings puts a whole ball diameter into the swing radius, too
// much in a bore and too little round a boss.
func TestWrongRound(t *testing.T) {
	const swing, ball, wall = 42.0, 1.0, 12.2
	for _, c := range fourWays {
		wrong := indicator.Plug
		if c.round == indicator.Plug {
			wrong = indicator.Ring
		}
		if got := indicator.RoundFor(c.touch, c.way); got != c.round {
			t.Errorf("%v %v: spun against a %v, want a %v", c.touch, c.way, got, c.round)
		}
		s := indicator.Spin{Touch: c.touch, Way: c.way, Round: wrong, Radius: wall}
		_, _, err := s.Reach(quarters, []float64{0, 0, 0, 0})
		var w *indicator.WrongRoundError
		if !errors.As(err, &w) {
			t.Fatalf("%v %v against a %v: %v, want a WrongRoundError", c.touch, c.way, wrong, err)
		}

		k := toolFor(c.touch, c.reach, ball)
		k.outwards = !k.outwards
		// Switched over, the ball stands where it stood; the round is a ball's diameter larger or smaller
		// where it touches, so one of another size is taken.
		other := math.Abs(c.reach) + 2*ball
		if wrong == indicator.Plug {
			other = math.Abs(c.reach) - 2*ball
		}
		m := k.spun(quarters, geom.Point{}, other, wrong == indicator.Ring)
		touch := indicator.Bore
		if wrong == indicator.Plug {
			touch = indicator.Boss
		}
		f := mustFit(t, indicator.Dial{}, indicator.Setup{Touch: touch, ReferenceRadius: other, TipDiameter: 2 * ball}, quarters, m)
		reach := f.Circle.Level
		if c.way == indicator.TipIn {
			reach = -reach
		}
		found := swing + c.reach - reach // the sweep finds z = R + t, and takes the reach off it
		near(t, fmt.Sprintf("%v %v: what the wrong round does to the swing", c.touch, c.way), found-swing, w.SwingError(2*ball), 1e-9)
		if over := w.SwingError(2*ball) > 0; over != (c.touch == indicator.Bore) {
			t.Errorf("%v: error %v, want too large in a bore and too small round a boss", c.touch, w.SwingError(2*ball))
		}
	}
}

// The mean of equally spaced readings is the least-squares circle's radius (NIST/SEMATECH e-Handbook
// 2.3.4.4, testdata/fit/roundness.json), less e²/4ρ for a round that stands off by e: 0.05²/48 = 0.05 µm.
func TestSpinAgainstTheMean(t *testing.T) {
	b := stations(8, 0, 360)
	k := toolFor(indicator.Bore, -12.3, 0)
	m := k.spun(b, geom.Point{X: 0.03, Y: 0.04}, 12.2, false)
	mean := 0.0
	for _, x := range m {
		mean += x / 8
	}
	reach, _, err := indicator.Spin{Touch: indicator.Bore, Way: indicator.TipIn, Round: indicator.Plug, Radius: 12.2}.Reach(b, m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "reach", reach.V, -(12.2 - mean), 0.06e-3)
	z := indicator.Mean{Touch: indicator.Boss, Radius: 12.2, Reading: mean, ReadingLimit: 0.001}.Zero("plug")
	near(t, "from the mean", z.V, -reach.V, 0.06e-3)
}

// A budget worked out by hand. Four readings of +4, −4, +4, −4 µm leave s = 8 µm on one degree of
// freedom (TestSpread), their mean s/2 = 4 µm; a plug to ±6 µm is 6/√3 = 3.4641; a dial to ±3 µm is
// 1.7321. Together √(16 + 12 + 3) = √31 = 5.5678 µm, and by Welch and Satterthwaite
// ν = 31²/(4⁴/1) = 961/256 = 3.75390625. (JCGM 100:2008, 5.1.2 and G.4.1, from memory.)
func TestSpinBudget(t *testing.T) {
	s := indicator.Spin{Dial: indicator.Dial{ErrorLimit: 0.003}, Touch: indicator.Bore, Way: indicator.TipIn, Round: indicator.Plug,
		Radius: 12, RadiusLimit: 0.006}
	reach, _, err := s.Reach(quarters, []float64{0.004, -0.004, 0.004, -0.004})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "reach", reach.V, -12, 1e-12)
	want := []struct {
		name     string
		u, sense float64
	}{{"plug readings", 0.004, 1}, {"plug radius", 0.006 / math.Sqrt(3), -1}, {"plug dial error", 0.003 / math.Sqrt(3), -1}}
	if len(reach.Terms) != len(want) {
		t.Fatalf("budget %v, want %d lines", reach.Terms, len(want))
	}
	for i, w := range want {
		if reach.Terms[i].Name != w.name {
			t.Errorf("line %d is %q, want %q", i+1, reach.Terms[i].Name, w.name)
		}
		near(t, w.name, reach.Terms[i].U, w.u, 1e-9)
		near(t, w.name+": sensitivity", reach.Terms[i].Sensitivity, w.sense, 1e-12)
	}
	// t at 0.975 for 3.754 degrees of freedom lies between the tables' 3.182 (3) and 2.776 (4).
	k := reach.Value().U / (math.Sqrt(31) / 1000)
	if !(k > 2.776 && k < 3.182) {
		t.Errorf("U is %.3f standard uncertainties, want between 2.776 and 3.182", k)
	}
	if top, _ := reach.Limiting(); top.Name != "plug readings" {
		t.Errorf("%q limits, want the readings", top.Name)
	}
	// As a job's reach_error it gives the radius that very U again: limit/√3 · 1.95996.
	near(t, "limit", reach.Limit()/math.Sqrt(3)*1.959963985, reach.Value().U, 1e-9)
}

// Three readings leave the spread open, and so the reach's uncertainty, unless it is stated.
func TestSpinWithoutSpread(t *testing.T) {
	s := indicator.Spin{Touch: indicator.Bore, Round: indicator.Ring, Radius: 12, RadiusLimit: 0.002}
	b := degrees(0, 120, 240)
	reach, _, err := s.Reach(b, []float64{0.01, 0.01, 0.01})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "reach", reach.V, 12.01, 1e-9)
	if reach.Value().Sure() || !math.IsNaN(reach.Limit()) {
		t.Errorf("U %v, limit %v, want both unknown", reach.Value().U, reach.Limit())
	}
	s.Dial.Repeatability = 0.003
	if reach, _, err = s.Reach(b, []float64{0.01, 0.01, 0.01}); err != nil || !reach.Value().Sure() {
		t.Errorf("with a repeatability: U %v, %v, want it known", reach.Value().U, err)
	}
	s.Round, s.Way = indicator.Plug, indicator.TipIn
	var place *indicator.PlaceError
	if _, _, err = s.Reach(b, []float64{13, 13, 13}); !errors.As(err, &place) {
		t.Errorf("a plug of 12 pressed by 13: %v, want a PlaceError", err)
	}
}

// A mean that is known to ±0.001, of a dial of 0.01 read to fifths, on a lever at 60°: half of √(1/3 + 4/12) µm, the rounding of 0.002
// being 0.002/√12; with the ring to ±0.003 that is √(1/6 + 3) µm, all of it limits (JCGM 100:2008, 4.3.7, from memory).
func TestMeanBudget(t *testing.T) {
	a := indicator.Mean{Dial: indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, LeverAngle: math.Pi / 3}, Touch: indicator.Bore, Radius: 12,
		RadiusLimit: 0.003, Reading: 0.1, ReadingLimit: 0.001}
	z := a.Zero("ring")
	near(t, "zero radius", z.V, 12.05, 1e-12)
	near(t, "U", z.Value().U, 1.959963985*math.Sqrt(1.0/6+3)/1000, 1e-9)
	if a.ReadingLimit = 0; !a.Zero("ring").Value().Sure() { // its rounding is known
		t.Error("a mean that is rounded has no uncertainty")
	}
	if a.Dial = (indicator.Dial{}); a.Zero("ring").Value().Sure() {
		t.Error("a mean of which nothing is known has an uncertainty")
	}
}
