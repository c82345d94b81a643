package slide_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator/slide"
)

// BenchmarkLearnt is one computation of everything learnt, from 6 radii and from 64.
func BenchmarkLearnt(b *testing.B) {
	for _, n := range []int{1, 6, 64} {
		b.Run(fmt.Sprintf("%d radii", n), func(b *testing.B) {
			s := usual.sit(rand.New(rand.NewPCG(81, 1)))
			for range n {
				s.radius()
			}
			b.ReportAllocs()
			for b.Loop() {
				if !s.b.Posterior().Known() {
					b.Fatal("nothing learnt")
				}
			}
		})
	}
}

// BenchmarkLearntWorst is 64 radii, each of its own origin and its own set-up.
func BenchmarkLearntWorst(b *testing.B) {
	s := usual.sit(rand.New(rand.NewPCG(82, 1)))
	for range 64 {
		s.b = s.b.Reopen()
		s.newSetup()
		s.see(s.rough(s.h.goal(s.rng)))
	}
	for b.Loop() {
		if !s.b.Posterior().Known() {
			b.Fatal("nothing learnt")
		}
	}
}

// BenchmarkSchool is no timing: it puts many machines through histories of growing length and
// reports, in percent, how often the intervals hold and where the next radius lands. Run with
// -benchtime 1x.
func BenchmarkSchool(b *testing.B) {
	const machines = 20000
	cases := []struct {
		name string
		set  func(h *history)
	}{
		{"usual", func(*history) {}},
		{"miss up to 0.8 where 0.5 is stated", func(h *history) { h.missLimit = 0.8 }},
		{"no miss", func(h *history) { h.missLimit = 0 }},
		{"true screw", func(h *history) { h.waveLimit = 0 }},
		{"screw error up to 10 µm where 5 is stated", func(h *history) { h.waveLimit = 0.010 }},
		{"gain up to 0.6 % where 0.3 is stated", func(h *history) { h.gainLimit = 0.006 }},
	}
	for _, c := range cases {
		for _, n := range []int{1, 3, 5, 8} {
			b.Run(fmt.Sprintf("%s, %d radii", c.name, n), func(b *testing.B) {
				h := usual
				c.set(&h)
				var x held
				for b.Loop() {
					x = h.learn(b, rand.New(rand.NewPCG(83, uint64(n))), machines, n, n)
				}
				for what, share := range map[string]tally{"gain": x.gain, "origin": x.origin, "miss": x.miss, "inside": x.inside,
					"within10um": x.near, "clean": x.clean} {
					b.ReportMetric(share.share(), what+"_%")
				}
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

// BenchmarkSlips reports how often a slipped collar is noticed, by its size in standard deviations of
// the expected radius. Run with -benchtime 1x.
func BenchmarkSlips(b *testing.B) {
	for _, sizes := range []float64{3, 4, 5, 7, 10} {
		b.Run(fmt.Sprintf("%v sd", sizes), func(b *testing.B) {
			var noticed tally
			for b.Loop() {
				noticed = tally{}
				rng := rand.New(rand.NewPCG(84, uint64(sizes)))
				for range 5000 {
					s := usual.sit(rng)
					for range 2 + rng.IntN(4) {
						s.radius()
					}
					c, _ := s.b.Posterior().StartFor(s.h.goal(rng))
					e := s.b.Posterior().Expect(slide.RadiusSeen{Count: c.V, U: 0.0025, Common: s.h.setupU, Setup: s.setup,
						Origin: s.b.Origin})
					s.ring += sizes * e.U / 1.96 * float64(1-2*rng.IntN(2))
					noticed.add(s.see(c.V).Kind == slide.SlippedCollar)
				}
			}
			b.ReportMetric(noticed.share(), "noticed_%")
			b.ReportMetric(0, "ns/op")
		})
	}
}
