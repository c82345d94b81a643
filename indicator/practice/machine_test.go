package practice

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// near is what the arithmetic may lose: lengths are below 100 mm, where a float64 is good to
// 1.4e-14 mm, and no figure here goes through more than a few dozen operations. It is 1 nm / 1000.
const near = 1e-12

func wantNear(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= near) && got != want {
		t.Errorf("%s = %.15g, want %.15g", what, got, want)
	}
}

// plain is a machine without any error: perfect screws, no play, no noise, a dial without end.
func plain(bore bool, radius, swing, reach float64) World {
	perfect := Slide{TravelPerTurn: 1, Divisions: 100, ClockwiseIncreases: true, Gain: 1}
	return World{
		Bore: bore, ReferenceRadius: radius, Reach: reach,
		Offset: perfect, X: perfect, Y: perfect,
		Start: Truth{Swing: swing},
	}
}

// quietAt is where the needle stands with the spindle at the given bearing.
func quietAt(m *Machine, degrees float64) float64 {
	m.Swing(geom.FromDegrees(degrees))
	return m.quiet()
}

// Concentric, the needle shows how far the tip at dial zero stands in the metal, at every bearing.
func TestConcentric(t *testing.T) {
	for _, c := range []struct {
		name                 string
		bore                 bool
		radius, swing, reach float64
		want                 float64
	}{
		{"bore, tip inwards, tip at 30.1 in a bore of 30", true, 30, 42.1, -12, 0.1},
		{"bore, tip outwards, tip at 53.9 in a bore of 54", true, 54, 41.9, 12, -0.1},
		{"boss, tip inwards, tip at 30.1 round a boss of 30", false, 30, 42.1, -12, -0.1},
		{"boss, tip outwards, tip at 53.9 round a boss of 54", false, 54, 41.9, 12, 0.1},
		{"nothing to show", true, 30, 42, -12, 0},
	} {
		m := New(plain(c.bore, c.radius, c.swing, c.reach), 1)
		for _, bearing := range []float64{0, 37, 90, 200, 359} {
			wantNear(t, c.name, quietAt(m, bearing), c.want)
		}
	}
}

// A reference shifted by 0.2 along +X: the wall at bearing 0 is 0.2 farther out, that at 180°
// 0.2 nearer, and those at 90° and 270° are nearer by 30 − √(30² − 0.2²).
func TestShiftedAlongBearing(t *testing.T) {
	across := 30 - math.Sqrt(900-0.04)
	for _, c := range []struct {
		name    string
		bore    bool
		bearing float64
		want    float64
	}{
		{"bore, wall farther", true, 0, -0.2},
		{"bore, wall nearer", true, 180, 0.2},
		{"bore, across", true, 90, across},
		{"bore, across", true, 270, across},
		{"boss, wall farther", false, 0, 0.2},
		{"boss, wall nearer", false, 180, -0.2},
		{"boss, across", false, 90, -across},
	} {
		w := plain(c.bore, 30, 42, -12)
		w.Start.CentreX = 0.2
		wantNear(t, c.name, quietAt(New(w, 1), c.bearing), c.want)
	}
}

// Centre at (0, 3), radius 5: the line Y = 0 meets the circle at X = ±4 (3-4-5), the line X = 0
// at Y = 8 and Y = −2. The tip at dial zero stands at 4.
func TestThreeFourFiveAcross(t *testing.T) {
	for _, c := range []struct {
		name         string
		swing, reach float64
	}{{"reach inwards", 10, -6}, {"reach outwards", 3, 1}} {
		for _, touch := range []struct {
			name string
			bore bool
			sign float64 // of a wall that is nearer than the tip
		}{{"bore", true, 1}, {"boss", false, -1}} {
			w := plain(touch.bore, 5, c.swing, c.reach)
			w.Start.CentreY = 3
			m := New(w, 1)
			for _, at := range []struct{ bearing, wall float64 }{{0, 4}, {180, 4}, {90, 8}, {270, 2}} {
				wantNear(t, c.name+", "+touch.name, quietAt(m, at.bearing), touch.sign*(4-at.wall))
			}
		}
	}
}

// Right triangles with a ball. A ball of radius 1 round a pin of 0.5 runs on a circle of 1.5, in
// a bore of 6 on one of 5. "Ball of 1, pin of 0.5, 0.3 across: 70 µm" is worked by hand:
// (√(1.5² − 0.3²) − 1) − √(0.5² − 0.3²) = 0.469694 − 0.4; a ball of half that size makes 54 µm.
func TestBallTip(t *testing.T) {
	for _, c := range []struct {
		name                      string
		bore                      bool
		radius, ball, tip, across float64
		want                      float64
	}{
		{"pin, point", false, 0.5, 0, 0.5, 0.3, 0.4 - 0.5},
		{"pin, ball radius 1", false, 0.5, 2, 0.5, 0.3, math.Sqrt(2.16) - 1 - 0.5},
		{"pin, ball diameter 1", false, 0.5, 1, 0.5, 0.3, math.Sqrt(0.91) - 0.5 - 0.5},
		{"bore, 3-4-5 of the ball's centre", true, 6, 2, 6, 3, 6 - (4 + 1)},
		{"boss, 3-4-5 of the ball's centre", false, 4, 2, 4, 3, (4 - 1) - 4},
		{"concentric bore, ball of any size", true, 6, 3, 5.9, 0, -0.1},
		{"concentric boss, ball of any size", false, 6, 3, 5.9, 0, 0.1},
	} {
		w := plain(c.bore, c.radius, c.tip+10, -10)
		w.TipDiameter, w.Start.CentreY = c.ball, c.across
		wantNear(t, c.name, quietAt(New(w, 1), 0), c.want)
	}
	pin := func(ball float64) float64 {
		w := plain(false, 0.5, 10.5, -10)
		w.TipDiameter, w.Start.CentreY = ball, 0.3
		return New(w, 1).quiet()
	}
	if micrometres := 1000 * (pin(2) - pin(0)); math.Round(micrometres) != 70 {
		t.Errorf("a ball of radius 1 on a pin of 0.5, 0.3 across, makes %.2f µm, want 70 µm", micrometres)
	}
	if micrometres := 1000 * (pin(1) - pin(0)); math.Round(micrometres) != 54 {
		t.Errorf("a ball of diameter 1 on a pin of 0.5, 0.3 across, makes %.2f µm, want 54 µm", micrometres)
	}
}

// Whatever the place, a ball moved back from dial zero by the plunger's travel touches the metal:
// its centre is a ball radius from the wall. The place of the ball is put together here with
// sines and cosines only.
func TestBallTouchesMetalAnywhere(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	for range 500 {
		w := plain(chance.IntN(2) == 0, 5+25*chance.Float64(), 20+20*chance.Float64(), 20*chance.Float64()-10)
		w.TipDiameter = 4 * chance.Float64()
		w.LeverAngle = chance.Float64()
		w.OffsetMiss = 4 * chance.Float64()
		w.Start.CentreX, w.Start.CentreY = 2*chance.Float64()-1, 2*chance.Float64()-1
		degrees := 360 * chance.Float64()
		travel := quietAt(New(w, 1), degrees) * math.Cos(w.LeverAngle)

		fromAxis, distance := w.Start.Swing+w.Reach, w.ReferenceRadius
		if w.Bore {
			fromAxis -= w.TipDiameter/2 + travel
			distance -= w.TipDiameter / 2
		} else {
			fromAxis += w.TipDiameter/2 + travel
			distance += w.TipDiameter / 2
		}
		s, c := math.Sincos(degrees * math.Pi / 180)
		wantNear(t, "ball's centre from the reference's centre",
			math.Hypot(fromAxis*c-w.Start.CentreX, fromAxis*s-w.Start.CentreY), distance)
	}
}

// A lever at 60° to the surface shows twice what its tip does.
func TestLeverShowsMoreThanTravel(t *testing.T) {
	w := plain(true, 30, 42.1, -12)
	w.LeverAngle = math.Pi / 3
	wantNear(t, "needle", New(w, 1).quiet(), 0.2)
}

// A slide that misses the head axis by 12: at swing 13 the spindle is 5 along it (5-12-13), wound
// on by 4 it is 9 along and swings at 15 (9-12-15). The head standing still, the spindle then lies
// at −(atan 12/5 − atan 12/9): cosine 63/65, sine −16/65.
func TestSlideMissesHeadAxis(t *testing.T) {
	w := plain(true, 20, 13, 7)
	w.OffsetMiss = 12
	w.Start.CentreX, w.Start.CentreY = 63.0/65, -16.0/65
	m := New(w, 1)
	wantNear(t, "swing at the start", m.Truth().Swing, 13)
	m.Swing(0)
	wantNear(t, "needle at bearing 0", m.quiet(), 20-(63.0/65+math.Sqrt(400-16.0/65*16/65)))
	wind(t, m, "offset", true, 4)
	wantNear(t, "swing after winding 4", m.Truth().Swing, 15)
	wantNear(t, "needle along the centre, tip at 22, wall at 21", m.quiet(), 1)
	wantNear(t, "needle there, swung there", quietAt(m, 360-math.Atan2(16, 63)*180/math.Pi), 1)
	wantNear(t, "needle swung back to bearing 0", quietAt(m, 0), 22-(63.0/65+math.Sqrt(400-16.0/65*16/65)))

	w.OffsetMiss = -12 // the other side: the spindle swerves the other way
	w.Start.CentreY = 16.0 / 65
	m = New(w, 1)
	m.Swing(0)
	wind(t, m, "offset", true, 4)
	wantNear(t, "needle along the centre, other side", m.quiet(), 1)

	w.Start.Swing = 3 // cannot be had
	wantNear(t, "least swing", New(w, 1).Truth().Swing, 12)
}

// x and y carry the head over the work, so the reference is left behind; the swing is not touched.
func TestMachineSlidesMoveHead(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Start.CentreX, w.Start.CentreY = 0.5, -0.25
	m := New(w, 1)
	wind(t, m, "x", true, 0.2)
	wind(t, m, "y", false, 0.05)
	got := m.Truth()
	wantNear(t, "swing", got.Swing, 42)
	wantNear(t, "centre x", got.CentreX, 0.3)
	wantNear(t, "centre y", got.CentreY, -0.2)
	wantNear(t, "needle at 270°", quietAt(m, 270), 30-(0.2+math.Sqrt(900-0.09)))
	wind(t, m, "x", true, 0.3)
	wind(t, m, "y", false, 0.2)
	wind(t, m, "offset", true, 0.1)
	wantNear(t, "needle when all is true but the swing", quietAt(m, 123), 0.1)
}

// A line that passes the reference by is all metal in a ring's plate and all air beside a plug.
func TestLineBesideReference(t *testing.T) {
	for _, c := range []struct {
		bore      bool
		tip, away float64
		want      string
		infinity  int
	}{
		{true, 0, 40, Pressed, 1},
		{false, 0, 40, Free, -1},
		{true, 70, 0, Pressed, 1}, // a ball that does not go into the bore
	} {
		w := plain(c.bore, 30, 42, -12)
		w.TipDiameter, w.Start.CentreY = c.tip, c.away
		m := New(w, 1)
		m.Swing(0)
		if got := m.quiet(); !math.IsInf(got, c.infinity) {
			t.Errorf("bore %v: needle %g, want infinity of sign %d", c.bore, got, c.infinity)
		}
		w.RangeFrom, w.RangeTo = -0.8, 0.8
		for _, w := range []World{w, plainDial(w)} {
			m = New(w, 1)
			if got := m.Dial(); got != (Needle{Off: c.want}) {
				t.Errorf("bore %v: dial %+v, want %q", c.bore, got, c.want)
			}
		}
	}
}

// plainDial takes the ends off the dial and has it read in steps.
func plainDial(w World) World {
	w.RangeFrom, w.RangeTo, w.Graduation, w.ReadsTo = 0, 0, 0.01, 0.2
	return w
}

// A bearing that is no number leaves the head where it is.
func TestSwingToNoNumber(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Start.CentreX = 0.2
	m := New(w, 1)
	for _, b := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		m.Swing(geom.Bearing(b))
		wantNear(t, "needle at bearing 0", m.quiet(), -0.2)
	}
}
