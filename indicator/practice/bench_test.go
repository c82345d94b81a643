package practice

import (
	"bytes"
	"math"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// The keys of a job file and a machine file; reading is strict, so another key is an error.
type jobFile struct {
	Unit  string
	Setup struct {
		Kind, Touch     string
		ReferenceRadius float64 `toml:"reference_radius"`
		Reach           float64
		TipDiameter     float64  `toml:"tip_diameter"`
		ReferenceError  *float64 `toml:"reference_radius_error"`
		FormError       *float64 `toml:"reference_form_error"`
		ReachError      *float64 `toml:"reach_error"`
	}
	Target struct {
		SwingRadius     float64 `toml:"swing_radius"`
		Tolerance       float64
		CentreTolerance float64 `toml:"centre_tolerance"`
	}
	Sweep struct {
		Stations int
		From, To float64
	}
	Dial struct {
		Graduation, Revolution, Range float64
		Error                         *float64
		ReadsTo                       float64 `toml:"reads_to"`
		AngleError                    float64 `toml:"angle_error"`
		LeverAngle                    float64 `toml:"lever_angle"`
		Repeatability                 float64
	}
	Cut struct {
		Metal         string
		Cutter, Stock float64
	}
}

type slideFile struct {
	TravelPerTurn float64 `toml:"travel_per_turn"`
	Divisions     float64
	Clockwise     string
	TakeUp        string `toml:"take_up"`
	Backlash      float64
	Readout       bool
}

type machineFile struct {
	Name, Unit string
	Slide      map[string]slideFile
}

func readStrictly(t *testing.T, file []byte, into any) {
	t.Helper()
	if err := toml.NewDecoder(bytes.NewReader(file)).DisallowUnknownFields().Decode(into); err != nil {
		t.Fatal(err)
	}
}

// What the job file says is what the bench is, but for what a sweep and winds can find.
func TestBenchJobTellsTheBench(t *testing.T) {
	var job jobFile
	readStrictly(t, BenchJob, &job)
	w := Bench(1)
	for _, c := range []struct {
		name      string
		file, got float64
	}{
		{"reference radius", job.Setup.ReferenceRadius, w.ReferenceRadius},
		{"reach", job.Setup.Reach, w.Reach},
		{"tip diameter", job.Setup.TipDiameter, w.TipDiameter},
		{"lever angle", job.Dial.LeverAngle, w.LeverAngle * 180 / math.Pi},
		{"graduation", job.Dial.Graduation, w.Graduation},
		{"reads to", job.Dial.ReadsTo, w.ReadsTo},
		{"upper end of the dial", job.Dial.Range / 2, w.RangeTo},
		{"lower end of the dial", -job.Dial.Range / 2, w.RangeFrom},
		{"repeatability", job.Dial.Repeatability, w.Noise},
		{"angle error", job.Dial.AngleError, w.AngleNoise * 180 / math.Pi},
		{"tip at the target", job.Target.SwingRadius + job.Setup.Reach, w.ReferenceRadius},
		{"stations", float64(job.Sweep.Stations), 6},
		{"tolerance", job.Target.Tolerance, 0.02},
		{"centre tolerance", job.Target.CentreTolerance, 0.02},
		{"limit of the reference radius, exact", *job.Setup.ReferenceError, 0},
		{"limit of the reference's form, round", *job.Setup.FormError, 0},
		{"limit of the reach, exact", *job.Setup.ReachError, 0},
		{"limit of the dial's error, exact", *job.Dial.Error, 0},
		{"all the way round", job.Sweep.To - job.Sweep.From, 360},
	} {
		wantNear(t, c.name, c.got, c.file)
	}
	if job.Unit != "mm" || job.Setup.Kind != "carried" || job.Setup.Touch != "bore" || !w.Bore {
		t.Errorf("job is %s, %s, %s, want mm, carried, bore", job.Unit, job.Setup.Kind, job.Setup.Touch)
	}
}

func TestBenchMachineTellsTheBench(t *testing.T) {
	var machine machineFile
	readStrictly(t, BenchMachine, &machine)
	w := Bench(1)
	takeUp := map[string]string{"offset": "increase", "x": "increase", "y": "decrease"}
	for name, is := range map[string]Slide{"offset": w.Offset, "x": w.X, "y": w.Y} {
		says := machine.Slide[name]
		wantNear(t, name+": travel per turn", is.TravelPerTurn, says.TravelPerTurn)
		wantNear(t, name+": divisions", is.Divisions, says.Divisions)
		wantNear(t, name+": stated backlash", says.Backlash, 0.15)
		if (says.Clockwise == "increase") != is.ClockwiseIncreases || says.TakeUp != takeUp[name] || says.Readout {
			t.Errorf("slide %s: file says %+v, is %+v", name, says, is)
		}
	}
	if len(machine.Slide) != 3 || machine.Unit != "mm" || machine.Name == "" {
		t.Errorf("machine file %+v, want three slides in mm and a name", machine)
	}
	if w.Y.ClockwiseIncreases || w.Y.TravelPerTurn == w.X.TravelPerTurn {
		t.Error("slide y is like slide x, want a left-hand screw of another pitch")
	}
}

// Over many seeds the errors keep to their bounds, come near to them, and differ among slides.
func TestBenchDraws(t *testing.T) {
	const seeds = 2000
	type span struct{ low, high float64 }
	seen := map[string]span{}
	note := func(what string, v float64) {
		s, ok := seen[what]
		if !ok {
			s = span{v, v}
		}
		seen[what] = span{min(s.low, v), max(s.high, v)}
	}
	var gains []float64
	for seed := range uint64(seeds) {
		w := Bench(seed)
		if w != Bench(seed) {
			t.Fatalf("seed %d: two benches differ", seed)
		}
		for _, s := range []Slide{w.Offset, w.X, w.Y} {
			note("backlash", s.Backlash)
			gains = append(gains, s.Gain)
		}
		if w.X.Backlash == w.Y.Backlash || w.X.Backlash == w.Offset.Backlash || w.X.Gain == w.Y.Gain {
			t.Fatalf("seed %d: two slides with the same errors", seed)
		}
		note("miss", w.OffsetMiss)
		note("swing", w.Start.Swing-42)
		note("centre off", math.Hypot(w.Start.CentreX, w.Start.CentreY))
		note("centre direction", math.Atan2(w.Start.CentreY, w.Start.CentreX))
		sameJob := w
		sameJob.Offset, sameJob.X, sameJob.Y = Slide{}, Slide{}, Slide{}
		sameJob.OffsetMiss, sameJob.Start = 0, Truth{}
		if want := (World{Bore: true, ReferenceRadius: 30, Reach: -12, Graduation: 0.01, ReadsTo: 0.2, RangeFrom: -0.8,
			RangeTo: 0.8, Noise: 0.003, AngleNoise: 0.1 * math.Pi / 180, HandNoise: 0.1}); sameJob != want {
			t.Fatalf("seed %d: another job: %+v, want %+v", seed, sameJob, want)
		}
	}
	wantNormal(t, "gain", gains, 1, 0.003)
	for what, s := range map[string]span{
		"backlash": {0.05, 0.2}, "miss": {-1.5, 1.5}, "swing": {-0.35, 0.35},
		"centre off": {0, 0.3}, "centre direction": {-math.Pi, math.Pi},
	} {
		got, edge := seen[what], (s.high-s.low)/20
		if got.low < s.low || got.high > s.high || got.low > s.low+edge || got.high < s.high-edge {
			t.Errorf("%s: drawn from %g to %g, want all of %g to %g", what, got.low, got.high, s.low, s.high)
		}
	}
}

// A first sweep must be possible: wherever the head is swung, the dial shows a reading.
func TestBenchBeginsOnTheDial(t *testing.T) {
	for seed := range uint64(200) {
		m := New(Bench(seed), seed)
		if w := Bench(seed); math.Abs(m.Truth().Swing-w.Start.Swing) > near {
			t.Fatalf("seed %d: begins at swing %g, want %g", seed, m.Truth().Swing, w.Start.Swing)
		}
		for degrees := 0.0; degrees < 360; degrees += 10 {
			quietAt(m, degrees)
			if n := m.Dial(); n.Off != "" {
				t.Fatalf("seed %d, bearing %g: needle %s", seed, degrees, n.Off)
			}
		}
	}
}
