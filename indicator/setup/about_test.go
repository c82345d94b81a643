package setup_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// aboutBench is a bench whose arc stands (30, −40) on the drawing away from what is swept; the drawing's X lies at a bearing of the
// slides' frame, and both slides have readouts that stand at 100.
func aboutBench(s indicator.Setup, angle float64) *setup.Bench {
	b := benchOf(s, nil)
	b.Job.About = &setup.About{Reference: geom.Point{X: 10, Y: 20}, Centre: geom.Point{X: 40, Y: -20}, Angle: geom.FromDegrees(angle),
		AngleLimit: 1e-4, SquarePer100: 0.01}
	b.Stated = indicator.Stated{indicator.OfAngle, indicator.OfSlides, indicator.OfSquare}
	for i := range b.Machine.Slides {
		b.Machine.Slides[i].Readout, b.Machine.Slides[i].Step = true, 0.001
		b.Stands = append(b.Stands, setup.Stand{Known: true, At: 100})
	}
	return b
}

// goes plays the winds off the reference, each stopped where it was told to within what beside says, and returns how far each
// slide has gone.
func goes(t *testing.T, b *setup.Bench, f *indicator.Estimate, beside float64) map[string]float64 {
	t.Helper()
	u, gone := setup.Of(b.Job), map[string]float64{}
	for range 6 {
		n := u.Next(b, f)
		if n.Wind == nil {
			return gone
		}
		if !n.Wind.SetOff || n.Wind.Back || !u.GoesTo(b, n.Wind) {
			t.Fatalf("%+v, want a wind off the reference, to a coordinate", n.Wind)
		}
		by := n.Wind.Wind.Travel + beside
		at := b.Stand(n.Wind.Wind.Slide).At + by
		off, ok := u.Wound(b, n.Wind, &at)
		if !ok {
			t.Fatalf("%+v belongs to no trial, and is not taken in", n.Wind)
		}
		b.Off = off
		b.Stands[b.Machine.Slot(n.Wind.Wind.Slide, len(b.Stands))].At = at
		gone[n.Wind.Wind.Slide] += by
	}
	t.Fatal("it goes on and on")
	return nil
}

// The bore lies (0.004, −0.003) off the axis. With the drawing along the slides the spindle goes by its distance and by that; a
// quarter turn makes (40, 30) of (30, −40), half a turn (−30, 40). Slides on a table carry the work the other way. A y that leans
// back by 30° from square moves (−½, √3/2): what that takes along X, x has to give back.
func TestAboutGoes(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup indicator.Setup
		angle float64
		lean  float64
		x, y  float64
	}{
		{"carried", carriedSetup, 0, 0, 30.004, -40.003},
		{"carried, a quarter turn", carriedSetup, 90, 0, 40.004, 29.997},
		{"carried, half a turn", carriedSetup, 180, 0, -29.996, 39.997},
		{"carried, turned back", carriedSetup, -90, 0, -39.996, -30.003},
		{"turned", turnedSetup, 0, 0, -30.004, 40.003},
		{"turned, a quarter turn", turnedSetup, 90, 0, -40.004, -29.997},
		{"carried, y aslant", carriedSetup, 0, 30, 30.004 - 40.003/math.Sqrt(3), -40.003 * 2 / math.Sqrt(3)},
	} {
		b := aboutBench(c.setup, c.angle)
		names := [2]string{"x", "y"}
		if c.setup.Kind == indicator.Turned {
			names = [2]string{"table_x", "table_y"}
		}
		b.Machine.Slides[b.Machine.Slot(names[1], 9)].Askew = float64(geom.FromDegrees(c.lean))
		f := sweepOf(t, b, geom.Point{X: 0.004, Y: -0.003}, 42)
		gone := goes(t, b, f, 0)
		if math.Abs(gone[names[0]]-c.x) > 1e-5 || math.Abs(gone[names[1]]-c.y) > 1e-5 {
			t.Errorf("%s: gone %v, want %.4f and %.4f", c.name, gone, c.x, c.y)
		}
		u := setup.Of(b.Job)
		g, ok := u.Standing(b, f)
		if !ok || g.Circle.Centre.Norm() > 1e-5 {
			t.Errorf("%s: the arc's centre is told %v off the axis (%v), want it over it", c.name, g.Circle.Centre, ok)
		}
		if v := u.Verdicts(b, f); v.Centre != indicator.Inside || v.Radius != indicator.Inside {
			t.Errorf("%s: %v, want both inside", c.name, v)
		}
		for left := 2; left > 0; left-- {
			home, some := u.Back(b)
			if !some || !home.Back || home.Of != left || math.Abs(home.Wind.Travel+gone[home.Wind.Slide]) > 1e-9 {
				t.Fatalf("%s: back by %+v (%v), want what it has gone", c.name, home, some)
			}
			if b.Off, some = u.Wound(b, &home, nil); !some {
				t.Fatalf("%s: %+v is not taken in", c.name, home)
			}
		}
		if home, some := u.Back(b); some || b.Off != (setup.Offs{}) {
			t.Errorf("%s: still to go back by %+v", c.name, home)
		}
	}
}

// What is stopped short is seen in the centre, each slide for itself: 0.002 short of (30, −40) along both leaves the arc's centre
// at (0.002, 0.002), seen from a spindle that follows, and slides on a table leave it at (−0.002, −0.002).
func TestAboutStopsBeside(t *testing.T) {
	for _, c := range []struct {
		setup indicator.Setup
		want  float64
	}{{carriedSetup, 0.002}, {turnedSetup, -0.002}} {
		b := aboutBench(c.setup, 0)
		f := sweepOf(t, b, geom.Point{}, 42)
		goes(t, b, f, -0.002)
		g, _ := setup.Of(b.Job).Standing(b, f)
		if e := g.Circle.Centre; math.Abs(e.X-c.want) > 1e-6 || math.Abs(e.Y-c.want) > 1e-6 {
			t.Errorf("%v: the arc's centre is told at %v, want %v along both", c.setup.Kind, e, c.want)
		}
	}
}

// The parts of the doubt by hand, U of 1.96 each: a readout of 0.001 read before and behind leaves 0.001/√12 twice for each of
// two slides; 0.0001 rad over 50 is 0.005, and 0.01 over 100 on 40 of y 0.004, limits both, so of 1/√3. Together with the sweep
// they are the centre's in the direction across the way, but for what lies along it.
func TestAboutBudget(t *testing.T) {
	b := aboutBench(carriedSetup, 0)
	f := sweepOf(t, b, geom.Point{}, 42)
	u := setup.Of(b.Job)
	if a, ok := u.Away(b, f); ok {
		t.Errorf("%+v before it has gone anywhere", a)
	}
	goes(t, b, f, 0)
	a, ok := u.Away(b, f)
	const z = 1.959964
	slides, turned, square := z*0.001*math.Sqrt(4.0/12), z*0.005/math.Sqrt(3), z*0.004/math.Sqrt(3)
	if !ok || a.Way != 50 || math.Abs(a.Slides-slides) > 1e-7 || math.Abs(a.Turned-turned) > 1e-7 || math.Abs(a.Square-square) > 1e-7 {
		t.Errorf("%+v (%v), want a way of 50, slides %v, angle %v, square %v", a, ok, slides, turned, square)
	}
	if from := a.From; from == nil || from.Sub(geom.Point{X: 100, Y: 100}).Norm() > 1e-9 {
		t.Errorf("swept at %v, want 100, 100", from)
	}
	// Across the way, along (4, 3)/5, stand the whole turn and four fifths of what is out of square, which lies along X.
	g, _ := u.Standing(b, f)
	across := geom.Point{X: 0.8, Y: 0.6}
	sweep := f.Part(across).U / z
	sd := math.Sqrt(sweep*sweep + 2*0.001*0.001/12 + 0.005*0.005/3 + 0.8*0.8*0.004*0.004/3)
	if got := g.Part(across).U; got < z*sd*0.999 || got > 1.25*z*sd { // by Student's t of few readings it is somewhat more
		t.Errorf("across the way it is known to %v, want %v or a little more", got, z*sd)
	}
	if v, w := g.Swing(), f.Swing(); v != w {
		t.Errorf("the swing radius is %v behind the way and %v ahead of it, want the same", v, w)
	}
}

// What nobody states is named, in the order in which it matters, and holds "inside" back where no room is left; a screw goes by
// the limit that is taken of screws, and is named only where a readout stands in its place.
func TestAboutAssumed(t *testing.T) {
	b := aboutBench(carriedSetup, 0)
	b.Holds, b.Stated = true, indicator.Stated{indicator.OfDial, indicator.OfForm, indicator.OfReach, indicator.OfReference}
	f := sweepOf(t, b, geom.Point{}, 42)
	u := setup.Of(b.Job)
	if a := u.Assumed(b, f); len(a) != 0 {
		t.Errorf("%v before it has gone anywhere, want nothing", a.Names())
	}
	goes(t, b, f, 0)
	names := func() []string { a := u.Assumed(b, f); return a.Names() }
	if got := names(); len(got) != 3 || got[0] != "angle" || got[1] != "slides" || got[2] != "square" {
		t.Errorf("assumed %v, want angle, slides and square", got)
	}
	g, _ := u.Standing(b, f)
	if room := u.Room(b, f).Centre; math.Abs(room-(0.02-g.OffAtMost().V-g.OffAtMost().U)) > 1e-12 {
		t.Errorf("room of %v, want what the tolerance leaves", room)
	}
	b.Target.CentreTolerance = g.OffAtMost().V + g.OffAtMost().U + 0.004
	if v := u.Verdicts(b, f); v.Centre != indicator.Undecided {
		t.Errorf("%v with 4 µm of room for what is assumed, want undecided", v.Centre)
	}
	for i := range b.Machine.Slides {
		b.Machine.Slides[i].Readout = false
	}
	if got := names(); len(got) != 2 || got[1] != "square" {
		t.Errorf("by screws %v is assumed, want angle and square", got)
	}
}

// A readout's scale that is stated within 0.01 over 100 adds 0.003 over 30, a limit.
func TestAboutScale(t *testing.T) {
	b := aboutBench(carriedSetup, 0)
	b.Job.About.SlidePer100 = 0.01
	at := 130.0
	off, ok := setup.Of(b.Job).Wound(b, &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 30}, SetOff: true}, &at)
	if want := math.Hypot(0.001*math.Sqrt(2.0/12), 0.003/math.Sqrt(3)); !ok || math.Abs(off[0].Doubt-want) > 1e-12 {
		t.Errorf("%+v (%v), want %v", off[0], ok, want)
	}
}

// By a collar a stated limit of the screw counts over the way, with what the hand leaves at both ends, 0.004 of a division of 0.02;
// where nobody states it, it is what is taken of screws, 0.3 %, and far more.
func TestAboutByCollar(t *testing.T) {
	for _, stated := range []bool{true, false} {
		b := aboutBench(carriedSetup, 0)
		b.Job.About.SlidePer100 = 0.02
		if !stated {
			b.Stated, b.Job.About.SlidePer100 = indicator.Stated{indicator.OfAngle}, 0
		}
		for i := range b.Machine.Slides {
			b.Machine.Slides[i].Readout = false
		}
		u := setup.Of(b.Job)
		off, ok := u.Wound(b, &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 30}, SetOff: true}, nil)
		want, most := math.Hypot(0.006/math.Sqrt(3), 0.004*math.Sqrt2), 1e-9
		if !stated {
			want, most = 0.09/math.Sqrt(3), 0.01
		}
		if !ok || math.Abs(off[0].Doubt-want) > most {
			t.Errorf("stated %v: %+v (%v), want %v", stated, off[0], ok, want)
		}
	}
}
