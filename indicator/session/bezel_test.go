package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// rezeroed is an ideal bench whose bezel is turned by the person now and then.
type rezeroed struct {
	*ideal
	by float64
}

// Do answers like [practice.Machine.Do].
func (w *rezeroed) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForReading {
		return session.Take{Reading: w.reading(p.Reading.Bearing) + w.by}, true, nil
	}
	if p.Waits == session.ForWind && p.Wind.Told.Park != nil {
		if _, _, err := w.ideal.Do(p); err != nil {
			return nil, false, err
		}
		return session.Take{Reading: w.reading(p.Wind.Told.Park.Bearing) + w.by}, true, nil
	}
	return w.ideal.Do(p)
}

// A dial that is set anew in the middle of a sweep, between the winds, and in the next sweep leaves the
// result where it was: bore and boss, with a lever, and where the reach is not known.
func TestBezel(t *testing.T) {
	for _, boss := range []bool{false, true} {
		for _, reach := range []bool{true, false} {
			o := with(t, func(j *setup.Job) {
				j.Dial.AngleError = 0
				if boss {
					j.Setup.Touch = 1
				}
				if !reach {
					j.Setup.ReachKnown, j.Target = false, setup.Target{CentreTolerance: 0.02}
				}
			})
			world := near42(0.2, 0.15, -0.1)
			world.boss = boss
			w := &rezeroed{ideal: world}
			p := open(t, o, w).sweepTo(3)
			turn := func(by float64) {
				w.by += by
				p.do(session.Bezel{Showed: 0.1, Shows: 0.1 + by})
			}
			turn(-0.25)
			p.until(session.ForWind)
			s := p.state()
			f, err := s.Fit()
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(f.CentreX().V-0.15) > 1e-9 || math.Abs(f.CentreY().V+0.1) > 1e-9 || (reach && math.Abs(f.Swing().V-42.2) > 1e-9) {
				t.Errorf("boss %v, reach %v: centre (%v, %v), swing %v, want (0.15, -0.1), 42.2", boss, reach, f.CentreX().V, f.CentreY().V,
					f.Swing().V)
			}
			now := w.reading(p.prompt().Wind.Told.Park.Bearing)
			turn(0.1)
			if k := p.prompt().Wind.Told.Park; math.Abs(k.Now-now-w.by) > 1e-6 {
				t.Errorf("boss %v, reach %v: needle now %v, want %v", boss, reach, k.Now, now+w.by)
			}
			p.answer(1)
			turn(0.05)
			p.until(session.ForReading)
			if q := p.prompt(); math.Abs(q.Reading.Expected.V-w.reading(q.Reading.Bearing)-w.by) > 1e-3 {
				t.Errorf("boss %v, reach %v: expects %v, want %v", boss, reach, q.Reading.Expected.V, w.reading(q.Reading.Bearing)+w.by)
			}
			p.until(session.ForAccept)
			s = p.state()
			if _, v := verdicts(t, s); s.Trial != 2 || v.Has(2) || v.Has(3) {
				t.Errorf("boss %v, reach %v: %v in trial %d", boss, reach, v, s.Trial)
			}
			if len(s.Odd) != 0 {
				t.Errorf("boss %v, reach %v: odd %+v", boss, reach, s.Odd)
			}
			// The first trial, seen again, still says what it said.
			s.Sweep = s.Past.Sweep
			if f, err = s.Fit(); err != nil || math.Abs(f.CentreX().V-0.15) > 1e-9 || (reach && math.Abs(f.Swing().V-42.2) > 1e-9) {
				t.Errorf("boss %v, reach %v: trial 1 seen again: x %v, swing %v (%v)", boss, reach, f.CentreX().V, f.Swing().V, err)
			}
		}
	}
}

// What is no new setting is refused; one that was told by mistake is taken back.
func TestBezelRefused(t *testing.T) {
	p := open(t, benchOpened(t), near42(0.2, 0, 0)).sweepTo(2)
	before := p.state()
	p.refused(session.Bezel{})
	p.refused(session.Bezel{Showed: math.NaN(), Shows: 1})
	p.do(session.Bezel{Showed: 0.1, Shows: -0.1})
	if s := p.state(); math.Abs(s.Sweep.Stations[0].Reading-before.Sweep.Stations[0].Reading+0.2) > 1e-12 || s.Set.Job.Dial.From != -1 {
		t.Errorf("first reading %v after %v, dial from %v, want 0.2 less, and −1", s.Sweep.Stations[0].Reading,
			before.Sweep.Stations[0].Reading, s.Set.Job.Dial.From)
	}
	p.do(session.Undo{})
	wantSame(t, "taken back", timeless(p.state()), timeless(before))
}
