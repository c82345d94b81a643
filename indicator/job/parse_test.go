package job_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

func mustJob(t testing.TB, text string) setup.Job {
	t.Helper()
	j, err := job.ParseJob("job.toml", []byte(text))
	if err != nil {
		t.Fatalf("job refused: %v", err)
	}
	return j
}

func mustMachine(t testing.TB, text string) setup.Machine {
	t.Helper()
	m, err := job.ParseMachine("mill.toml", []byte(text))
	if err != nil {
		t.Fatalf("machine refused: %v", err)
	}
	return m
}

// The documented job, key by key.
func TestShownJob(t *testing.T) {
	want := setup.Job{
		Unit: geom.Millimetre,
		Setup: indicator.Setup{Kind: indicator.Carried, Touch: indicator.Bore, ReferenceRadius: 30,
			Reach: -12, ReachKnown: true},
		Target: setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.02},
		Sweep:  setup.Sweep{Stations: 6, From: 0, To: 2 * math.Pi},
		Dial:   indicator.Dial{Graduation: 0.01, Revolution: 1, From: -0.8, To: 0.8, ReadsTo: 0.2, Repeatability: 0.003},
	}
	if got := mustJob(t, shownJob); !reflect.DeepEqual(got, want) {
		t.Errorf("the documented job is read as\n%+v, want\n%+v", got, want)
	}
}

// The limits that may be stated, in the job's unit and in degrees; left out, they are 0 (TestShownJob).
func TestStatedLimits(t *testing.T) {
	text := edit(t, shownJob, "reach = -12.0", "reach = -12.0\nreference_radius_error = 0.002\nreach_error = 0.01")
	text = edit(t, text, "[dial]", "[dial]\nerror = 0.003\nlever_angle_error = 4.5")
	for unit, mm := range map[string]float64{"mm": 1, "in": 25.4} {
		j := mustJob(t, edit(t, text, "unit = \"mm\"", "unit = \""+unit+"\""))
		got := [4]float64{j.Setup.ReferenceLimit, j.Setup.ReachLimit, j.Dial.ErrorLimit, j.Dial.LeverLimit}
		want := [4]float64{0.002 * mm, 0.01 * mm, 0.003 * mm, 4.5 * math.Pi / 180}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-15 {
				t.Errorf("%s: limits %v, want %v", unit, got, want)
			}
		}
	}
}

// Tilt over 100 and the height above the cut, and the closing reading.
func TestTiltAndClosing(t *testing.T) {
	text := edit(t, shownJob, "reach = -12.0", "reach = -12.0\ntilt_per_100 = 0.02\nsweep_height = 2")
	text = edit(t, text, "stations = 6", "stations = 6\nclosing = true")
	for unit, mm := range map[string]float64{"mm": 1, "in": 25.4} {
		j := mustJob(t, edit(t, text, "unit = \"mm\"", "unit = \""+unit+"\""))
		if math.Abs(j.Setup.TiltLimit-0.0002) > 1e-15 || math.Abs(j.Setup.SweepHeight-2*mm) > 1e-12 || !j.Sweep.Closing {
			t.Errorf("%s: tilt %v, height %v, closing %v", unit, j.Setup.TiltLimit, j.Setup.SweepHeight, j.Sweep.Closing)
		}
	}
}

// A slide's travel and what is said of its lock and its collar, in the machine's unit.
func TestSlideTravel(t *testing.T) {
	text := edit(t, shownMachine, "readout = false", "readout = false\ntravel = [-5, 60]\nlock = true\nby_collar = true")
	for unit, mm := range map[string]float64{"mm": 1, "in": 25.4} {
		s := mustMachine(t, edit(t, text, "unit = \"mm\"", "unit = \""+unit+"\"")).Slides[0]
		if math.Abs(s.Low+5*mm) > 1e-12 || math.Abs(s.High-60*mm) > 1e-12 || !s.Lock || !s.ByCollar {
			t.Errorf("%s: %+v", unit, s)
		}
	}
}

// The documented machine, key by key.
func TestShownMachine(t *testing.T) {
	want := setup.Machine{
		Name: "bench mill with offset head",
		Unit: geom.Millimetre,
		Head: setup.Ring{Figures: slide.Anticlockwise}, Table: setup.Ring{Figures: slide.Anticlockwise},
		Slides: []slide.Slide{{Name: "offset", TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
			Figures: slide.Clockwise, Backlash: 0.15}},
	}
	if got := mustMachine(t, shownMachine); !reflect.DeepEqual(got, want) {
		t.Errorf("the documented machine is read as\n%+v, want\n%+v", got, want)
	}
}

// Line ends and a byte order mark as other systems write them change nothing, and lines are still
// counted right.
func TestOtherEditors(t *testing.T) {
	want := mustJob(t, shownJob)
	crlf := strings.ReplaceAll(shownJob, "\n", "\r\n")
	for name, text := range map[string]string{"CRLF": crlf, "byte order mark": "\ufeff" + shownJob, "both": "\ufeff" + crlf,
		"no last line end": strings.TrimSuffix(shownJob, "\n")} {
		if got := mustJob(t, text); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: read as %+v, want %+v", name, got, want)
		}
	}
	_, err := job.ParseJob("job.toml", []byte("\ufeff"+edit(t, crlf, "stations = 6", "stations = 2")))
	check(t, "CRLF", err, "job.toml:14: sweep.stations: 2, must be a whole number from 3 to 64", "")
}

// What may be left out, and what it then is.
func TestDefaults(t *testing.T) {
	j := mustJob(t, `[setup]
kind = "carried"
touch = "boss"
reference_radius = 30
[target]
centre_tolerance = 0.05
[sweep]
stations = 4
from = -45
[dial]
graduation = 0.01
range = 0.8
`)
	want := setup.Job{
		Setup:  indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 30},
		Target: setup.Target{CentreTolerance: 0.05},
		Sweep:  setup.Sweep{Stations: 4, From: -math.Pi / 4, To: 2*math.Pi - math.Pi/4},
		// Read to a fifth (common practice, no source); the rest is not known.
		Dial: indicator.Dial{Graduation: 0.01, From: -0.4, To: 0.4, ReadsTo: 0.2},
	}
	if math.Abs(float64(j.Sweep.To-want.Sweep.To)) > 1e-15 {
		t.Errorf("a sweep from -45° ends at %v°, want 315°", j.Sweep.To.Degrees())
	}
	want.Sweep.To = j.Sweep.To
	if !reflect.DeepEqual(j, want) {
		t.Errorf("read as\n%+v, want\n%+v", j, want)
	}
	if j.Target.WantsSwing() {
		t.Error("a job without swing_radius wants one")
	}
}

// Every key of a machine, twice a ring and five slides, in the order in which they are wound.
func TestWholeMachine(t *testing.T) {
	const one = `travel_per_turn = 5
divisions = 250
clockwise = "decrease"
take_up = "decrease"
backlash = 0.2
overshoot = 0.9
collar_figures = "anticlockwise"
readout = true
`
	m := mustMachine(t, "name = \"Fräse 2 – ½\"\n[head]\nzero = 90\nsense = \"clockwise\"\ngraduation = 0.5\n[table]\nzero = -30\n"+
		"[slide.offset]\n"+one+"[slide.table_y]\n"+one+"[slide.y]\n"+one+"[slide.table_x]\n"+one+"[slide.x]\n"+one)
	if m.Name != "Fräse 2 – ½" {
		t.Errorf("name %q", m.Name)
	}
	if want := (setup.Ring{Zero: 90 * geom.Degree, Figures: slide.Clockwise, Graduation: float64(0.5 * geom.Degree)}); m.Head != want {
		t.Errorf("head ring %+v, want %+v", m.Head, want)
	}
	if want := (setup.Ring{Zero: -30 * geom.Degree, Figures: slide.Anticlockwise}); m.Table != want {
		t.Errorf("table ring %+v, want %+v", m.Table, want)
	}
	var names []string
	for _, s := range m.Slides {
		names = append(names, s.Name)
		want := slide.Slide{Name: s.Name, TravelPerTurn: 5, Divisions: 250, Clockwise: slide.Decrease, TakeUp: slide.Decrease,
			Figures: slide.Anticlockwise, Backlash: 0.2, Overshoot: 0.9, Readout: true}
		switch s.Name { // where the file does not say
		case "table_x", "table_y":
			want.AskewLimit = float64(0.5 * geom.Degree)
		case "x", "y":
			want.AskewLimit = float64(2 * geom.Degree)
		}
		if s != want {
			t.Errorf("slide %+v, want %+v", s, want)
		}
	}
	if want := []string{"x", "y", "table_x", "table_y", "offset"}; !reflect.DeepEqual(names, want) {
		t.Errorf("slides %v, want %v", names, want)
	}
	if _, ok := m.Slide("knee"); ok {
		t.Error("a slide that is not described is found")
	}
}

// Inch files: lengths scale by 25.4 (exact), counts and angles do not. The dial is one of
// 0.0005 in (common practice, no source).
func TestInchFiles(t *testing.T) {
	j := mustJob(t, `unit = "in"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 1.25
reach = -0.5
tip_diameter = 0.08
[target]
swing_radius = 1.75
tolerance = 0.001
centre_tolerance = 0.002
[sweep]
stations = 8
to = 270
[dial]
graduation = 0.0005
revolution = 0.04
range = 0.06
lever_angle = 15
angle_error = 0.5
repeatability = 0.0001
`)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"reference radius, 1.25 in", j.Setup.ReferenceRadius, 31.75},
		{"reach, -0.5 in", j.Setup.Reach, -12.7},
		{"tip diameter, 0.08 in", j.Setup.TipDiameter, 2.032},
		{"swing radius, 1.75 in", j.Target.SwingRadius, 44.45},
		{"tolerance, 0.001 in", j.Target.Tolerance, 0.0254},
		{"centre tolerance, 0.002 in", j.Target.CentreTolerance, 0.0508},
		{"graduation, 0.0005 in", j.Dial.Graduation, 0.0127},
		{"revolution, 0.04 in", j.Dial.Revolution, 1.016},
		{"from, half of 0.06 in", j.Dial.From, -0.762},
		{"to, half of 0.06 in", j.Dial.To, 0.762},
		{"repeatability, 0.0001 in", j.Dial.Repeatability, 0.00254},
		{"reads to, divisions", j.Dial.ReadsTo, 0.2},
		{"lever angle", j.Dial.LeverAngle, math.Pi / 12},
		{"angle error", j.Dial.AngleError, math.Pi / 360},
		{"sweep to", float64(j.Sweep.To), 1.5 * math.Pi},
	} {
		if math.Abs(c.got-c.want) > 1e-14*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s: %.15g, want %.15g", c.what, c.got, c.want)
		}
	}
	j = mustJob(t, edit(t, inchJob(t), "range = 0.06", "from = -0.01\nto = 0.05"))
	if math.Abs(j.Dial.From+0.254) > 1e-15 || math.Abs(j.Dial.To-1.27) > 1e-15 {
		t.Errorf("dial from -0.01 to 0.05 in is read as %v to %v mm, want -0.254 to 1.27", j.Dial.From, j.Dial.To)
	}
}

// An inch machine: 0.100 in a turn, 100 divisions of 0.001 in (common practice, no source).
func TestInchMachine(t *testing.T) {
	m := mustMachine(t, "unit = \"in\"\n[slide.x]\ntravel_per_turn = 0.1\ndivisions = 100\nclockwise = \"increase\"\ntake_up = "+
		"\"increase\"\nbacklash = 0.005\novershoot = 0.03\n")
	s := m.Slides[0]
	for what, c := range map[string][2]float64{
		"travel per turn": {s.TravelPerTurn, 2.54}, "division": {s.Division(), 0.0254}, "backlash": {s.Backlash, 0.127},
		"overshoot": {s.Overshoot, 0.762},
	} {
		if math.Abs(c[0]-c[1]) > 1e-15 {
			t.Errorf("%s: %.15g mm, want %.15g", what, c[0], c[1])
		}
	}
}

// inchJob is the documented job in round inches.
func inchJob(t *testing.T) string {
	t.Helper()
	text := shownJob
	for _, c := range [][2]string{
		{`unit = "mm"`, `unit = "in"`},
		{"reference_radius = 30.0", "reference_radius = 1.25"},
		{"reach = -12.0", "reach = -0.5"},
		{"swing_radius = 42.0", "swing_radius = 1.75"},
		{"range = 1.6", "range = 0.06"},
	} {
		text = edit(t, text, c[0], c[1])
	}
	return text
}

// Messages about an inch file speak inches.
func TestInchMessages(t *testing.T) {
	_, err := job.ParseJob("job.toml", []byte(edit(t, inchJob(t), "reach = -0.5", "reach = 0.5")))
	check(t, "reach the wrong way", err,
		"job.toml:6: setup.reach: with 0.5 in the dial would have to show 1 in at the target, need -0.03 to 0.03 in",
		"at the target the dial reads zero with a reach of -0.5 in; + is away from the head axis, - towards it")
	_, err = job.ParseMachine("mill.toml", []byte(edit(t, edit(t, shownMachine, `unit = "mm"`, `unit = "in"`), "backlash = 0.15",
		"backlash = 0.15\novershoot = 0.1")))
	check(t, "overshoot", err, "mill.toml:9: slide.offset.overshoot: 0.1 in does not take up a backlash of 0.15 in, must be above it", "")
}

// A dial whose zero is not in the middle. Its reading at the target has to be on it.
func TestDialFromTo(t *testing.T) {
	j := mustJob(t, edit(t, shownJob, "range = 1.6", "from = -0.2\nto = 1.4"))
	if j.Dial.From != -0.2 || j.Dial.To != 1.4 {
		t.Errorf("dial from %v to %v, want -0.2 to 1.4", j.Dial.From, j.Dial.To)
	}
	j = mustJob(t, edit(t, shownJob, "range = 1.6", "from = 0\nto = 1.6"))
	if j.Dial.From != 0 || j.Dial.To != 1.6 {
		t.Errorf("dial from %v to %v, want 0 to 1.6", j.Dial.From, j.Dial.To)
	}
	oneSided := edit(t, shownJob, "range = 1.6", "from = 0\nto = 1.6")
	// In a bore a reach farther out presses: +0.1. Farther in would need a reading below zero.
	mustJob(t, edit(t, oneSided, "reach = -12.0", "reach = -11.9"))
	_, err := job.ParseJob("job.toml", []byte(edit(t, oneSided, "reach = -12.0", "reach = -12.1")))
	check(t, "below a one-sided dial", err, "job.toml:6: setup.reach: with -12.1 mm the dial would have to show -0.1 mm at the target, "+
		"need 0 to 1.6 mm", rightReach)
	// Round a boss it is the other way about.
	boss := edit(t, oneSided, `touch = "bore"`, `touch = "boss"`)
	mustJob(t, edit(t, boss, "reach = -12.0", "reach = -12.1"))
	_, err = job.ParseJob("job.toml", []byte(edit(t, boss, "reach = -12.0", "reach = -11.9")))
	check(t, "boss, below a one-sided dial", err, "job.toml:6: setup.reach: with -11.9 mm the dial would have to show -0.1 mm at the "+
		"target, need 0 to 1.6 mm", rightReach)
}

// A lever at an angle makes the needle run farther: at 60° (cosine 0.5) a tip that stands 0.5 mm
// from the wall at the target shows 1 mm, which a dial of ± 0.8 mm has not.
func TestLeverReachesFarther(t *testing.T) {
	off := edit(t, shownJob, "reach = -12.0", "reach = -11.5")
	mustJob(t, off)
	_, err := job.ParseJob("job.toml", []byte(edit(t, off, "lever_angle = 0", "lever_angle = 60")))
	check(t, "lever", err, "job.toml:6: setup.reach: with -11.5 mm the dial would have to show 1 mm at the target, need -0.8 to 0.8 mm",
		rightReach)
}
