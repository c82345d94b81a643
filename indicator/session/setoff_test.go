package session_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

const setOffJob = `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 30
[target]
swing_radius = 42
set_off_by = "x"
tolerance = 0.02
centre_tolerance = 0.1
[sweep]
stations = 6
[dial]
graduation = 0.002
range = 2
repeatability = 0.002
`

// overAxis sweeps a bore whose axis lies e off the spindle, until something else is asked for. The bar's tip runs on
// the exact distance to the wall, and so more is read where that is nearer.
func overAxis(t testing.TB, jobText, machineText string, e geom.Point) *player {
	t.Helper()
	p := opens(t, jobText, machineText)
	for p.prompt().Waits == session.ForLoad {
		p.do(session.Confirm{})
	}
	for p.prompt().Waits == session.ForReading {
		b := p.prompt().Reading.Bearing.Unit()
		along, across := e.Dot(b), e.Cross(b)
		p.do(session.Take{Reading: 30 - (along + math.Sqrt(30*30-across*across))})
	}
	return p
}

// By hand: the axis lies 0.03 along X and -0.02 along Y off the spindle, both within what the job allows, so nothing
// is wound but the radius. X has to go 0.03 + sqrt(42^2 - 0.02^2) = 42.029995. Stopped at 42.035, the spindle stands
// hypot(42.005, 0.02) = 42.005005 off the axis. A readout of 0.005, read at both ends, is good to
// 1.96 * 0.005 * sqrt(2/12) = 0.0040.
func TestSetOffByHand(t *testing.T) {
	e := geom.Point{X: 0.03, Y: -0.02}
	p := overAxis(t, setOffJob, pointsMachine, e)
	told := p.prompt()
	if told.Waits != session.ForWind || !told.Wind.Told.SetOff || told.Wind.How != session.ByCoordinate || !told.Wind.Zero ||
		math.Abs(told.Wind.Goal-42.029995) > 2e-6 {
		t.Fatalf("%+v, want X sent to 42.029995", told)
	}
	p.do(session.Take{Reading: 42.035})
	s := p.live.State()
	r, ok := s.Swung(fitted(t, &s))
	axis, travel := r.Axis, r.Travel
	if !ok || math.Abs(r.V-42.005005) > 2e-6 || math.Abs(travel-0.0040) > 0.00005 || math.Abs(r.U-math.Hypot(axis, travel)) > 1e-12 {
		t.Errorf("swing %+v of %v and %v, want 42.005005 with 0.0040 of the slide", r, axis, travel)
	}
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	if want := f.CentreX().U; math.Abs(axis-want) > 1e-12 {
		t.Errorf("the axis is known to %v along the slide, want the centre's %v", axis, want)
	}
	if v := s.Verdicts(&f); p.prompt().Waits != session.ForAccept || v.Radius != indicator.Inside || v.Centre != indicator.Inside {
		t.Errorf("%v, waits for %v, want both inside and to be accepted", v, p.prompt().Waits)
	}
	p.do(session.Accept{})
	if a, ok := p.steps[len(p.steps)-1].Event.(session.Accepted); !ok || a.Swing == nil || math.Abs(*a.Swing-42.005005) > 2e-6 {
		t.Errorf("%+v, want the swing radius on record", p.steps[len(p.steps)-1].Event)
	}
}

// The other way it goes to 0.03 - 41.999995.
func TestSetOffTheOtherWay(t *testing.T) {
	p := overAxis(t, strings.Replace(setOffJob, `"x"`, `"-x"`, 1), pointsMachine, geom.Point{X: 0.03, Y: -0.02})
	if got := p.prompt(); math.Abs(got.Wind.Goal+41.969995) > 2e-6 {
		t.Errorf("X is sent to %v, want -41.969995", got.Wind.Goal)
	}
}

// A slide stopped 0.1 short is sent on, to the same coordinate; stopped within half the tolerance it is left.
func TestSetOffSentOn(t *testing.T) {
	p := overAxis(t, setOffJob, pointsMachine, geom.Point{X: 0.03, Y: -0.02})
	goal := p.prompt().Wind.Goal
	p.do(session.Take{Reading: 41.93})
	if got := p.prompt(); got.Waits != session.ForWind || got.Wind.Zero || math.Abs(got.Wind.Goal-goal) > 1e-9 ||
		math.Abs(got.Wind.Told.Wind.Travel-(goal-41.93)) > 1e-9 {
		t.Fatalf("%+v, want it sent on to %v", got, goal)
	}
	p.do(session.Take{Reading: 42.035})
	s := p.live.State()
	if r, _ := s.Swing(fitted(t, &s)); p.prompt().Waits != session.ForAccept || math.Abs(r.V-42.005005) > 2e-6 {
		t.Errorf("swing %v, waits for %v", r, p.prompt().Waits)
	}
}

// Undo takes the slide's wind back. Swept again, the spindle is first sent back over the axis, and the new sweep knows
// nothing of where it has been.
func TestSetOffBack(t *testing.T) {
	p := overAxis(t, setOffJob, pointsMachine, geom.Point{X: 0.03, Y: -0.02})
	before := p.live.State()
	p.do(session.Take{Reading: 42.035})
	p.do(session.Undo{})
	if got := p.live.State(); got.SetOff != before.SetOff || !reflect.DeepEqual(got.Prompt(), before.Prompt()) {
		t.Errorf("after undo %+v, want %+v", got.Prompt(), before.Prompt())
	}
	p.do(session.Take{Reading: 42.035})
	p.do(session.Restart{})
	got := p.prompt()
	if got.Waits != session.ForWind || !got.Wind.Told.Back || math.Abs(got.Wind.Goal) > 1e-9 ||
		math.Abs(got.Wind.Told.Wind.Travel+42.035) > 1e-9 {
		t.Fatalf("%+v, want X sent back to 0", got)
	}
	p.do(session.Confirm{})
	s := p.live.State()
	if s.SetOff != (setup.Offs{}) || p.prompt().Waits != session.ForReading || s.Sweep.N != 0 {
		t.Errorf("%+v, waits for %v, want a new sweep", s.SetOff, p.prompt().Waits)
	}
}

// By a collar the doubt of a screw's pitch, 0.3 % of 42 mm, hides the verdict: it is undecided, and not a guess.
func TestSetOffByCollarUndecided(t *testing.T) {
	p := overAxis(t, setOffJob, strings.ReplaceAll(pointsMachine, "readout = true", ""), geom.Point{X: 0.03, Y: -0.02})
	if got := p.prompt(); got.Wind.How == session.ByCoordinate || !got.Wind.Told.SetOff {
		t.Fatalf("%+v, want a wind by the collar", got)
	}
	p.do(session.Confirm{})
	s := p.live.State()
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	r, _ := s.Swing(&f)
	// A limit of 0.003 is known to its root of three; 95 % of it is 1.96 times that.
	if v := s.Verdicts(&f); v.Radius != indicator.Undecided || r.U < 0.9*1.96*0.003*42/math.Sqrt(3) || r.U > 0.2 {
		t.Errorf("%v with %v, want undecided by a pitch of 0.3 %%", v.Radius, r)
	}
}
