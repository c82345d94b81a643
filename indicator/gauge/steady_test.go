package gauge

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// simulated is a stream: the true value at a sample, which is what the slide and the indicator's lever do together, and what
// is sent of it.
type simulated struct {
	name string
	true func(i int) float64
	sent func(v float64, i int) float64
}

const (
	simBand  = 0.01  // mm
	simCount = 0.001 // mm, the last figure of a usual indicator
)

// motions are streams whose true value goes on by per times the band in a window of n samples, and trembles by about a tenth
// of the band.
func motions(per float64, n int, rng *rand.Rand) []simulated {
	step := per * simBand / float64(n-1)
	stick := 1 + rng.IntN(n-2)
	jump := step * float64(stick)
	phase, freq := 2*math.Pi*rng.Float64(), 0.05+0.4*rng.Float64()
	noisy := func(v float64, _ int) float64 { return v + simBand/10*rng.NormFloat64() }
	rounded := func(v float64, _ int) float64 { return simCount * math.Round(v/simCount) }
	shaken := func(v float64, i int) float64 {
		return v + simBand/10*math.Sin(2*math.Pi*freq*float64(i)+phase) + simBand/30*rng.NormFloat64()
	}
	drift := func(i int) float64 { return step * float64(i) }
	slip := func(i int) float64 { return jump * math.Floor(float64(i)/float64(stick)) }
	return []simulated{
		{"drift, trembling", drift, noisy}, {"drift, rounded", drift, rounded}, {"drift, shaken", drift, shaken},
		{"stick-slip, trembling", slip, noisy}, {"stick-slip, shaken", slip, shaken},
	}
}

var simBegin = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

func simTime(i int) time.Time { return simBegin.Add(time.Duration(i) * 20 * time.Millisecond) }

// While the true value moves by more than the band within the window, fewer than 1 in 1000 looks take it for still; and once it
// stands still, it is taken for still within one and a half windows, though it trembles as much.
func TestSteadyIsSeldomFalse(t *testing.T) {
	const runs, windows = 40, 40
	for _, n := range []int{5, 10, 30} {
		for _, per := range []float64{1.001, 1.1, 1.5, 4} {
			rng := rand.New(rand.NewPCG(19, uint64(n)))
			looks, wrong := map[string]int{}, map[string]int{}
			for range runs {
				for _, m := range motions(per, n, rng) {
					s := NewSteady(n, simBand)
					for i := range windows * n {
						s.Add(m.sent(m.true(i), i), simTime(i))
						if i < n-1 || m.true(i)-m.true(i-n+1) <= simBand {
							continue
						}
						looks[m.name]++
						if _, err := s.Mean(simTime(i)); err == nil {
							wrong[m.name]++
						}
					}
				}
			}
			for name, all := range looks {
				if all > 0 && 1000*wrong[name] >= all {
					t.Errorf("%s, %v bands in %d samples: %d false of %d, want below 1 in 1000", name, per, n, wrong[name], all)
				}
			}
		}
	}
}

// A slide that is stopped is seen to stand still within one and a half windows, though the needle trembles by a twentieth of the
// band.
func TestSteadyComesSoon(t *testing.T) {
	for _, n := range []int{5, 10, 30} {
		late := 0
		const runs = 1000
		rng := rand.New(rand.NewPCG(20, uint64(n)))
		for range runs {
			s := NewSteady(n, simBand)
			came := -1
			for i := -2 * n; i < 3*n/2 && came < 0; i++ {
				s.Add(min(0, float64(i))*simBand+simBand/20*rng.NormFloat64(), simTime(i))
				if m, err := s.Mean(simTime(i)); err == nil {
					came = i
					if abs(m.Value) > simBand || m.N != n {
						t.Errorf("n %d: mean %+v, want about 0 of %d", n, m, n)
					}
				}
			}
			if came < 0 {
				late++
			}
		}
		if late > runs/100 {
			t.Errorf("%d of %d stops were not seen within 1.5 windows of %d samples", late, runs, n)
		}
	}
}

// The mean and spread of 1, 2, 3, 4 and 5 thousandths are 3 and √2.5 of them.
func TestMeanAndSpread(t *testing.T) {
	s := NewSteady(5, 1)
	for i, v := range []float64{0.9, 0.001, 0.002, 0.003, 0.004, 0.005} {
		s.Add(v, simTime(i))
	}
	m, err := s.Mean(simTime(6))
	if err != nil || abs(m.Value-0.003) > 1e-12 || abs(m.Spread-0.001*math.Sqrt(2.5)) > 1e-12 || m.N != 5 {
		t.Errorf("%+v, %v", m, err)
	}
	if _, err := s.Mean(simTime(5).Add(3 * time.Second)); err == nil {
		t.Error("a stream that has been silent for 3 s is taken for steady")
	}
	s.Forget()
	var moving *MovingError
	if _, err := s.Mean(simTime(6)); !errors.As(err, &moving) || moving.Have != 0 || moving.Need != 5 {
		t.Errorf("after a reading: %v", err)
	}
}

// A stream is silent behind five of its own times between two samples, and a second at the least: one that sends every 0.6 s after 3 s.
func TestSilenceOfASlowStream(t *testing.T) {
	begin := simTime(0)
	for _, c := range []struct {
		every, holds, silent time.Duration
	}{
		{600 * time.Millisecond, 2990 * time.Millisecond, 3010 * time.Millisecond},
		{900 * time.Millisecond, 4490 * time.Millisecond, 4510 * time.Millisecond},
		{50 * time.Millisecond, 990 * time.Millisecond, 1010 * time.Millisecond},
	} {
		s := NewSteady(5, 0.01)
		var last time.Time
		for i := range 5 {
			last = begin.Add(time.Duration(i) * c.every)
			s.Add(0.1, last)
		}
		if m, err := s.Mean(last.Add(c.holds)); err != nil || m.N != 5 {
			t.Errorf("every %v, %v behind the last: %+v, %v, want what it stands at", c.every, c.holds, m, err)
		}
		var moving *MovingError
		if _, err := s.Mean(last.Add(c.silent)); !errors.As(err, &moving) || moving.Silent != c.silent {
			t.Errorf("every %v, %v behind the last: %v, want it silent", c.every, c.silent, err)
		}
	}
}
