package session_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// creeping is an ideal bench whose indicator slips on its rod by perReading between one reading and
// the next; slip, if set, changes the reading of that number (from 1).
type creeping struct {
	*ideal
	perReading float64
	n          int
	slip       map[int]float64
}

// Do answers like [practice.Machine.Do]; a drift is not decided on.
func (w *creeping) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits != session.ForReading {
		return w.ideal.Do(p)
	}
	w.n++
	return session.Take{Reading: w.reading(p.Reading.Bearing) + w.perReading*float64(w.n-1) + w.slip[w.n]}, true, nil
}

// closingJob is the bench with a closing reading asked for.
func closingJob(t testing.TB, change func(*setup.Job)) session.Opened {
	return with(t, func(j *setup.Job) {
		j.Sweep.Closing, j.Sweep.AtLeast = true, 6
		if change != nil {
			change(j)
		}
	})
}

// A sweep that the job wants closed ends at the station it began with, and is believed when that
// reads as before.
func TestClosingReading(t *testing.T) {
	p := open(t, closingJob(t, nil), near42(0.004, 0.003, 0)).sweepTo(6)
	q := p.prompt()
	if q.Waits != session.ForReading || !q.Reading.Closing || q.Reading.Again || q.Reading.Station != 7 || q.Reading.Bearing != 0 {
		t.Fatalf("after six stations: %+v, want station 7, the closing reading at 0°", q)
	}
	p.answer(1)
	s := p.state()
	if s.Phase != session.SettledDown || s.Sweep.N != 7 || s.Sweep.Entries() != 6 || !s.Sweep.Stations[6].Closing {
		t.Errorf("phase %v with %d entries, %d of them planned, want settled with 7, 6", s.Phase, s.Sweep.N, s.Sweep.Entries())
	}
	// Left out, it is not asked for again.
	p = open(t, closingJob(t, nil), near42(0.004, 0.003, 0)).sweepTo(6)
	p.do(session.Skip{})
	if s := p.state(); s.Phase != session.SettledDown || s.Sweep.Readings() != 6 {
		t.Errorf("phase %v with %d readings after the closing reading was left out, want settled with 6", s.Phase, s.Sweep.Readings())
	}
}

// drifting plays a sweep of 60 µm drift to the question what to do with it.
func drifting(t *testing.T) *player {
	w := &creeping{ideal: near42(0, 0.1, -0.05), perReading: 0.01}
	p := open(t, closingJob(t, nil), w).until(session.ForDrift)
	// The drift made the first station look wrong, and it was asked for once more: readings 2 to 8 count.
	if q := p.prompt(); w.n != 8 || math.Abs(q.Drift.Change-0.06) > 1e-9 {
		t.Fatalf("after %d readings, 10 µm from each to the next: %+v, want 60 µm after 8", w.n, q.Drift)
	}
	for _, c := range []session.Command{session.Take{}, session.Skip{}, session.Enough{}, session.Confirm{}, session.Accept{},
		session.AskClosing{}} {
		if r := p.refused(c); r.Hint == "" {
			t.Errorf("%T is refused without a hint", c)
		}
	}
	return p
}

// The drift taken out, the centre is that of the machine; left in, it is off by what the drift
// makes of it; swept again, the readings are gone from the sweep and not from the journal.
func TestDriftDecided(t *testing.T) {
	p := drifting(t)
	p.do(session.Even{})
	s := p.state()
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	// The readings follow circle and ramp exactly. Number 5 stands in the middle of 2 to 8, and shows 40 µm
	// more than it should; in a bore readings grow with the swing.
	if math.Abs(f.CentreX().V-0.1) > 1e-9 || math.Abs(f.CentreY().V+0.05) > 1e-9 || math.Abs(f.Swing().V-42.04) > 1e-9 {
		t.Errorf("evened: centre (%v, %v), swing %v, want (0.1, -0.05), 42.04", f.CentreX().V, f.CentreY().V, f.Swing().V)
	}
	if math.Abs(f.Change.V-0.06) > 1e-9 || s.Sweep.Closed != session.ByWind {
		t.Errorf("change %v, closed by %q, want 0.06, wind", f.Change.V, s.Sweep.Closed)
	}
	even := f.CentreX().U
	p.do(session.Undo{})
	if q := p.prompt(); q.Waits != session.ForDrift {
		t.Errorf("taken back: waits for %v, want the question again", q.Waits)
	}
	p.do(session.Keep{})
	s = p.state()
	if f, err = s.Fit(); err != nil || f.Change.Known() || math.Hypot(f.CentreX().V-0.1, f.CentreY().V+0.05) < 0.01 {
		t.Errorf("kept: centre (%v, %v), change %v (%v), want more than 10 µm off, and none", f.CentreX().V, f.CentreY().V, f.Change.V, err)
	}
	if !s.Sweep.Stations[6].Kept || f.CentreX().U < even {
		t.Errorf("kept: U %v of x, want more than the %v of the evened fit, for the drift is scatter then", f.CentreX().U, even)
	}
	p = drifting(t)
	p.do(session.Restart{})
	if s = p.state(); s.Sweep.N != 0 || s.Sweep.Drift != nil || s.Phase != session.Sweeping {
		t.Errorf("again: %d entries, drift %v", s.Sweep.N, s.Sweep.Drift)
	}
}

// A closing reading that is a revolution off is a misread and no drift; read again, all is well.
func TestClosingMisread(t *testing.T) {
	w := &creeping{ideal: near42(0.004, 0.003, 0), slip: map[int]float64{7: -1}}
	o := closingJob(t, func(j *setup.Job) { j.Dial.From, j.Dial.To = -2, 2 })
	p := open(t, o, w).sweepTo(6)
	p.answer(1)
	q := p.prompt()
	if !q.Reading.Again || q.Reading.Station != 7 || q.Reading.Doubt.Because != indicator.Revolution {
		t.Fatalf("%+v, want station 7 doubted for a revolution", q)
	}
	p.answer(1)
	if s := p.state(); s.Phase != session.SettledDown || !s.Sweep.Stations[6].Closing || s.Sweep.Stations[6].Order != 8 {
		t.Errorf("read again: phase %v, closing %v, taken as number %d, want settled, true, 8", s.Phase, s.Sweep.Stations[6].Closing,
			s.Sweep.Stations[6].Order)
	}
}

// The person may ask for it at any time once four readings are in; stations asked for behind it want
// another one before the sweep is believed.
func TestClosingWish(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Sweep.AtLeast = 6 })
	p := open(t, o, near42(0.004, 0.003, 0)).sweepTo(3)
	p.refused(session.AskClosing{})
	p.answer(1)
	p.do(session.AskClosing{})
	p.refused(session.AskClosing{})
	if q := p.prompt(); !q.Reading.Closing || q.Reading.Bearing != 0 {
		t.Fatalf("%+v, want the first station", q)
	}
	p.do(session.Undo{})
	if q := p.prompt(); q.Reading.Closing || q.Reading.Station != 5 {
		t.Fatalf("taken back: %+v, want station 5", q)
	}
	p.do(session.AskClosing{})
	p.answer(1)
	if q := p.prompt(); q.Reading.Closing || math.Abs(q.Reading.Bearing.Degrees360()-240) > 1e-9 {
		t.Errorf("after it: %+v, want the fifth planned station, 240°", q)
	}
	p.until(session.ForAccept)
	if s := p.state(); s.Sweep.Entries() != 6 || s.Sweep.N != 7 {
		t.Errorf("%d entries, %d planned, want 7, 6", s.Sweep.N, s.Sweep.Entries())
	}
}

// Clean sweeps with a closing reading raise an alarm of any kind in less than one of a hundred:
// misread, swap, drift and shape together. The bound is three binomial standard deviations above.
func TestAlarmsWithClosing(t *testing.T) {
	const sweeps = 1500
	for _, stated := range []bool{true, false} {
		for _, n := range []int{6, 10} {
			rng := rand.New(rand.NewPCG(91, uint64(n)))
			o := closingJob(t, func(j *setup.Job) {
				j.Dial.From, j.Dial.To, j.Target.Tolerance, j.Target.CentreTolerance = 0, 0, 1, 1
				j.Sweep.AtLeast = n
			})
			d := drawing{sweep: o.Job.Sweep, sigma: 0.003, step: 0.002, stated: stated}
			d.sweep.Stations, d.sweep.AtLeast = n, n
			var alarms share
			for range sweeps {
				d.dr, d.e, d.at = 0.1*rng.NormFloat64(), 0.1*rng.Float64(), 2*math.Pi*rng.Float64()
				alarms.add(d.alarmed(t, rng, o))
			}
			t.Logf("%d stations, stated %v: %.2f %% alarms", n, stated, 100*alarms.of())
			if float64(alarms.yes) > alarms.most(0.01) {
				t.Errorf("%d stations, stated %v: %d alarms in %d clean sweeps, need at most 1 %%", n, stated, alarms.yes, sweeps)
			}
		}
	}
}

// alarmed takes one sweep with its closing reading, and reports whether anything was doubted.
func (d drawing) alarmed(t *testing.T, rng *rand.Rand, o session.Opened) bool {
	s := d.begun(t, rng, o)
	w := near42(d.dr, d.e*math.Cos(d.at), d.e*math.Sin(d.at))
	for s.Sweep.Closed == "" {
		e, due := session.Follow(s)
		if !due {
			b, ok := s.NextBearing()
			if !ok {
				t.Fatal("no station is asked for")
			}
			var err error
			if e, err = session.Decide(s, session.Take{Reading: d.shows(rng, w, b)}); err != nil {
				t.Fatal(err)
			}
		}
		switch e.(type) {
		case session.Doubted, session.Drifted:
			return true
		}
		s = s.Apply(e)
	}
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	bearings, readings, _ := s.Readings(&f)
	shape := f.Shape(bearings, readings)
	return shape.TwoIs || shape.ThreeIs
}

// A job's sweep on a part of a circle closes at its own first station.
func TestClosingOnPart(t *testing.T) {
	o := closingJob(t, func(j *setup.Job) {
		j.Sweep.From, j.Sweep.To, j.Dial.From, j.Dial.To = 30*geom.Degree, 210*geom.Degree, 0, 0
	})
	p := open(t, o, near42(0.1, 0.05, 0)).sweepTo(6)
	if q := p.prompt(); !q.Reading.Closing || math.Abs(q.Reading.Bearing.Degrees360()-30) > 1e-9 {
		t.Errorf("%+v, want the closing reading at 30°", q)
	}
}
