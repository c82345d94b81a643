package setup_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// A readout of 0.001 that was read before and after the wind leaves a rectangle 0.001 wide twice (√12); one that a hand
// went by, 0.001 either way behind it (√3), and its lock, which may move it by 0.02 either way (√3): after a coordinate
// that was read, the lock has moved it already.
func TestSetOffDoubt(t *testing.T) {
	read, gone, lock := 0.001/math.Sqrt(12), 0.001/math.Sqrt(3), 0.02/math.Sqrt(3)
	for _, c := range []struct {
		name                string
		readout, lock, told bool
		want                float64
	}{
		{"read", true, false, true, math.Hypot(read, read)},
		{"gone to", true, false, false, math.Hypot(read, gone)},
		{"locked and read", true, true, true, math.Hypot(read, read)},
		{"gone to and locked", true, true, false, math.Hypot(math.Hypot(read, gone), lock)},
	} {
		b := benchOf(carriedSetup, offByX)
		sl := &b.Machine.Slides[0]
		sl.Readout, sl.Step, sl.Lock = c.readout, 0.001, c.lock
		b.Stands = []setup.Stand{{Known: true, At: 10}}
		w := &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 42}, SetOff: true}
		var at *float64
		want := 42.0
		if c.told { // stopped 0.003 beside
			at, want = new(float64), 42.003
			*at = 52.003
		}
		offs, ok := setup.Of(b.Job).Wound(b, w, at)
		o := offs[0]
		if !ok || o.Winds != 1 || math.Abs(o.Travel-want) > 1e-9 || math.Abs(o.Doubt-c.want) > 1e-12 {
			t.Errorf("%s: %+v (%v), want %v ±%v", c.name, o, ok, want, c.want)
		}
	}
}

// Winds off the axis add up, and only those that set off are taken in; no other set-up has any.
func TestWoundApart(t *testing.T) {
	for _, c := range []struct {
		name  string
		setup indicator.Setup
		off   *setup.SetOff
	}{{"carried", carriedSetup, nil}, {"turned", turnedSetup, nil}, {"taps", tappedSetup, nil}, {"points", pointsSetup,
		nil},
		{"set off", carriedSetup, offByX}} {
		b := benchOf(c.setup, c.off)
		b.Off = setup.Offs{{Winds: 1, Travel: 41.9, Doubt: 0.003}}
		u := setup.Of(b.Job)
		if o, ok := u.Wound(b, &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 0.1}}, nil); ok {
			t.Errorf("%s: %+v of a wind that does not set off", c.name, o)
		}
		offs, ok := u.Wound(b, &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 0.1}, SetOff: true}, nil)
		o := offs[0]
		if ok != (c.off != nil) || (ok && (o.Winds != 2 || math.Abs(o.Travel-42) > 1e-9 || !(o.Doubt > 0.003))) {
			t.Errorf("%s: %+v (%v), want 42 after two winds where a slide sets off", c.name, o, ok)
		}
	}
}

// A slide that stands 41.9 off by its readout of 51.9 and is sent 0.1 further stops at 52.003: 42.003 off.
func TestSetOffAgain(t *testing.T) {
	b := benchOf(carriedSetup, offByX)
	b.Machine.Slides[0].Readout = true
	b.Stands, b.Off = []setup.Stand{{Known: true, At: 51.9}}, setup.Offs{{Winds: 1, Travel: 41.9}}
	at := 52.003
	offs, ok := setup.Of(b.Job).Wound(b, &setup.Wind{Wind: slide.Wind{Slide: "x", Travel: 0.1}, SetOff: true}, &at)
	o := offs[0]
	if !ok || o.Winds != 2 || math.Abs(o.Travel-42.003) > 1e-9 {
		t.Errorf("%+v (%v), want 42.003 after two winds", o, ok)
	}
}

// bore is a touched bore, its centre at 10, 20, seen by a tip whose middle runs at 27.
type bore struct{}

// Round: see [setup.Taken].
func (bore) Round(float64, int) (r setup.Round) {
	for i := range 6 {
		u := geom.FromDegrees(60 * float64(i)).Unit()
		off := 27 + []float64{0.001, -0.001, 0.001, -0.001, 0.001, -0.001}[i]
		r.At = append(r.At, geom.Point{X: 10 + off*u.X, Y: 20 + off*u.Y})
	}
	return r
}

// The spindle stands at 9.7, 20.2 and the bore's middle is at 10, 20: X goes up by 0.3, and behind it Y down by 0.2.
func TestPointsGoHome(t *testing.T) {
	s := pointsSetup
	s.TipDiameter = 6
	b := benchOf(s, nil)
	b.Sweep = bore{}
	b.Stands = []setup.Stand{{Known: true, At: 9.7}, {Known: true, At: 20.2}}
	u := setup.Of(b.Job)
	for _, want := range []struct {
		slide string
		by    float64
	}{{"x", 0.3}, {"y", -0.2}} {
		n := u.Next(b, nil)
		if n.Wind == nil || n.Wind.Wind.Slide != want.slide || math.Abs(n.Wind.Wind.Travel-want.by) > 1e-6 {
			t.Fatalf("%+v, want %s by %v", n, want.slide, want.by)
		}
		if want.slide == "x" {
			b.Stands[0].At = 10
			b.Winds = &setup.Done{Wind: n.Wind.Wind}
		}
	}
}

// A spindle that has gone to a touched centre by its collar stands somewhere within the play, ±0.1 (√3), a fiftieth of its way beside
// what the collar says, and as a hand sets that, two tenths of 0.02; where its readout was read it stands there, to 0.002 (√12). With six
// points, and a repeatability worth eight, Student's t is 2.201 on eleven degrees of freedom (any table).
func TestPointsByCollarLeavePlay(t *testing.T) {
	const t11 = 2.200985
	s := pointsSetup
	s.TipDiameter = 6
	b := benchOf(s, nil)
	b.Sweep = bore{}
	b.Stands = []setup.Stand{{Known: true, At: 9.9}, {Known: true, At: 20.2}}
	b.Machine.Slides[0].Backlash = 0.1
	u := setup.Of(b.Job)
	read, ok := u.Standing(b, nil)
	b.Winds = &setup.Done{Wind: slide.Wind{Slide: "x", Travel: 0.3}}
	gone, also := u.Standing(b, nil)
	if !ok || !also {
		t.Fatal("nobody knows where the spindle stands")
	}
	step := 0.002 / math.Sqrt(12)
	doubt := math.Hypot(math.Hypot(0.3/50, 0.004), 0.1/math.Sqrt(3))
	more := gone.CentreX().U*gone.CentreX().U - read.CentreX().U*read.CentreX().U
	if want := t11 * t11 * (doubt*doubt - step*step); math.Abs(more/want-1) > 1e-5 {
		t.Errorf("by the collar its square is %v larger, want %v", more, want)
	}
	if gone.CentreY().U != read.CentreY().U {
		t.Errorf("Y, which was not wound, is known to %v and then to %v", read.CentreY().U, gone.CentreY().U)
	}
}

// Where a slide sets the swing radius off the axis, the radius leans on all that the place of the axis leans on, and as hard: an error of
// the dial that puts the axis aside puts the radius out. "Inside" is held back where less than 0.005 is left for that.
func TestSetOffLeansOnTheAxis(t *testing.T) {
	b := benchOf(carriedSetup, offByX)
	b.Setup.Reach, b.Setup.ReachKnown = 0, false // a sweep says nothing of the radius
	b.Job.Setup, b.Holds, b.Stated = b.Setup, true, indicator.Stated{indicator.OfForm}
	f := sweepOf(t, b, geom.Point{}, 42)
	u := setup.Of(b.Job)
	a := u.Assumed(b, f)
	if len(a) != 1 || a[0].Name != indicator.OfDial || a[0].Radius != 1 || a[0].Centre != 1 {
		t.Fatalf("leans on %+v, want the dial, whole, in both", a)
	}
	b.Off[0] = setup.Off{Winds: 1, Travel: 42, Doubt: 0.001}
	r, ok := u.Swing(b, f)
	if !ok || math.Abs(r.V-42) > 1e-9 {
		t.Fatalf("%+v (%v), want 42", r, ok)
	}
	for _, c := range []struct {
		room float64
		want indicator.Verdict
	}{{0.0051, indicator.Inside}, {0.0049, indicator.Undecided}} {
		b.Target.Tolerance = r.U + c.room
		if room := u.Room(b, f).Radius; math.Abs(room-c.room) > 1e-9 {
			t.Errorf("room of %v, want %v", room, c.room)
		}
		if v := u.Verdicts(b, f).Radius; v != c.want {
			t.Errorf("%v of room for the dial: %v, want %v", c.room, v, c.want)
		}
	}
}

// A slide that passes the head axis at h has the spindle stand asin(h/R) further round than the ring says. To whoever counts bearings by
// the ring, a cross slide then goes as if it were turned back by that. By vectors: the spindle that the ring has at 0° truly points δ
// further, so that the true X is −δ by the ring.
func TestMissTurnsTheSlides(t *testing.T) {
	for _, miss := range []float64{0.5, -0.5} {
		b := benchOf(carriedSetup, nil)
		b.Machine.Miss = miss
		delta := math.Asin(miss / 42)
		cross := b.Cross()
		f := sweepOf(t, b, geom.Point{}, 42)
		for i, way := range []geom.Point{{X: math.Cos(delta), Y: -math.Sin(delta)}, {X: math.Sin(delta), Y: math.Cos(delta)}} {
			if off := cross.Unit(i).Sub(way).Norm(); off > 1e-12 {
				t.Errorf("miss %v: slide %d goes along %v by the ring, want %v", miss, i, cross.Unit(i), way)
			}
			g, ok := setup.Of(b.Job).After(b, *f, &setup.Done{Wind: slide.Wind{Slide: cross.Names[i], Travel: 1}}, &cross)
			if moved := g.Circle.Centre.Sub(f.Circle.Centre); !ok || moved.Add(way).Norm() > 1e-9 { // the axis goes, the centre stays
				t.Errorf("miss %v: a millimetre of %s moves the centre by %v as seen, want %v back", miss, cross.Names[i], moved, way)
			}
		}
		b.Job.Setup.Kind, b.Setup.Kind = indicator.Turned, indicator.Turned // a table's bearings are no head's
		if turned := b.Cross(); turned.Askew != [2]float64{} {
			t.Errorf("on a table the slides are askew by %v, want not at all", turned.Askew)
		}
	}
}

// An obstacle that goes on over the bearing at which the sweep begins is one there too: 40° of it, from 340° on to 20°, leave 320° of a
// round, and no station, mark or middle lies in it, wherever the round begins.
func TestObstacleOverTheBeginning(t *testing.T) {
	for _, from := range []float64{0, 10, 90, 350} {
		s := setup.Sweep{Stations: 5, From: geom.FromDegrees(from), To: geom.FromDegrees(from + 360),
			Obstacles: []setup.Obstacle{{From: geom.FromDegrees(340), To: geom.FromDegrees(380)}}}
		if left := geom.Bearing(s.Left()).Degrees(); math.Abs(left-320) > 1e-9 {
			t.Errorf("from %v°: %v° are left, want 320", from, left)
		}
		inside := func(b geom.Bearing) bool { // by more than a hair of its ends
			at := math.Mod(b.Degrees()+720, 360)
			return at > 340+1e-6 || at < 20-1e-6
		}
		for i := range 5 {
			if b := s.Bearing(i); inside(b) {
				t.Errorf("from %v°: station %d stands at %v°, in the obstacle", from, i+1, b.Degrees360())
			}
		}
		for b := range s.Marks(15 * geom.Degree) {
			if inside(b) {
				t.Errorf("from %v°: a mark at %v°, in the obstacle", from, b.Degrees360())
			}
		}
	}
}

// A point that would lie on the circle of the others with the sign of its x, or of its y, turned is named so; one that would not is not.
// Of a bore of 30 about (50, 40) the fifth point is (50 + 18, 40 + 24).
func TestSignOfAPointTurned(t *testing.T) {
	b := benchOf(pointsSetup, nil)
	var at []geom.Point
	for _, deg := range []float64{10, 80, 150, 230, 300} {
		at = append(at, geom.Point{X: 50, Y: 40}.Along(geom.FromDegrees(deg), 30))
	}
	others := setup.Entries{Sweep: touchedAt(at)}
	for _, c := range []struct {
		p    geom.Point
		want indicator.Cause
	}{{geom.Point{X: -68, Y: 64}, indicator.SignTurned}, {geom.Point{X: 68, Y: -64}, indicator.SignTurned},
		{geom.Point{X: -68, Y: -64}, indicator.UnknownCause}, {geom.Point{X: 69, Y: 64}, indicator.UnknownCause}, {geom.Point{X: 68, Y: 64}, ""}} {
		j := setup.Of(b.Job).Entered(b.Job, others, setup.Entry{At: c.p}, setup.Expected{})
		if j.Because != c.want || j.Surprise != (c.want != "") {
			t.Errorf("%v: a surprise %v, because %q, want %q", c.p, j.Surprise, j.Because, c.want)
		}
	}
}

// touchedAt are points that were touched.
type touchedAt []geom.Point

// Round is all of them.
func (p touchedAt) Round(float64, int) setup.Round { return setup.Round{At: p} }
