package practice

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Concentric, the needle draws the lobes themselves: nearer where a bore's wall stands farther in.
func TestLobesConcentric(t *testing.T) {
	for _, c := range []struct {
		bore bool
		sign float64 // of the needle where the surface stands out
	}{{true, -1}, {false, 1}} {
		w := plain(c.bore, 30, 42, -12)
		w.TwoLobe, w.ThreeLobe = Lobe{0.003, 30 * math.Pi / 180}, Lobe{0.002, 10 * math.Pi / 180}
		m := New(w, 1)
		// Crests by hand: the oval's at 30° and 210°, its waists at 120° and 300°; the three-lobe's crests at
		// 10°, 130°, 250°, and half its height 20° beside them (cos 60°).
		for _, at := range []struct{ bearing, out float64 }{
			{30, 0.003 + 0.001}, {210, 0.003 - 0.001}, {120, -0.003 + 0.002*math.Cos(math.Pi/6)}, {10, 0.003*math.Cos(math.Pi*2/9) + 0.002},
		} {
			wantNear(t, "needle on the lobes", quietAt(m, at.bearing), c.sign*at.out)
		}
	}
}

// Off centre and with a ball, what the needle shows puts the ball's centre onto the lobed curve, moved
// in or out by the ball's radius.
func TestLobesOffCentre(t *testing.T) {
	for _, bore := range []bool{true, false} {
		w := plain(bore, 30, 42, -12)
		w.TipDiameter = 2
		w.TwoLobe, w.ThreeLobe = Lobe{0.003, 0.4}, Lobe{0.0025, -1.1}
		w.Start.CentreX, w.Start.CentreY = 0.21, -0.17
		m := New(w, 1)
		press := 1.0
		if !bore {
			press = -1
		}
		for bearing := 0.0; bearing < 360; bearing += 7 {
			shown := quietAt(m, bearing)
			b := bearing * math.Pi / 180
			far := 30 - press*(shown+1) // of the ball's centre from the axis
			x, y := far*math.Cos(b)-0.21, far*math.Sin(b)+0.17
			phi := math.Atan2(y, x)
			curve := 30 - press + 0.003*math.Cos(2*(phi-0.4)) + 0.0025*math.Cos(3*(phi+1.1))
			wantNear(t, "ball's centre from the reference's", math.Hypot(x, y), curve)
		}
	}
}

// A ring whose zero is out by 2° shows at its 0 what stands at 2°, while the slides go their own way.
func TestRingZero(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Start.CentreX = 0.3
	true0 := New(w, 1)
	w.RingZero = 2 * math.Pi / 180
	m := New(w, 1)
	for _, bearing := range []float64{0, 88, 200} {
		wantNear(t, "needle under a ring that is 2° out", quietAt(m, bearing), quietAt(true0, bearing+2))
	}
	wind(t, m, "x", true, 0.3)
	if got := m.Truth(); math.Abs(got.CentreX) > near || got.CentreY != 0 {
		t.Errorf("x wound by 0.3: centre %+v, want 0, 0: the slides know no ring", got)
	}
}

// At the cut, 10 below the sweep, 0.0002 of lean is 2 µm; the needle sees none of it.
func TestLean(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Start.CentreX = 0.1
	level := New(w, 1)
	w.SweepHeight, w.LeanX, w.LeanY, w.SpindleLean = 10, 0.0002, -0.0001, 0.0002
	m := New(w, 1)
	got := m.Truth()
	wantNear(t, "centre x at the cut", got.CentreX, 0.102)
	wantNear(t, "centre y at the cut", got.CentreY, -0.001)
	wantNear(t, "swing at the cut", got.Swing, 42.002)
	wantNear(t, "needle", quietAt(m, 33), quietAt(level, 33))
}

// A periodic error of 5 µm comes back after every turn; between, it is off by what the sine says.
func TestWobble(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.X.Wobble, w.X.WobbleAt = 0.005, math.Pi/2
	m := New(w, 1)
	collar := 0.0
	for _, at := range []struct{ collar, off float64 }{{0.25, -0.005}, {0.5, -0.010}, {0.75, -0.005}, {1, 0}, {2.5, -0.010}} {
		wind(t, m, "x", true, at.collar-collar)
		collar = at.collar
		wantNear(t, "x gone", -m.Truth().CentreX, at.collar+at.off)
	}
}

// Clamps that were left open are shut together; one that is shut stays as it is.
func TestLockRest(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.X.LockShift, w.Y.LockShift, w.Offset.LockShift = 0.02, -0.01, 0.004
	w.X.LockNoise = 0.002
	m := New(w, 1)
	if err := m.lockSlide("x"); err != nil {
		t.Fatal(err)
	}
	x := m.Truth().CentreX
	if x == 0 || m.Truth().CentreY != 0 {
		t.Fatalf("x clamped: %+v, want x moved and y not", m.Truth())
	}
	m.answer(ask(0))
	got := m.Truth()
	wantNear(t, "y, clamped by the next reading", got.CentreY, 0.01)
	wantNear(t, "swing", got.Swing, 42.004)
	if got.CentreX != x {
		t.Errorf("x moved from %g to %g, want it to stay clamped", x, got.CentreX)
	}
	m = New(w, 1)
	if m.answer(ask(0)); m.Truth() != w.Start {
		t.Errorf("a sweep before any clamp is shut moved the slides to %+v", m.Truth())
	}
}

func ask(b geom.Bearing) session.Prompt {
	return session.Prompt{Waits: session.ForReading, Reading: session.ReadingAsked{Bearing: b}}
}

// Where a machine truly stands at the height of the cut does not change as the next sweep is taken higher up: what that sees of a leaning
// reference does, by the lean for every millimetre. Down the reference's centre lies aside by (0.0004, −0.0002) a millimetre, so 50
// higher up the sweep meets it by (−0.02, 0.01) elsewhere.
func TestTruthOfARaisedSweep(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.SweepHeight, w.LeanX, w.LeanY, w.SpindleLean = 10, 0.0004, -0.0002, 0.0003
	m := New(w, 1)
	truth := m.Truth()
	wantNear(t, "swing", truth.Swing, 42+0.003)
	wantNear(t, "centre x", truth.CentreX, 0.004)
	wantNear(t, "centre y", truth.CentreY, -0.002)
	east, north := quietAt(m, 0), quietAt(m, 90)
	m.Raise(50)
	high := m.Truth()
	wantNear(t, "swing, raised", high.Swing, truth.Swing)
	wantNear(t, "centre x, raised", high.CentreX, truth.CentreX)
	wantNear(t, "centre y, raised", high.CentreY, truth.CentreY)
	// A wall that is nearer presses the tip by as much, but for what lies across: 0.01²/60 and 0.02²/60.
	if by := quietAt(m, 0) - east; math.Abs(by-0.02) > 1e-5 {
		t.Errorf("50 mm higher up the needle at 0° shows %v more, want 0.02", by)
	}
	if by := quietAt(m, 90) - north; math.Abs(by+0.01) > 1e-5 {
		t.Errorf("50 mm higher up the needle at 90° shows %v more, want -0.01", by)
	}
}
