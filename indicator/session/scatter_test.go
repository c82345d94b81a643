package session_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// scattering reads the needle with a scatter of 0.003, to a fifth of a division of 0.001.
type scattering struct {
	*ideal
	rng *rand.Rand
}

// Do answers like [practice.Machine.Do].
func (w scattering) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits != session.ForReading {
		return w.ideal.Do(p)
	}
	return session.Take{Reading: math.Round((w.reading(p.Reading.Bearing)+0.003*w.rng.NormFloat64())/0.0002) * 0.0002}, true, nil
}

// scattered plays two settings on a part of a circle with a dial of 0.001 of which nobody has stated how well it repeats. In the first
// one of five readings is a turn of the needle off, and is the one that is asked for again. In the second six clean readings happen to
// lie so that one of them would have been by the rules of old.
func scattered(t testing.TB) *player {
	t.Helper()
	o := fineDial(t)
	o.Job.Sweep = part200(5)
	p := open(t, o, near42(0.05, 0.03, -0.02)).until(session.ForReading).answer(2)
	p.slip(func(r float64) float64 { return r + o.Job.Dial.Revolution })
	p.until(session.ForAccept)
	p.do(session.Accept{})
	o.Job.Sweep = part200(6)
	p.hands = scattering{near42(0.03, -0.02, 0.02), rand.New(rand.NewPCG(scatteredSo, 0))}
	p.do(session.Open{Opened: o})
	return p.until(session.ForNothing)
}

// scatteredSo begins a scatter in which the rules of old blame a reading.
const scatteredSo = 42

// fineDial is the practice bench with a dial of 0.001, 0.2 a turn, and no stated repeatability.
func fineDial(t testing.TB) session.Opened {
	t.Helper()
	o := benchOpened(t)
	o.Job.Dial.Graduation, o.Job.Dial.Revolution, o.Job.Dial.Repeatability = 0.001, 0.2, 0
	return o
}

// Of five readings the one is asked for again that is a turn off, and of six clean ones none; the rules of old name two of the five, and
// one of the six.
func TestFineDialIsAskedAgainRightly(t *testing.T) {
	p := scattered(t)
	if got := p.doubts(); len(got) != 1 || got[0].Station != 3 || got[0].Because != indicator.Revolution {
		t.Errorf("asked for again: %+v, want station 3 alone, a turn of the needle off", got)
	}
	var old []int // how many readings the rules of old would have blamed at each first look with all that was planned
	for _, st := range p.steps {
		s := st.After
		if _, took := st.Event.(session.Took); !took || s.Trial != 1 || s.Sweep.Entries() != s.Plan().Stations || s.Doubt != nil {
			continue
		}
		set := *s.Set
		set.Job.Dial.Before = true
		s.Set = &set
		b, m, _ := s.Sweep.Data()
		f, err := indicator.Fit(set.Job.Dial, set.Job.Setup, b, m)
		if err != nil {
			t.Fatal(err)
		}
		old = append(old, len(s.Suspects(&f)))
	}
	if !slices.Equal(old, []int{2, 0, 1}) {
		t.Errorf("the rules of old blame %v, want two of the five as read, none of them put right, one of the six", old)
	}
}

// Clean readings of a fine dial that scatter by three of its divisions: today's rules ask for none again but in one sweep of a hundred,
// those of old in some twenty of them.
func TestFineDialsAreNotDoubted(t *testing.T) {
	for rules, most := range map[int]float64{3: 1, 4: 0.01} {
		o := fineDial(t)
		o.Rules = rules
		d := drawing{sweep: part200(6), sigma: 0.003, step: 0.0002}
		rng := rand.New(rand.NewPCG(72, 6))
		var doubted share
		for range 300 {
			d.dr, d.e, d.at = 0.02*rng.NormFloat64(), 0.02*rng.Float64(), 2*math.Pi*rng.Float64()
			l := d.run(t, rng, o, nil)
			doubted.add(slices.ContainsFunc(l.state.Sweep.Stations[:l.state.Sweep.N], func(st session.Station) bool { return st.Asked }))
		}
		t.Logf("rules %d: %d of %d clean sweeps are doubted", rules, doubted.yes, doubted.all)
		if float64(doubted.yes) > doubted.most(most) {
			t.Errorf("rules %d: %d of %d clean sweeps are doubted, want at most one of a hundred", rules, doubted.yes, doubted.all)
		}
		if rules == 3 && doubted.of() < 0.02 {
			t.Errorf("by the rules of old %d of %d are doubted: nothing is tried", doubted.yes, doubted.all)
		}
	}
}
