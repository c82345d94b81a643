package session_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

const pointsJob = `unit = "mm"
[setup]
kind = "points"
touch = "bore"
tip_diameter = 6
[target]
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.005
repeatability = 0.003
`

const pointsMachine = `name = "m"
unit = "mm"
[slide.x]
travel_per_turn = 2.0
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
readout = true
[slide.y]
travel_per_turn = 4.0
divisions = 200
clockwise = "decrease"
take_up = "decrease"
backlash = 0.1
readout = true
`

// opens reads two files and opens a session of them.
func opens(t testing.TB, jobText, machineText string) *player {
	t.Helper()
	return open(t, testdata.Setting(t, []byte(jobText), []byte(machineText)), nil)
}

// on is the place of the finder's middle where it touches a bore about c, at a bearing, with a touch that is early by off.
func on(c geom.Point, b geom.Bearing, off float64) geom.Point {
	u := b.Unit()
	return geom.Point{X: c.X + (27+off)*u.X, Y: c.Y + (27+off)*u.Y}
}

var middle = geom.Point{X: 12.34, Y: -3.21}

// touches six points that scatter a little.
func touched(t testing.TB) *player {
	p := opens(t, pointsJob, pointsMachine)
	for i := 0; p.prompt().Waits == session.ForReading; i++ {
		p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, []float64{0.002, -0.001, 0, 0.002, -0.002, 0.001}[i%6])})
	}
	return p
}

// The spindle is sent from the last point that was touched to the middle, x first; what it shows there is the verdict.
func TestPointsGo(t *testing.T) {
	p := touched(t)
	last := p.state().Sweep.Stations[p.state().Sweep.N-1].At
	for i, want := range []struct {
		slide    string
		from, to float64
	}{{"x", last.X, middle.X}, {"y", last.Y, middle.Y}} {
		q := p.prompt()
		if q.Waits != session.ForWind || q.Wind.Slide.Name != want.slide || math.Abs(q.Wind.Goal-want.to) > 0.004 ||
			math.Abs(q.Wind.Told.Wind.Travel-(want.to-want.from)) > 0.004 {
			t.Fatalf("wind %d: %+v, want %s from %.3f to %.3f", i+1, q, want.slide, want.from, want.to)
		}
		// The last movement goes the take-up way, which both slides' clockwise turn is.
		if m := q.Wind.Moves[len(q.Wind.Moves)-1]; m.Turn != slide.Clockwise {
			t.Fatalf("wind %d ends %v", i+1, m.Turn)
		}
		if r := p.refused(session.Take{Reading: q.Wind.Goal + 9}); !strings.Contains(r.Because, "from the goal") {
			t.Fatalf("9 mm beside: %v", r)
		}
		p.do(session.Take{Reading: math.Round(q.Wind.Goal/0.005) * 0.005})
	}
	if q := p.prompt(); q.Waits != session.ForAccept {
		t.Fatalf("it waits for %v after both winds", q.Waits)
	}
	s := p.state()
	f, ok := s.Standing(fitted(t, &s))
	if v := s.Verdicts(&f); !ok || v.Centre != indicator.Inside || v.Radius != indicator.NoVerdict {
		t.Fatalf("verdicts %+v", v)
	}
	c, err := s.Located()
	if err != nil || math.Abs(c.Radius().V-30) > 0.003 {
		t.Fatalf("radius %v (%v), want 30 of a tip of 6 in it", c.Radius(), err)
	}
	p.do(session.Accept{})
	if end := p.state(); end.Phase != session.Ended {
		t.Fatalf("phase %v", end.Phase)
	}
	back, err := session.Fold(p.mem.Lines, nil)
	if err != nil || !reflect.DeepEqual(digest(back), digest(p.state())) {
		t.Fatalf("the journal folds to another state (%v)", err)
	}
}

// A slide that was stopped beside its goal is sent once more, and one that has been moved since is told anew from
// where it stands.
func TestPointsStand(t *testing.T) {
	p := touched(t)
	p.do(session.At{Slide: "x", At: 100})
	if q := p.prompt(); q.Wind.Slide.Name != "x" || math.Abs(q.Wind.Told.Wind.Travel-(middle.X-100)) > 0.004 {
		t.Fatalf("from 100 it is %v to go", q.Wind.Told.Wind.Travel)
	}
	p.do(session.Take{Reading: middle.X + 0.1})
	if q := p.prompt(); q.Waits != session.ForWind || q.Wind.Slide.Name != "x" || math.Abs(q.Wind.Told.Wind.Travel+0.1) > 0.004 {
		t.Fatalf("0.1 beside its goal, it waits for %v of %s by %v", q.Waits, q.Wind.Slide.Name, q.Wind.Told.Wind.Travel)
	}
	p.do(session.Confirm{}, session.Confirm{})
	if q := p.prompt(); q.Waits != session.ForAccept {
		t.Fatalf("it waits for %v", q.Waits)
	}
	p.do(session.Undo{}) // the wind just confirmed
	if q := p.prompt(); q.Waits != session.ForWind || q.Wind.Slide.Name != "y" {
		t.Fatalf("after undo it waits for %v", q.Waits)
	}
	p.do(session.Confirm{}, session.Restart{})
	if q := p.prompt(); q.Waits != session.ForReading || p.state().Trial != 2 {
		t.Fatalf("again: waits for %v in trial %d", q.Waits, p.state().Trial)
	}
}

// By the collar, 27 mm are not known to two hundredths, and nothing that is not read can settle it.
func TestPointsByCollar(t *testing.T) {
	p := opens(t, pointsJob, strings.ReplaceAll(pointsMachine, "readout = true", "readout = false"))
	for p.prompt().Waits == session.ForReading {
		p.do(session.TouchPoint{At: on(middle, p.prompt().Reading.Bearing, 0)})
	}
	p.do(session.Confirm{}, session.Confirm{})
	s := p.state()
	f, _ := s.Standing(fitted(t, &s))
	if v := s.Verdicts(&f); p.prompt().Waits != session.ForAccept || v.Centre != indicator.Undecided {
		t.Fatalf("wound by the collar alone: waits for %v, centre %v", p.prompt().Waits, v.Centre)
	}
	p.do(session.At{Slide: "x", At: middle.X}, session.At{Slide: "y", At: middle.Y})
}

// A sign left out is found, and proposed; * takes it.
func TestPointsSign(t *testing.T) {
	p := opens(t, pointsJob, pointsMachine)
	for n := 1; n <= 6; n++ {
		at := on(middle, p.prompt().Reading.Bearing, 0)
		if n == 4 {
			at.X = -at.X
		}
		p.do(session.TouchPoint{At: at})
	}
	q := p.prompt()
	if !q.Reading.Again || q.Reading.Station != 4 || q.Reading.Doubt.Because != indicator.SignTurned || q.Reading.Doubt.WouldBeAt == nil ||
		math.Abs(q.Reading.Doubt.WouldBeAt.X+14.66) > 1e-9 {
		t.Fatalf("asks for %d again (%v), because %q", q.Reading.Station, q.Reading.Again, q.Reading.Doubt.Because)
	}
	p.do(session.Correct{})
	if at := p.state().Sweep.Stations[3].At; math.Abs(at.X+14.66) > 1e-9 || p.prompt().Waits != session.ForWind {
		t.Fatalf("corrected to %v, waits for %v", at, p.prompt().Waits)
	}
}

// What has no meaning without a needle, or takes other numbers, is refused; nothing has happened.
func TestPointsRefuse(t *testing.T) {
	p := opens(t, pointsJob, pointsMachine)
	for _, c := range []session.Command{
		session.Take{Reading: 1}, session.Bezel{Showed: 0, Shows: 1}, session.Skip{Off: session.Free}, session.AskClosing{},
		session.Hold{Radius: 30}, session.Release{}, session.Even{}, session.Sense{Slide: session.Tip, Went: session.Up},
		session.Raise{Height: 30},
		session.TouchPoint{At: geom.Point{X: math.NaN()}}, session.TouchPoint{At: geom.Point{Y: math.Inf(1)}},
		session.TouchPoint{At: geom.Point{X: 1e9}},
	} {
		p.refused(c)
	}
	w := bench(t, 1).until(session.ForReading)
	if r := w.refused(session.TouchPoint{}); !strings.Contains(r.Because, "two numbers") {
		t.Errorf("a point in a sweep: %v", r)
	}
}

// Two numbers with whatever stands between them, and a decimal comma in both.
func TestParsePoint(t *testing.T) {
	for text, want := range map[string]geom.Point{
		"12.345 -3.21": {X: 12.345, Y: -3.21}, "12,345 -3,21": {X: 12.345, Y: -3.21}, " 1;2 ": {X: 1, Y: 2}, "1\t−2": {X: 1, Y: -2},
	} {
		if p, err := session.ParsePoint(text, geom.Millimetre); err != nil || p.At != want {
			t.Errorf("%q is %v (%v), want %v", text, p.At, err, want)
		}
	}
	if p, err := session.ParsePoint("1 -0.5", geom.Inch); err != nil || math.Abs(p.At.X-25.4) > 1e-12 || math.Abs(p.At.Y+12.7) > 1e-12 {
		t.Errorf("in inches: %v (%v)", p.At, err)
	}
	for _, bad := range []string{"", "1", "1,2", "1 2 3", "a 1", "1 b"} {
		if p, err := session.ParsePoint(bad, geom.Millimetre); err == nil {
			t.Errorf("%q is %v, want a refusal", bad, p.At)
		}
	}
}

// One truth told as a sweep of a head over a plate, and as points touched with that head's slides: the same centre
// asks the same hand for the same winds. The spindle stands where the axis does.
func TestOneTruthByPoints(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		flag := func(name string) bool { return rapid.Bool().Draw(r, name) }
		f := frame{bore: flag("bore"), rho: rapid.Float64Range(8, 60).Draw(r, "reference"), reach: -4, byCollar: true,
			ex: rapid.Float64Range(0.05, 0.3).Draw(r, "ex"), ey: -rapid.Float64Range(0.05, 0.3).Draw(r, "ey")}
		for i := range 3 {
			f.clockwise[i], f.takes[i], f.anticlockwise[i] = flag("clockwise"), flag("take-up"), flag("figures")
		}
		f.swing = f.rho - f.reach
		swept, _, _, _ := f.trial(r, false)
		jobText, machineText := f.files(false)
		j, err := job.ParseJob("job", []byte(jobText))
		if err != nil {
			r.Fatal(err)
		}
		m, err := job.ParseMachine("machine", []byte(machineText))
		if err != nil {
			r.Fatal(err)
		}
		j.Setup = indicator.Setup{Kind: indicator.Points, Touch: j.Setup.Touch, TipDiameter: rapid.Float64Range(0, 8).Draw(r, "tip")}
		j.Target.SwingRadius, j.Target.Tolerance = 0, 0
		live := session.NewLive(session.State{}, &session.Memory{})
		do := func(c session.Command) {
			if _, err := live.Do(c, begin); err != nil {
				r.Fatalf("%T: %v", c, err)
			}
		}
		do(session.Open{Opened: session.Opened{Job: j, Machine: m}})
		axis := geom.Point{X: rapid.Float64Range(-300, 300).Draw(r, "readout x"), Y: rapid.Float64Range(-300, 300).Draw(r, "readout y")}
		run := f.rho - j.Setup.TipDiameter/2
		if !f.bore {
			run = f.rho + j.Setup.TipDiameter/2
		}
		var winds []told
		for range most {
			s := live.State()
			p := s.Prompt()
			switch p.Waits {
			case session.ForReading:
				u := p.Reading.Bearing.Unit()
				do(session.TouchPoint{At: geom.Point{X: axis.X + f.ex + run*u.X, Y: axis.Y + f.ey + run*u.Y}})
				continue
			case session.ForWind:
				if len(winds) == 0 && !s.Stand("x").Known {
					r.Fatal("nobody knows where the spindle stands")
				}
				if len(winds) < 1 && s.Stand("x").At != axis.X { // it is brought back to where the head's axis was
					do(session.At{Slide: "x", At: axis.X})
					do(session.At{Slide: "y", At: axis.Y})
					continue
				}
				winds = append(winds, told{slide: p.Wind.Slide.Name, moves: p.Wind.Moves})
				do(session.Confirm{})
				if len(winds) < 2 {
					continue
				}
			default:
				r.Fatalf("it waits for %v", p.Waits)
			}
			break
		}
		k := 0
		for _, c := range swept {
			if c.slide == "offset" {
				continue
			}
			d := winds[k]
			k++
			same := c.slide == d.slide && len(c.moves) == len(d.moves)
			for i := 0; same && i < len(c.moves); i++ {
				a, b := c.moves[i], d.moves[i]
				same = a.Turn == b.Turn && math.Abs(float64(a.Turns-b.Turns)*100+a.Divisions-b.Divisions) < 1e-5
			}
			if !same {
				r.Fatalf("swept %+v\ntouched %+v", c, d)
			}
		}
		if k != 2 {
			r.Fatalf("%d winds of the cross slides, want 2", k)
		}
	})
}
