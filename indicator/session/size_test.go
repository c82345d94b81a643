package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// pointsOn opens a session of so many points on a bore that is stated as 30, changed.
func pointsOn(t testing.TB, stations int, change func(*session.Opened)) *player {
	t.Helper()
	job := strings.Replace(pointsJob, "tip_diameter", "reference_radius = 30\ntip_diameter", 1)
	o := testdata.Setting(t, []byte(job), []byte(pointsMachine))
	o.Job.Sweep.Stations, o.Job.Sweep.AtLeast = stations, stations
	if change != nil {
		change(&o)
	}
	return open(t, o, nil)
}

// touchAll touches a true bore of 30 at all stations; the one with the number slip (from 1) is mistyped: 0 for none.
func (p *player) touchAll(slip int) *player {
	p.t.Helper()
	for p.prompt().Waits == session.ForReading {
		q := p.prompt().Reading
		if q.Again {
			return p
		}
		at := on(middle, q.Bearing, 0)
		if q.Station == slip { // 12.34 read as 21.34: two figures have changed places
			at.X += 9
		}
		p.do(session.TouchPoint{At: at})
	}
	return p
}

// One of three points is mistyped: they have a circle all the same, and no doubt of it. The radius contradicts the stated one,
// and nothing is wound until that is answered: no single point can be named, any may be touched again.
func TestThreePointsContradict(t *testing.T) {
	p := pointsOn(t, 3, nil).touchAll(2)
	q := p.prompt()
	want := []session.SizeAnswer{{Station: 1}, {Station: 2}, {Station: 3}, {Keep: true}, {}}
	if q.Waits != session.ForSize || q.Size.Station != 0 || q.Size.Stated != 30 || math.Abs(q.Size.Radius-30) < 1 ||
		!slices.Equal(q.Size.Answers, want) {
		t.Fatalf("%+v, want the radius questioned, and each of three points offered", q.Size)
	}
	for _, c := range []session.Command{session.Confirm{}, session.Enough{}, session.Accept{}, session.Skip{}, session.Take{Reading: 0},
		session.Take{Reading: 6}, session.Take{Reading: 1.5}, session.Take{Reading: math.NaN()}, session.TouchPoint{At: middle},
		session.Retouch{}, session.Retouch{Station: 4}} {
		p.refused(c)
	}
	p.do(session.Take{Reading: 2})
	if q := p.prompt(); q.Waits != session.ForReading || !q.Reading.Again || q.Reading.Station != 2 {
		t.Fatalf("%+v, want point 2 once more", q)
	}
	p.do(session.Undo{}, session.Retouch{Station: 2})
	p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, 0)})
	if q := p.prompt(); q.Waits != session.ForWind {
		t.Errorf("waits for %d, want the first wind once the point is right", q.Waits)
	}
	wantSame(t, "folded again", mustFold(t, p.mem.Lines), p.state())
}

// Of five points the mistyped one alone explains the radius, whichever it is, once the person has let its own doubt pass.
func TestContradictionNamesThePoint(t *testing.T) {
	for slip := 1; slip <= 5; slip++ {
		p := pointsOn(t, 5, func(o *session.Opened) { o.Job.Dial.Repeatability = 0.003 }).touchAll(slip)
		for p.prompt().Reading.Again {
			p.do(session.Keep{}) // the reading stands by the person's word
			p.touchAll(0)
		}
		if q := p.prompt(); q.Waits != session.ForSize || q.Size.Station != slip ||
			q.Size.Answers[0] != (session.SizeAnswer{Station: slip}) {
			t.Errorf("point %d: %+v, want it named", slip, q)
			continue
		}
		p.do(session.Retouch{})
		p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, 0)})
		if w := p.prompt().Waits; w != session.ForWind {
			t.Errorf("point %d: waits for %d, want a wind", slip, w)
		}
	}
}

// Right points are never questioned, whatever is stated of the limit; a reference that is out by more than its limit is, and
// by less is not. By hand: the tip of 6 runs on 27 in a bore of 30.
func TestContradictionGoesByTheLimit(t *testing.T) {
	for _, c := range []struct {
		stated, limit float64
		asked         bool
	}{
		{30, 0, false}, {30, 0.003, false}, {30.05, 0.1, false}, {30.09, 0, false}, {30.12, 0, true}, {30.05, 0.01, true},
		{29.95, 0.01, true}, {33, 0, true}, {0, 0, false},
	} {
		p := pointsOn(t, 4, func(o *session.Opened) {
			o.Job.Setup.ReferenceRadius, o.Job.Setup.ReferenceLimit = c.stated, c.limit
		}).touchAll(0)
		if got := p.prompt().Waits == session.ForSize; got != c.asked {
			t.Errorf("stated %v ±%v, touched 30: asked %v, want %v", c.stated, c.limit, got, c.asked)
		}
	}
}

// Without a stated radius the drawing's arc stands for it.
func TestContradictsTheDrawing(t *testing.T) {
	p := pointsOn(t, 4, func(o *session.Opened) {
		o.Job.Setup.ReferenceRadius = 0
		o.Arc = &part.Picked{Part: "plate", N: 2, Radius: 31, To: 2 * math.Pi, Side: "outside"}
	}).touchAll(0)
	if q := p.prompt(); q.Waits != session.ForSize || !q.Size.Drawn || q.Size.Stated != 31 {
		t.Errorf("%+v, want it held against the drawing's 31", q)
	}
}

// A reference that is really that size is said and journalled; it goes on with it, asks no more, in the next sweep neither,
// and undo asks again. Begun anew, the points are asked for again.
func TestContradictionKept(t *testing.T) {
	p := pointsOn(t, 4, func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 25 }).touchAll(0)
	p.do(session.Take{Reading: 1}) // of four right points none is named: 1 keeps
	s := p.state()
	if s.Sized == nil || math.Abs(s.Sized.Radius-30) > 1e-6 || p.prompt().Waits != session.ForWind {
		t.Fatalf("%+v, waits for %d, want 30 kept and a wind", s.Sized, p.prompt().Waits)
	}
	p.do(session.Restart{})
	if p.touchAll(0); p.prompt().Waits != session.ForWind {
		t.Errorf("the next sweep waits for %d, want a wind", p.prompt().Waits)
	}
	wantSame(t, "folded again", mustFold(t, p.mem.Lines), p.state())

	p = pointsOn(t, 4, func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 25 }).touchAll(0)
	p.do(session.Keep{}, session.Undo{})
	if p.prompt().Waits != session.ForSize {
		t.Errorf("taken back it waits for %d, want the question", p.prompt().Waits)
	}
	p.do(session.Take{Reading: 2})
	if q := p.prompt(); q.Waits != session.ForReading || q.Reading.Station != 1 {
		t.Errorf("%+v, want all points anew", q)
	}
	p.touchAll(0).do(session.Undo{}) // what was touched last
	if q := p.prompt(); q.Waits != session.ForReading || q.Reading.Station != 4 {
		t.Errorf("%+v, want point 4", q)
	}
}

// An early end is questioned like any, the number of an answer is one in inches too, and settings of old ask nothing.
func TestContradictionEarlyInchesAndOld(t *testing.T) {
	p := pointsOn(t, 6, func(o *session.Opened) { o.Job.Setup.ReferenceRadius, o.Job.Unit = 25, geom.Inch })
	for range 4 {
		p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, 0)})
	}
	p.do(session.Enough{})
	if p.prompt().Waits != session.ForSize {
		t.Fatalf("enough: waits for %d, want the question", p.prompt().Waits)
	}
	p.do(session.Take{Reading: 25.4}) // 1, typed in inches
	if s := p.state(); s.Sized == nil {
		t.Error("1 in inches is not taken for the first answer")
	}

	p = pointsOn(t, 4, func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 25 })
	old := *p.state().Set
	old.Rules = 0
	s := session.State{}.Apply(old)
	for range 4 {
		e, err := session.Decide(s, session.TouchPoint{At: on(middle, s.Prompt().Reading.Bearing, 0)})
		if err != nil {
			t.Fatal(err)
		}
		s = s.Apply(e)
	}
	if e, due := session.Follow(s); !due || session.Kind(e) != "swept" {
		t.Errorf("a setting of old goes on with %+v, want its sweep closed", e)
	}
}

// sizedPoints plays points whose radius contradicts what is stated: one touched again, taken back, and at last the reference
// kept as it is.
func sizedPoints(t testing.TB) *player {
	t.Helper()
	p := pointsOn(t, 4, func(o *session.Opened) { o.Job.Setup.ReferenceRadius, o.Job.Setup.ReferenceLimit = 29.5, 0.02 }).touchAll(0)
	p.do(session.Retouch{Station: 2}, session.Undo{}, session.Retouch{Station: 2})
	p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, 0.001)})
	p.do(session.Keep{}, session.Undo{}, session.Keep{})
	for p.prompt().Waits == session.ForWind {
		p.do(session.Confirm{})
	}
	p.do(session.Accept{})
	return p
}
