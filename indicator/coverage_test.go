package indicator_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// scene is one truth and where it is looked at from: a ring of 30, tip turned in by 12, swing 42.
type scene struct {
	bearings []geom.Bearing
	e        geom.Point
	clean    []float64
	stated   bool
	rng      *rand.Rand
}

const sceneSigma = 0.003

func newScene(n int, arc float64, e geom.Point, stated bool, seed uint64) *scene {
	s := &scene{bearings: stations(n, 0.3, arc), e: e, stated: stated, rng: rand.New(rand.NewPCG(seed, uint64(n)))}
	for _, b := range s.bearings {
		s.clean = append(s.clean, seen(e, b))
	}
	return s
}

// fit draws readings and fits them. With stated, the job's repeatability is what nine readings of
// one spot gave, σ·√(χ²/8): the program counts it as eight degrees of freedom.
func (s *scene) fit(t testing.TB) indicator.Estimate {
	t.Helper()
	var d indicator.Dial
	if s.stated {
		d.Repeatability = drawn(s.rng, sceneSigma)
	}
	m := make([]float64, len(s.clean))
	for i := range m {
		m[i] = s.clean[i] + sceneSigma*s.rng.NormFloat64()
	}
	return mustFit(t, d, ring, s.bearings, m)
}

// each calls a test of fixed sweeps: a whole round and 200° of one, with few stations and with
// many, with a repeatability that is itself a find, and without one.
func each(t *testing.T, run func(t *testing.T, n int, arc float64, stated bool)) {
	for _, arc := range []float64{360, 200} {
		for _, n := range []int{4, 6, 8, 12} {
			for _, stated := range []bool{true, false} {
				t.Run(fmt.Sprintf("%d stations on %v°, stated %v", n, arc, stated), func(t *testing.T) { run(t, n, arc, stated) })
			}
		}
	}
}

// The 95 % intervals of the radius and of either component of the centre hold the truth in 95 ± 1 %
// of fixed sweeps. Of 6000 sweeps a share's own standard deviation is 0.28 %.
func TestIntervalCoverage(t *testing.T) {
	const runs = 6000
	all, of := [3]int{}, 0
	each(t, func(t *testing.T, n int, arc float64, stated bool) {
		s := newScene(n, arc, geom.Point{X: 0.3, Y: -0.2}, stated, 61)
		held := [3]int{}
		for range runs {
			f := s.fit(t)
			for i, off := range [3]indicator.Value{{V: f.Swing().V - 42, U: f.Swing().U}, {V: f.CentreX().V - s.e.X, U: f.CentreX().U},
				{V: f.CentreY().V - s.e.Y, U: f.CentreY().U}} {
				if math.Abs(off.V) <= off.U {
					held[i]++
				}
			}
		}
		of += runs
		for i, what := range [3]string{"radius", "x", "y"} {
			all[i] += held[i]
			share := float64(held[i]) / runs
			t.Logf("%s: %.2f %%", what, 100*share)
			if math.Abs(share-0.95) > 0.01 {
				t.Errorf("the interval of %s held the truth in %.2f %%, want 95 ± 1 %%", what, 100*share)
			}
		}
	})
	for i, what := range [3]string{"radius", "x", "y"} { // of all kinds together a share is known to 0.07 %
		off := float64(all[i]) - 0.95*float64(of)
		if most := 4 * math.Sqrt(0.95*0.05*float64(of)); math.Abs(off) > most {
			t.Errorf("%s: of all sweeps %d of %d intervals held the truth, want %.0f ± %.0f", what, all[i], of, 0.95*float64(of), most)
		}
	}
}

// What lies exactly at a limit is called inside in at most 2.5 % of fixed sweeps: the radius at
// either end, the centre in any direction. The allowance is three binomial standard deviations. Of all
// kinds together it is 2.5 % of the radius, neither more nor less, and of the centre no more.
func TestFalseInsideOnFixedSweeps(t *testing.T) {
	const runs = 6000
	most := 0.025 + 3*math.Sqrt(0.025*0.975/runs)
	radii, centres, of := 0, 0, 0
	each(t, func(t *testing.T, n int, arc float64, stated bool) {
		radius, centre := 0, 0
		tolerance := 8 * sceneSigma
		for i := range 24 {
			u := geom.FromDegrees(15 * float64(i)).Unit()
			s := newScene(n, arc, geom.Point{X: tolerance * u.X, Y: tolerance * u.Y}, stated, 62+uint64(i))
			for range runs / 24 {
				f := s.fit(t)
				off := f.Swing()
				// The truth is 42: the target stands off by the tolerance, this way and that.
				off.V += tolerance*float64(1-2*(i%2)) - 42
				if indicator.Judge(off, tolerance, 1) == indicator.Inside {
					radius++
				}
				if f.JudgeCentre(tolerance, indicator.FixedTail) == indicator.Inside {
					centre++
				}
			}
		}
		radii, centres, of = radii+radius, centres+centre, of+runs
		for what, k := range map[string]int{"radius": radius, "centre": centre} {
			t.Logf("%s: %.2f %%", what, 100*float64(k)/runs)
			if float64(k) > most*runs {
				t.Errorf("%s: %d of %d at the limit called inside, want at most 2.5 %%", what, k, runs)
			}
		}
		if radius+centre == 0 {
			t.Error("nothing at the limit is ever called inside: the test stands too far from it")
		}
	})
	t.Logf("all kinds: radius %d of %d called inside", radii, of)
	t.Logf("all kinds: centre %d of %d called inside", centres, of)
	want, slack := 0.025*float64(of), 4*math.Sqrt(0.025*0.975*float64(of))
	if math.Abs(float64(radii)-want) > slack || float64(centres) > want+slack {
		t.Errorf("of %d at the limit %d radii and %d centres are called inside, want %.0f ± %.0f, and no more", of, radii, centres, want, slack)
	}
}
