package job_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
)

const cutJob = `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = 30.0
reach = -12.0
[target]
swing_radius = 42.0
tolerance = 0.02
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.01
range = 1.6
`

// A rim's arc is half a cutter inside the swing circle, a hollow's outside it; stock makes a rim larger, a
// hollow smaller (design of the cut: plain geometry).
func TestCut(t *testing.T) {
	for metal, want := range map[string][2]float64{"inside": {38, 0.3}, "outside": {46, -0.3}} {
		j, err := job.ParseJob("j", []byte(cutJob+"[cut]\nmetal = \""+metal+"\"\ncutter = 8\nstock = 0.3\n"))
		if err != nil {
			t.Fatal(err)
		}
		if j.Arc() != want[0] || j.Cut.Left() != want[1] {
			t.Errorf("metal %s: arc %v, left %v, want %v", metal, j.Arc(), j.Cut.Left(), want)
		}
	}
	j, err := job.ParseJob("j", []byte(strings.Replace(cutJob, `unit = "mm"`, `unit = "in"`, 1)+"[cut]\nmetal = \"inside\"\ncutter = "+
		"1\nmeasured_error = 0.0002\ncutter_error = 0.001\n"))
	if err != nil || j.Cut.MeasuredError != 0.0002*25.4 || j.Cut.CutterLimit != 0.001*25.4 {
		t.Errorf("doubts of arc and cutter: %+v (%v), want 0.0002 and 0.001 in", j.Cut, err)
	}
	for bad, says := range map[string]string{
		"[cut]\nmetal = \"inside\"\ncutter = 0":               "cut.cutter",
		"[cut]\ncutter = 8":                                   "cut.metal: missing",
		"[cut]\nmetal = \"on\"\ncutter = 8":                   "need inside or outside",
		"[cut]\nmetal = \"inside\"":                           "cut.cutter: missing",
		"[cut]\nmetal = \"inside\"\ncutter = 84":              "leaves no arc",
		"[cut]\nmetal = \"outside\"\ncutter = 8\nstock = 42":  "need less than the swing radius",
		"[cut]\nmetal = \"inside\"\ncutter = 8\nstock = -0.1": "cut.stock",

		"[cut]\nmetal = \"inside\"\ncutter = 8\nmeasured_error = 0":  "cut.measured_error: 0, must be above 0",
		"[cut]\nmetal = \"inside\"\ncutter = 8\ncutter_error = -0.1": "cut.cutter_error",
	} {
		if _, err := job.ParseJob("j", []byte(cutJob+bad)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v, want %q", bad, err, says)
		}
	}
}

const slideText = "travel_per_turn = 2\ndivisions = 100\nclockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.1\n"

func TestMissAndHeadLock(t *testing.T) {
	m, err := job.ParseMachine("m", []byte("unit = \"in\"\n[head]\nlock = true\n[slide.offset]\nmiss = -0.01\n"+slideText))
	if err != nil || m.Miss != -0.254 || !m.HeadLock {
		t.Errorf("miss %v, head locks %v (%v), want −0.254 and true", m.Miss, m.HeadLock, err)
	}
	if _, err := job.ParseMachine("m", []byte("[slide.x]\nmiss = 0.1\n"+slideText)); err == nil ||
		!strings.Contains(err.Error(), "offset only") {
		t.Errorf("a miss at x: %v, want it refused", err)
	}
}

// The cutters at hand are told in the job's unit.
func TestCuttersAtHand(t *testing.T) {
	inch := strings.Replace(cutJob, `unit = "mm"`, "unit = \"in\"\ncutters = [0.25, 0.5]", 1)
	d, err := job.ReadJob("j", []byte(inch))
	if err != nil || len(d.Cutters) != 2 || d.Cutters[0] != 6.35 || d.Cutters[1] != 12.7 {
		t.Errorf("cutters %v (%v), want 6.35 and 12.7", d.Cutters, err)
	}
	if _, err := job.ParseJob("j", []byte("cutters = [6, -8]\n"+cutJob)); err == nil ||
		!strings.Contains(err.Error(), "need diameters above 0") {
		t.Errorf("a cutter of -8: %v, want it refused", err)
	}
}

// A hollow's trial cut is made inside its swing radius by the stock and by all that a radius set by scale may be off: 10 less 0.3 and
// 9.8 is no radius, 10 less 0.3 and 9.6 is one of 0.1. A rim's is made outside, where there is always room.
func TestTrialCutOfAHollowHasARadius(t *testing.T) {
	trial := strings.Replace(strings.Replace(cutJob, "reach = -12.0\n", "", 1), "swing_radius = 42.0", "swing_radius = 10.0", 1)
	for _, c := range []struct {
		metal, scale string
		fits         bool
	}{{"outside", "9.8", false}, {"outside", "9.6", true}, {"inside", "9.8", true}} {
		_, err := job.ParseJob("j", []byte(trial+"[cut]\nmetal = \""+c.metal+"\"\ncutter = 8\nstock = 0.3\nradius_error = "+c.scale+"\n"))
		if (err == nil) != c.fits || err != nil && !strings.Contains(err.Error(), "the trial cut would be made at a swing radius of -0.1 mm") {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
