package setup_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// five is a machine with every slide that a set-up may ask for: 2 mm a turn in 100 divisions, so that a hand sets
// 0.002.
func five() *setup.Machine {
	m := &setup.Machine{}
	for _, name := range []string{"x", "y", "table_x", "table_y", "offset"} {
		m.Slides = append(m.Slides, slide.Slide{Name: name, TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase,
			TakeUp: slide.Increase, Figures: slide.Clockwise})
	}
	return m
}

// benchOf is a bench before its first wind, for a job that wants 42 to 0.02 over a centre to 0.02.
func benchOf(s indicator.Setup, off *setup.SetOff) *setup.Bench {
	s.ReferenceRadius, s.Reach, s.ReachKnown = 30, -12, s.Kind != indicator.Points
	j := &setup.Job{Setup: s, Target: setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.02, SetOff: off},
		Dial:  indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, From: -0.8, To: 0.8, Repeatability: 0.002},
		Sweep: setup.Sweep{Stations: 8, To: geom.FromDegrees(360)}}
	if s.Kind == indicator.Points {
		j.Target.SwingRadius = 0
	}
	return &setup.Bench{Job: j, Machine: five(), Setup: s, Target: j.Target, First: true, Tail: indicator.FixedTail}
}

// sweepOf is the fit of eight stations of a bore of 30 whose centre lies at e, where the tip runs at zero in it: the
// wall lies at the positive root of |d·u − e| = 30, and a nearer one presses the tip. With the tip zeroed at r − 12 the
// swing radius is r.
func sweepOf(t *testing.T, b *setup.Bench, e geom.Point, r float64) *indicator.Estimate {
	t.Helper()
	var at []geom.Bearing
	var readings []float64
	for i := range 8 {
		u := geom.FromDegrees(45 * float64(i)).Unit()
		across := e.Y*u.X - e.X*u.Y
		at = append(at, geom.FromDegrees(45*float64(i)))
		readings = append(readings, r-12-(e.X*u.X+e.Y*u.Y+math.Sqrt(30*30-across*across)))
	}
	f, err := indicator.Fit(b.Job.Dial, b.Setup, at, readings)
	if err != nil {
		t.Fatal(err)
	}
	return &f
}

var (
	carriedSetup = indicator.Setup{Kind: indicator.Carried}
	turnedSetup  = indicator.Setup{Kind: indicator.Turned}
	tappedSetup  = indicator.Setup{Kind: indicator.Turned, Taps: true}
	pointsSetup  = indicator.Setup{Kind: indicator.Points}
	offByX       = &setup.SetOff{Slide: "x", Way: slide.Increase}
)

// The centre lies 0.3 to the right of the axis and 0.2 towards the operator, the radius is 0.1 too large. The spindle
// goes to the centre, by +0.3 and −0.2; a table carries the centre to the axis, by −0.3 and +0.2; the offset slide goes
// in by 0.1. Where work is tapped no cross slide is asked, where a slide sets the radius off no offset slide is.
func TestTasksCure(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup indicator.Setup
		off   *setup.SetOff
		want  map[string]float64
	}{
		{"carried", carriedSetup, nil, map[string]float64{"x": 0.3, "y": -0.2, "offset": -0.1}},
		{"turned", turnedSetup, nil, map[string]float64{"table_x": -0.3, "table_y": 0.2, "offset": -0.1}},
		{"taps", tappedSetup, nil, map[string]float64{"offset": -0.1}},
		{"set off", carriedSetup, offByX, map[string]float64{"x": 0.3, "y": -0.2}},
	} {
		b := benchOf(c.setup, c.off)
		f := sweepOf(t, b, geom.Point{X: 0.3, Y: -0.2}, 42.1)
		all := b.Tasks(f, indicator.Verdicts{Radius: indicator.Inside, Centre: indicator.Outside})
		if len(all) != len(c.want) {
			t.Errorf("%s: %d tasks, want %d", c.name, len(all), len(c.want))
		}
		for _, e := range all {
			verdict := indicator.Outside
			if e.Slide.Name == "offset" {
				verdict = indicator.Inside
			}
			if want := c.want[e.Slide.Name]; math.Abs(e.Travel.V-want) > 1e-6 || e.Half != 0.01 || e.Verdict != verdict {
				t.Errorf("%s: %s %+v, want %v, half of 0.02, and verdict %v", c.name, e.Slide.Name, e, want, verdict)
			}
		}
	}
}

// After a wind of 0.1 the spindle has gone to it and the centre the other way, or the table has taken the centre along;
// the offset slide makes the radius grow. A slide of the other set-up does nothing.
func TestAfterWind(t *testing.T) {
	for _, c := range []struct {
		name, slide string
		setup       indicator.Setup
		x, y, r     float64
		ok          bool
	}{
		{"carried", "x", carriedSetup, -0.1, 0, 0, true}, {"carried", "y", carriedSetup, 0, -0.1, 0, true},
		{"carried", "offset", carriedSetup, 0, 0, 0.1, true}, {"carried", "table_x", carriedSetup, 0, 0, 0, false},
		{"turned", "table_x", turnedSetup, 0.1, 0, 0, true}, {"turned", "table_y", turnedSetup, 0, 0.1, 0, true},
		{"turned", "offset", turnedSetup, 0, 0, 0.1, true}, {"turned", "x", turnedSetup, 0, 0, 0, false},
	} {
		b := benchOf(c.setup, nil)
		f := sweepOf(t, b, geom.Point{X: 0.3, Y: -0.2}, 42.1)
		cross := b.Cross()
		g, ok := setup.Of(b.Job).After(b, *f, &setup.Done{Wind: slide.Wind{Slide: c.slide, Travel: 0.1}}, &cross)
		moved := g.Circle.Centre.Sub(f.Circle.Centre)
		if ok != c.ok || math.Hypot(moved.X-c.x, moved.Y-c.y) > 1e-9 || math.Abs(g.Swing().V-f.Swing().V-c.r) > 1e-9 {
			t.Errorf("%s, %s: centre by %v, radius by %v (%v), want (%v, %v), %v (%v)",
				c.name, c.slide, moved, g.Swing().V-f.Swing().V, ok, c.x, c.y, c.r, c.ok)
		}
	}
}

// The swing radius is what the sweep shows, and none where a slide is still to carry the spindle off by it, or where
// the circle is touched.
func TestSwingStands(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup indicator.Setup
		off   *setup.SetOff
		known bool
	}{{"carried", carriedSetup, nil, true}, {"turned", turnedSetup, nil, true}, {"taps", tappedSetup, nil, true},
		{"points", pointsSetup, nil, false}, {"set off", carriedSetup, offByX, false}} {
		b := benchOf(c.setup, c.off)
		f := sweepOf(t, benchOf(carriedSetup, nil), geom.Point{X: 0.3, Y: -0.2}, 42.1)
		f.Setup.ReachKnown = b.Setup.ReachKnown
		r, ok := setup.Of(b.Job).Swing(b, f)
		if ok != c.known || (ok && (math.Abs(r.V-42.1) > 1e-6 || r.Off)) {
			t.Errorf("%s: swing %+v (%v), want 42.1 (%v)", c.name, r, ok, c.known)
		}
	}
}

// The work is driven from its far side: knocked where the centre stands out, so that it goes back to the axis by as
// much.
func TestTapDrivesHome(t *testing.T) {
	for _, deg := range []float64{0, 90, 225, 315} {
		b := benchOf(tappedSetup, nil)
		e := geom.FromDegrees(deg).Unit().Times(0.3)
		f := sweepOf(t, b, e, 42)
		n := setup.Of(b.Job).Next(b, f)
		if n.Wind == nil || n.Wind.Tap == nil || n.Wind.Park == nil {
			t.Fatalf("centre at %v°: %+v, want a tap", deg, n)
		}
		tap, park := n.Wind.Tap, n.Wind.Park
		if tap.Side.Apart(geom.FromDegrees(deg)) > 1e-9 || math.Abs(n.Wind.Wind.Travel-0.3) > 1e-6 {
			t.Errorf("centre at %v°: tapped at %v° by %v, want there by 0.3", deg, tap.Side.Degrees360(), n.Wind.Wind.Travel)
		}
		if tap.Towards != (park.Bearing.Apart(tap.Side) > math.Pi/2) {
			t.Errorf("tapped at %v°, indicator at %v°: towards it %v", tap.Side.Degrees360(), park.Bearing.Degrees360(),
				tap.Towards)
		}
		if want := advice.LeastAct; math.Abs(park.Act) < want {
			t.Errorf("parked where the work moves the needle by %v, want at least %v", park.Act, want)
		}
	}
}

// What the needle showed at the end of a wind, before somebody turned the bezel by 0.1, is put into today's figures: the circle stands
// where the wall was met, 0.02 farther than the slide was sent.
func TestAfterWindBeforeTheBezel(t *testing.T) {
	for _, by := range []float64{0.1, -0.25} {
		b := benchOf(carriedSetup, nil)
		f := sweepOf(t, b, geom.Point{X: 0.3, Y: -0.2}, 42)
		went := 0.32
		at := geom.Point{X: 0.3 - went, Y: -0.2}
		showed := 30 - (at.X + math.Sqrt(30*30-at.Y*at.Y)) // at 0°, in the figures of then
		now := f.Rezeroed(by)
		b.Setup, b.Bezel = b.Setup.Rezeroed(b.Job.Dial, by), by
		cross := b.Cross()
		park := &advice.Park{Bearing: 0, Now: 30 - wall30(geom.Point{X: 0.3, Y: -0.2}), Goal: 30 - wall30(geom.Point{Y: -0.2}), Act: 1}
		g, ok := setup.Of(b.Job).After(b, now, &setup.Done{Wind: slide.Wind{Slide: "x", Travel: 0.3}, Park: park, Reading: &showed}, &cross)
		if !ok || math.Abs(g.Circle.Centre.X-at.X) > 0.001 || math.Abs(g.Circle.Centre.Y-at.Y) > 0.001 {
			t.Errorf("bezel by %v: the centre stands at %v (%v), want %v", by, g.Circle.Centre, ok, at)
		}
	}
}

// wall30 is where a ray at 0° meets a bore of 30 whose centre lies at e.
func wall30(e geom.Point) float64 { return e.X + math.Sqrt(30*30-e.Y*e.Y) }
