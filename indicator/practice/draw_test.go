package practice

import (
	"math"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// openDrawn reads a drawn machine's files.
func openDrawn(d *Drawn) (session.Opened, error) {
	o := session.Opened{Program: "trammel test"}
	var err error
	if o.Job, err = job.ParseJob("job", d.Job); err != nil {
		return o, err
	}
	o.Machine, err = job.ParseMachine("machine", d.Machine)
	return o, err
}

// span is where values lie.
type span struct{ low, high float64 }

// spans notes where named values lie.
type spans map[string]span

func (s spans) note(what string, v float64) {
	if old, ok := s[what]; ok {
		s[what] = span{min(old.low, v), max(old.high, v)}
		return
	}
	s[what] = span{v, v}
}

// fill checks that values keep to their ranges and come within a twentieth of both ends.
func (s spans) fill(t *testing.T, want spans) {
	t.Helper()
	for what, w := range want {
		got, edge := s[what], (w.high-w.low)/20
		if got.low < w.low-near || got.high > w.high+near || got.low > w.low+edge || got.high < w.high-edge {
			t.Errorf("%s: drawn from %g to %g, want all of %g to %g", what, got.low, got.high, w.low, w.high)
		}
	}
}

// Every error keeps to the range that the bench states, and fills it.
func TestDrawRanges(t *testing.T) {
	seen, fine := spans{}, 0
	for seed := range uint64(1000) {
		d := Draw(seed, Options{Locks: true})
		c := Draw(seed, Options{Coarse: true})
		for _, s := range []Slide{d.Offset, d.X, d.Y} {
			seen.note("backlash", s.Backlash)
			seen.note("gain", s.Gain)
			seen.note("wobble", s.Wobble)
			seen.note("lock shift", s.LockShift)
			if s.LockNoise != 0.002 {
				t.Fatalf("lock noise %g, want 0.002", s.LockNoise)
			}
		}
		seen.note("miss", d.OffsetMiss)
		seen.note("noise", d.Noise)
		seen.note("ring", d.RingZero*180/math.Pi)
		seen.note("reference", d.ReferenceRadius)
		seen.note("reach", d.Reach)
		seen.note("two lobes", d.TwoLobe.Height)
		seen.note("three lobes", d.ThreeLobe.Height)
		seen.note("lean", math.Hypot(d.LeanX, d.LeanY)*d.SweepHeight)
		seen.note("spindle", d.SpindleLean*d.SweepHeight)
		seen.note("swing", d.Start.Swing)
		seen.note("centre", math.Hypot(d.Start.CentreX, d.Start.CentreY))
		seen.note("coarse swing", c.Start.Swing)
		seen.note("coarse centre", math.Hypot(c.Start.CentreX, c.Start.CentreY))
		if d.Graduation == 0.002 {
			fine++
		} else if d.Graduation != 0.01 {
			t.Fatalf("graduation %g, want 0.01 or 0.002", d.Graduation)
		}
		if d.ReadsTo != 0.2 || d.HandNoise != 0.1 || math.Abs(d.AngleNoise-0.3*math.Pi/180) > near {
			t.Fatalf("reads to %g, hand %g, angle %g", d.ReadsTo, d.HandNoise, d.AngleNoise)
		}
	}
	seen.fill(t, spans{
		"backlash": {0.02, 0.3}, "gain": {0.997, 1.003}, "wobble": {0, 0.005}, "lock shift": {-0.02, 0.02}, "miss": {-0.5, 0.5},
		"noise": {0.001, 0.005}, "ring": {-2, 2}, "reference": {29.997, 30.003}, "reach": {-12.003, -11.997}, "two lobes": {0, 0.002},
		"three lobes": {0, 0.002}, "lean": {0, 0.002}, "spindle": {-0.002, 0.002}, "swing": {41.65, 42.35}, "centre": {0, 0.3},
		"coarse swing": {40, 44}, "coarse centre": {0, 2},
	})
	// 1000 throws of a coin: four standard deviations are 63.
	if fine < 437 || fine > 563 {
		t.Errorf("%d fine dials of 1000, want about half", fine)
	}
}

// A seed is one machine, whatever it is asked to do: options change where it starts and what clamps
// do, and nothing else.
func TestDrawIsOneMachine(t *testing.T) {
	for seed := range uint64(50) {
		d := Draw(seed, Options{})
		if again := Draw(seed, Options{}); again.World != d.World || string(again.Job) != string(d.Job) ||
			string(again.Machine) != string(d.Machine) {
			t.Fatalf("seed %d draws two machines", seed)
		}
		if d.World == Draw(seed+1, Options{}).World {
			t.Fatalf("seeds %d and %d draw one machine", seed, seed+1)
		}
		o := Draw(seed, Options{Coarse: true, Locks: true})
		w := o.World
		w.Start = d.Start
		for _, s := range []*Slide{&w.Offset, &w.X, &w.Y} {
			if s.LockShift == 0 {
				t.Errorf("seed %d: no lock shift", seed)
			}
			s.LockShift, s.LockNoise = 0, 0
		}
		if w != d.World || string(o.Job) != string(d.Job) {
			t.Errorf("seed %d: options drew another machine", seed)
		}
	}
}

// The files say what their owner could know: nominal figures and limits that hold, the repeatability of
// nine readings, and the backlash to 30 %.
func TestDrawStates(t *testing.T) {
	seen, ratios := spans{}, 0.0
	const seeds = 1000
	for seed := range uint64(seeds) {
		d := Draw(seed, Options{Locks: true})
		o, err := openDrawn(&d)
		if err != nil {
			t.Fatal(err)
		}
		j := o.Job
		want := indicator.Setup{Kind: indicator.Carried, Touch: indicator.Bore, ReferenceRadius: 30, ReferenceLimit: 0.003,
			FormLimit: 0.002, Reach: -12, ReachLimit: 0.003, ReachKnown: true, TiltLimit: 0.0002, SweepHeight: 10}
		if math.Abs(j.Setup.TiltLimit-0.0002) < near {
			j.Setup.TiltLimit = 0.0002
		}
		if j.Setup != want || j.Target != (setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.02}) ||
			d.Want != (Want{42, 0.02, 0.02, false}) {
			t.Fatalf("seed %d: setup %+v, target %+v, wanted %+v", seed, j.Setup, j.Target, d.Want)
		}
		if j.Dial.Graduation != d.Graduation || j.Dial.ReadsTo != d.ReadsTo || j.Dial.From != d.RangeFrom || j.Dial.To != d.RangeTo ||
			math.Abs(j.Dial.AngleError-d.AngleNoise) > near {
			t.Fatalf("seed %d: dial %+v", seed, j.Dial)
		}
		// What nine readings show is the noise and the rounding of what is read.
		seen.note("repeatability", j.Dial.Repeatability)
		ratios += math.Pow(j.Dial.Repeatability, 2) / (math.Pow(d.Noise, 2) + math.Pow(d.Graduation*d.ReadsTo, 2)/12) / seeds
		for i, is := range []Slide{d.Offset, d.X, d.Y} {
			says, ok := o.Machine.Slide([]string{"offset", "x", "y"}[i])
			up := says.Clockwise == slide.Increase
			if !ok || says.TravelPerTurn != is.TravelPerTurn || says.Divisions != is.Divisions || up != is.ClockwiseIncreases ||
				!says.Lock || says.ByCollar {
				t.Fatalf("seed %d: %+v, is %+v", seed, says, is)
			}
			seen.note("stated play", says.Backlash/is.Backlash)
		}
	}
	// The stated figure has three places: half a micrometre of a play of 0.02 is 2.5 %.
	if p := seen["stated play"]; p.low < 0.7-0.025 || p.high > 1.3+0.025 || p.low > 0.72 || p.high < 1.28 {
		t.Errorf("backlash stated at %g to %g of itself, want 0.7 to 1.3", p.low, p.high)
	}
	// A sample variance of nine has a relative standard deviation of √(2/8) = 0.5; of the mean of 1000,
	// 0.016, and four of them 0.063. Sheppard's correction leaves a per cent or two at the coarse end.
	if math.Abs(ratios-1) > 0.08 {
		t.Errorf("stated variance is %.3f of the true one on the average, want 1", ratios)
	}
	if r := seen["repeatability"]; r.low < 0.0002 || r.high > 0.012 {
		t.Errorf("repeatability stated from %g to %g, want it about 0.001 to 0.005", r.low, r.high)
	}
	for _, by := range []bool{false, true} {
		d := Draw(1, Options{byCollar: by})
		o, err := openDrawn(&d)
		if s, _ := o.Machine.Slide("y"); err != nil || s.ByCollar != by || s.Lock {
			t.Errorf("by collar %v: file says %+v, %v", by, s, err)
		}
	}
}
