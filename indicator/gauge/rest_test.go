package gauge

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// trembling are needles that stand and tremble, by their standard deviation.
func trembling(sd float64, rng *rand.Rand) map[string]func(i int) float64 {
	slow := 0.0
	return map[string]func(int) float64{
		"noise": func(int) float64 { return sd * rng.NormFloat64() },
		"vibration": func(i int) float64 {
			return sd * math.Sqrt2 * math.Sin(2*math.Pi*0.137*float64(i)) * (1 + 0.1*rng.NormFloat64())
		},
		// what the instrument's own averaging makes of noise: a sample is like the one before it
		"filtered": func(int) float64 {
			slow = 0.7*slow + math.Sqrt(1-0.7*0.7)*rng.NormFloat64()
			return sd * slow
		},
	}
}

// many says that the thousands are run.
func many() bool { return os.Getenv("TRAMMEL_TRAPS") != "" }

// A needle that stands, and trembles near the edge of the range, is said to stand and to move a few times a minute at the most; by
// the rule alone it would be several hundred times (noise of 0.13 of the range, 10 samples 20 ms apart: 293 times).
func TestSteadySeldomFlickers(t *testing.T) {
	const most = 20 // a minute
	minutes, times := 2, []time.Duration{20 * time.Millisecond}
	if many() {
		minutes, times = 10, []time.Duration{time.Millisecond, 20 * time.Millisecond, 100 * time.Millisecond}
	}
	for _, n := range []int{5, 10, 30} {
		for _, every := range times {
			for _, share := range []float64{0.05, 0.1, 0.13, 0.15, 0.18, 0.2, 0.3, 0.4} {
				for name, shows := range trembling(share*simBand, rand.New(rand.NewPCG(21, uint64(n)))) {
					s := NewSteady(n, simBand)
					changes, was := 0, false
					for i := range minutes * int(time.Minute/every) {
						at := simBegin.Add(time.Duration(i) * every)
						s.Add(shows(i), at)
						if _, err := s.Mean(at); (err == nil) != was {
							was, changes = !was, changes+1
						}
					}
					if changes > most*minutes {
						t.Errorf("%s of %v of the range, %d samples %v apart: %d changes in %d minutes, want at most %d a minute", name, share, n,
							every, changes, minutes, most)
					}
				}
			}
		}
	}
}

// One that stood, and trembles, is not taken for still while it goes by more than the range within the window: fewer than 1 in 1000
// looks.
func TestSteadyLetsGo(t *testing.T) {
	runs := 100
	if many() {
		runs = 3000
	}
	for _, n := range []int{5, 10, 30} {
		for _, per := range []float64{1.001, 1.1, 1.5, 4, 20} {
			rng := rand.New(rand.NewPCG(22, uint64(n)))
			looks, wrong := map[string]int{}, map[string]int{}
			for range runs {
				stood := 2*n + rng.IntN(n)
				for _, m := range motions(per, n, rng) {
					s := NewSteady(n, simBand)
					is := func(i int) float64 { return m.true(max(0, i-stood)) }
					for i := range 6 * n {
						s.Add(m.sent(is(i), i), simTime(i))
						if i < n-1 || is(i)-is(i-n+1) <= simBand {
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
				if 1000*wrong[name] >= all {
					t.Errorf("%s, %v ranges in %d samples: %d false of %d, want below 1 in 1000", name, per, n, wrong[name], all)
				}
			}
		}
	}
}

// A needle that stood, goes elsewhere and comes to rest there is seen to stand within one and a half windows, also where it went by
// less than the range, as when a slide is tapped.
func TestSteadyComesSoonAgain(t *testing.T) {
	runs := 100
	if many() {
		runs = 3000
	}
	for _, n := range []int{5, 10, 30} {
		for _, by := range []float64{0.6, 1.5, 5, 50} {
			rng, late := rand.New(rand.NewPCG(23, uint64(n))), 0
			for range runs {
				s := NewSteady(n, simBand)
				stood := 4*n + rng.IntN(n)
				seen := false
				for i := range stood + n + 3*n/2 { // it stands, goes for a window, and stands
					gone := by * simBand * min(1, max(0, float64(i-stood)/float64(n)))
					s.Add(gone+simBand/20*rng.NormFloat64(), simTime(i))
					m, err := s.Mean(simTime(i))
					seen = err == nil && abs(m.Value-by*simBand) < simBand/4
				}
				if !seen {
					late++
				}
			}
			if late > runs/100 {
				t.Errorf("%d samples, by %v ranges: %d of %d were not seen within 1.5 windows", n, by, late, runs)
			}
		}
	}
}

// Samples from before a silence say nothing of a needle that has come back.
func TestSteadyBehindASilence(t *testing.T) {
	s := NewSteady(5, simBand)
	for i := range 5 {
		s.Add(0.1, simTime(i))
	}
	late := simTime(5).Add(10 * time.Second)
	s.Add(0.1, late)
	if m, err := s.Mean(late); err == nil {
		t.Errorf("one sample behind a silence of 10 s is taken for %+v", m)
	}
}
