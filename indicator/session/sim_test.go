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

// drawing is one simulated sweep's truth and readings: a bore of 30, reach −12, normal scatter,
// readings rounded to step. With stated, the job's repeatability is what nine readings of one spot
// would have given; the session counts them as eight degrees of freedom.
type drawing struct {
	sweep     setup.Sweep
	dr, e, at float64 // swing error, centre error and its bearing
	sigma     float64
	step      float64
	stated    bool
}

var (
	wholeRound = func(n int) setup.Sweep { return setup.Sweep{Stations: n, To: 2 * math.Pi} }
	part200    = func(n int) setup.Sweep {
		return setup.Sweep{Stations: n, From: 20 * geom.Degree, To: 220 * geom.Degree}
	}
)

// stated returns σ·√(χ²/8).
func statedSigma(rng *rand.Rand, sigma float64) float64 {
	sum := 0.0
	for range 8 {
		z := rng.NormFloat64()
		sum += z * z
	}
	return sigma * math.Sqrt(sum/8)
}

// looked is what one sweep came to.
type looked struct {
	state session.State
	found indicator.Estimate
	v     indicator.Verdicts
	truth *ideal
}

// begun is the state in which the sweep of a drawing begins.
func (d drawing) begun(t testing.TB, rng *rand.Rand, base session.Opened) session.State {
	t.Helper()
	o := base
	o.Job.Sweep = d.sweep
	o.Job.Dial.Repeatability = 0
	if d.stated {
		o.Job.Dial.Repeatability = statedSigma(rng, d.sigma)
	}
	s := session.State{}.Apply(o)
	for range o.Job.Needs() {
		s = s.Apply(session.Loaded{})
	}
	return s
}

// shows is what the needle is read as.
func (d drawing) shows(rng *rand.Rand, w *ideal, b geom.Bearing) float64 {
	r := w.reading(b) + d.sigma*rng.NormFloat64()
	if d.step > 0 {
		r = math.Round(r/d.step) * d.step
	}
	return r
}

// run takes readings until the program closes the sweep. read may change a reading, or be nil;
// again says that it is a second one of its station.
func (d drawing) run(t testing.TB, rng *rand.Rand, base session.Opened, read func(station int, again bool, right float64) float64) looked {
	t.Helper()
	s := d.begun(t, rng, base)
	w := near42(d.dr, d.e*math.Cos(d.at), d.e*math.Sin(d.at))
	for range 500 {
		if e, due := session.Follow(s); due {
			s = s.Apply(e)
			if s.Sweep.Closed != "" {
				f, err := s.Fit()
				if err != nil {
					t.Fatal(err)
				}
				return looked{s, f, s.Judge(&f), w}
			}
			continue
		}
		b, ok := s.NextBearing()
		if !ok {
			t.Fatalf("no station is asked for after %d", s.Sweep.N)
		}
		r := d.shows(rng, w, b)
		if read != nil {
			q := s.Prompt()
			r = read(q.Reading.Station, q.Reading.Again, r)
		}
		e, err := session.Decide(s, session.Take{Reading: r})
		if err != nil {
			t.Fatal(err)
		}
		s = s.Apply(e)
	}
	t.Fatal("the sweep does not end")
	return looked{}
}

// share is how often something was so.
type share struct{ yes, all int }

func (s *share) add(yes bool) {
	s.all++
	if yes {
		s.yes++
	}
}

func (s share) of() float64 { return float64(s.yes) / float64(s.all) }

// most is the largest count that a rate of p gives: three binomial standard deviations above.
func (s share) most(p float64) float64 {
	n := float64(s.all)
	return p*n + 3*math.Sqrt(p*(1-p)*n)
}
