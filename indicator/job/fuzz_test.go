package job_test

import (
	"errors"
	"math"
	"testing"

	"example.org/trammel/indicator/job"
)

// seeds are texts that lead a reader into its corners.
var seeds = []string{
	"", "\ufeff", "[", "=", "a.b.c = 1", "\"\\u001b\" = 1", "[slide.\"\\u0007\"]", "unit = \"\\u009b\"", "[[setup]]", "setup = {}",
	"setup = {kind = {}}",
	"[setup]\nreach = 1e999", "[setup]\nreach = nan\nreach = nan", "[slide.x]\ntravel_per_turn = -0.0",
	"slide = {x = {pitch = 1}, y = {pitch = 1}}",
	"name = '''\n'''", "[setup]\r\nkind=\"carried\"\r", "\xff", "a = \"\xc3\"", "[slide]\nx = [[[{}]]]",
}

// obstacleSeeds are obstacles that lead into the corners of laying out stations.
var obstacleSeeds = []string{"[]", "[[80, 130], [200, 215]]", "[[350, 20]]", "[[0, 90], [90, 180]]", "[[-10, 5], [355, 30]]", "[[20, 10]]",
	"[[1e-300, 2e-300]]", "[[0.1, 0.2], [0.2000000001, 0.3]]", "[[359.9999999999, 0.1]]", "[[0, -1e-300]]", "[[360, 1]]", "[\n[80,\n130]]"}

// FuzzParseJob: whatever the bytes, the reader neither panics nor says anything that cannot be
// printed, and what it accepts is finite and makes sense.
func FuzzParseJob(f *testing.F) {
	f.Add([]byte(shownJob))
	for _, c := range badJobs {
		f.Add([]byte(c.new))
	}
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	for _, o := range obstacleSeeds {
		f.Add([]byte(edit(f, shownJob, "stations = 6", "stations = 6\nobstacles = "+o)))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := job.ParseJob("job.toml", text)
		if err != nil {
			clean(t, string(text), err)
			return
		}
		for what, x := range map[string]float64{
			"reference radius": j.Setup.ReferenceRadius, "reach": j.Setup.Reach, "tip": j.Setup.TipDiameter,
			"bearing": float64(j.Setup.IndicatorBearing),
			"swing":   j.Target.SwingRadius, "tolerance": j.Target.Tolerance, "centre tolerance": j.Target.CentreTolerance,
			"from": float64(j.Sweep.From), "to": float64(j.Sweep.To), "graduation": j.Dial.Graduation, "revolution": j.Dial.Revolution,
			"dial from": j.Dial.From, "dial to": j.Dial.To, "reads to": j.Dial.ReadsTo, "angle error": j.Dial.AngleError,
			"gain": j.Dial.Gain(), "repeatability": j.Dial.Repeatability,
		} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%q: %s is %v", text, what, x)
			}
		}
		if j.Sweep.Stations < 3 || j.Sweep.Stations > 64 || !(j.Sweep.To > j.Sweep.From) || !(j.Setup.ReferenceRadius > 0) ||
			!(j.Dial.Gain() > 0) {
			t.Errorf("%q: accepted as %+v", text, j)
		}
		for i := range j.Sweep.Stations {
			if b := j.Sweep.Bearing(i); !(b >= j.Sweep.From-1e-6 && b <= j.Sweep.To+1e-6) || j.Sweep.Blocked(b) {
				t.Errorf("%q: station %d of %+v stands at %v", text, i+1, j.Sweep, b)
			}
		}
	})
}

// FuzzParseMachine: as FuzzParseJob; and a wind of any accepted slide can be counted.
func FuzzParseMachine(f *testing.F) {
	f.Add([]byte(shownMachine))
	for _, c := range badMachines {
		f.Add([]byte(c.new))
	}
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := job.ParseMachine("mill.toml", text)
		if err != nil {
			clean(t, string(text), err)
			return
		}
		if again, err := job.ParseMachine("mill.toml", text); err != nil || len(again.Slides) != len(m.Slides) {
			t.Errorf("%q: read twice, another answer: %v", text, err)
		}
		for _, s := range m.Slides {
			for _, travel := range []float64{100, -100} {
				for _, move := range s.Wind(travel).Moves {
					if move.Turns < 0 || !(move.Divisions >= 0 && move.Divisions < s.Divisions) {
						t.Errorf("%q: slide %+v, wind of %v mm: %+v", text, s, travel, move)
					}
				}
			}
		}
	})
}

// An error of a reader is always the same type, also where it is nil.
func TestErrorType(t *testing.T) {
	_, err := job.ParseJob("job.toml", []byte(shownJob))
	if err != nil {
		t.Errorf("the documented job: %v", err)
	}
	var e *job.Error
	if _, err = job.ParseJob("job.toml", nil); !errors.As(err, &e) || e.File != "job.toml" || e.Line != 0 {
		t.Errorf("an empty file: %#v, want a *job.Error for job.toml without a line", err)
	}
}
