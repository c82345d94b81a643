package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// drawn is one simulated sweep: equal stations round a ring of radius 30, a centre error of a few
// tenths, readings with normal scatter rounded to a step.
type drawn struct {
	t     []geom.Bearing
	y     []float64
	prior Prior
}

type draw struct {
	rng      *rand.Rand
	n        int
	sigma    float64
	step     float64
	stated   bool    // the repeatability is known, from nine readings of its own
	division float64 // worth of one division, 0 where nobody has said
}

func (d draw) sweep() drawn {
	truth := Radial{Model: Model{Sought: ZeroDistance, Surface: 30}, Level: 30 + 0.2*d.rng.NormFloat64(),
		Centre: geom.Point{X: 0.1 * d.rng.NormFloat64(), Y: 0.1 * d.rng.NormFloat64()}}
	var out drawn
	for i := range d.n {
		b := geom.FromDegrees(360 * float64(i) / float64(d.n))
		out.t = append(out.t, b)
		v := truth.At(b) + d.sigma*d.rng.NormFloat64()
		out.y = append(out.y, math.Round(v/d.step)*d.step)
	}
	if d.stated {
		chi := 0.0
		for range 8 {
			z := d.rng.NormFloat64()
			chi += z * z
		}
		out.prior = Prior{Sigma: math.Hypot(d.sigma*math.Sqrt(chi/8), d.step/math.Sqrt(12)), Dof: 8}
	}
	out.prior.Step = d.division
	return out
}

func (s drawn) fit(t *testing.T) Radial {
	t.Helper()
	r, err := Model{Sought: ZeroDistance, Surface: 30}.Fit(s.t, s.y, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// misread returns a gross slip: a revolution, ten divisions, or anything of 15 standard
// deviations or more.
func (d draw) misread() float64 {
	sign := 1.0
	if d.rng.IntN(2) == 0 {
		sign = -1
	}
	switch d.rng.IntN(3) {
	case 0:
		return sign
	case 1:
		return sign * 0.1
	}
	return sign * (15*d.sigma + 0.5*d.rng.Float64())
}

// TestSuspectsAlarms: clean sweeps raise an alarm (misread, swap or shape) less often than once in
// a hundred, with and without a stated repeatability, with fine and with coarse rounding. The
// bound is the promise plus three binomial standard deviations of the count.
func TestSuspectsAlarms(t *testing.T) {
	const sweeps = 4000
	limit := 0.01*sweeps + 3*math.Sqrt(0.01*0.99*sweeps)
	for _, stated := range []bool{true, false} {
		for _, c := range []struct{ step, division float64 }{{0.002, 0.01}, {0.01, 0.01}, {0.0004, 0.002}, {0.002, 0}} {
			for _, n := range []int{5, 6, 7, 8, 10, 12} {
				d := draw{rng: rand.New(rand.NewPCG(11, uint64(n))), n: n, sigma: 0.003, step: c.step, stated: stated, division: c.division}
				alarms := 0
				for range sweeps {
					s := d.sweep()
					r := s.fit(t)
					shape := r.Shape(s.t, s.y, nil, s.prior)
					if r.Suspects(s.t, s.y, nil, s.prior).N > 0 || shape.TwoIs || shape.ThreeIs {
						alarms++
					}
				}
				if float64(alarms) > limit {
					t.Errorf("stated %v, step %v, division %v, %d stations: %d alarms in %d clean sweeps, need at most %.0f",
						stated, c.step, c.division, n, alarms, sweeps, limit)
				}
			}
		}
	}
}

// TestSuspectsOne: one gross misread is among the suspects in 99 of 100 sweeps where the
// repeatability is stated, from six to twelve stations.
func TestSuspectsOne(t *testing.T) {
	for _, c := range []struct {
		stated bool
		n      int
		need   float64
	}{{true, 6, 0.99}, {true, 8, 0.99}, {true, 12, 0.99}, {false, 6, 0.97}, {false, 8, 0.99}, {false, 12, 0.99}} {
		t.Run(fmt.Sprintf("stated %v n %d", c.stated, c.n), func(t *testing.T) {
			const sweeps = 3000
			d := draw{rng: rand.New(rand.NewPCG(12, uint64(c.n))), n: c.n, sigma: 0.003, step: 0.002, stated: c.stated, division: 0.01}
			found := 0
			for range sweeps {
				s := d.sweep()
				at := d.rng.IntN(c.n)
				s.y[at] += d.misread()
				r := s.fit(t)
				x := r.Suspects(s.t, s.y, nil, s.prior)
				for i := range x.N {
					if x.Index[i] == at {
						found++
					}
				}
			}
			t.Logf("named in %.2f %%", 100*float64(found)/sweeps)
			if float64(found) < c.need*sweeps {
				t.Errorf("named in %d of %d sweeps, need %.0f %%", found, sweeps, 100*c.need)
			}
		})
	}
}

// TestSuspectsAmongEqual: one reading ten divisions off among readings that are all the same is no
// rounding to tenths, whether the repeatability is stated or not.
func TestSuspectsAmongEqual(t *testing.T) {
	for _, n := range []int{6, 8, 12} {
		for _, p := range []Prior{{Sigma: 0.003, Dof: 8, Step: 0.01}, {Floor: 0.002 / math.Sqrt(12), Step: 0.01}} {
			for at := range n {
				s := drawn{prior: p}
				for i := range n {
					s.t, s.y = append(s.t, geom.FromDegrees(360*float64(i)/float64(n))), append(s.y, 30)
				}
				s.y[at] += 0.1
				r := s.fit(t)
				if x := r.Suspects(s.t, s.y, nil, p); x.N != 1 || x.Index[0] != at {
					t.Errorf("%d stations, prior %+v: suspects %+v, want reading %d", n, p, x, at)
				}
			}
		}
	}
}

// TestSuspectsTwo: two gross misreads in ten stations do not hide each other.
func TestSuspectsTwo(t *testing.T) {
	const sweeps, n = 3000, 10
	d := draw{rng: rand.New(rand.NewPCG(13, 1)), n: n, sigma: 0.003, step: 0.002, stated: true, division: 0.01}
	found := 0
	for range sweeps {
		s := d.sweep()
		i := d.rng.IntN(n)
		j := (i + 1 + d.rng.IntN(n-1)) % n
		s.y[i] += d.misread()
		s.y[j] += d.misread()
		r := s.fit(t)
		x := r.Suspects(s.t, s.y, nil, s.prior)
		if x.N == 2 && x.Index == [2]int{min(i, j), max(i, j)} {
			found++
		}
	}
	t.Logf("both named in %.2f %%", 100*float64(found)/sweeps)
	if found < 0.95*sweeps {
		t.Errorf("both named in %d of %d sweeps, need 95 %%", found, sweeps)
	}
}

// TestSuspectsSwap: neighbours entered in each other's place, readings apart by 15 standard
// deviations or more, are found and called swapped.
func TestSuspectsSwap(t *testing.T) {
	const n = 8
	d := draw{rng: rand.New(rand.NewPCG(14, 1)), n: n, sigma: 0.003, step: 0.002, stated: true, division: 0.01}
	found, sweeps := 0, 0
	for sweeps < 2000 {
		s := d.sweep()
		i := d.rng.IntN(n)
		j := (i + 1) % n
		if math.Abs(s.y[i]-s.y[j]) < 15*d.sigma {
			continue
		}
		sweeps++
		s.y[i], s.y[j] = s.y[j], s.y[i]
		r := s.fit(t)
		x := r.Suspects(s.t, s.y, nil, s.prior)
		if x.N == 2 && x.Swapped && x.Index == [2]int{min(i, j), max(i, j)} {
			found++
		}
	}
	t.Logf("named in %.2f %%", 100*float64(found)/float64(sweeps))
	if float64(found) < 0.97*float64(sweeps) {
		t.Errorf("named in %d of %d sweeps, need 97 %%", found, sweeps)
	}
}

// TestShapeAmplitudes: lobes that are there are found with their amplitudes, whatever their phase.
func TestShapeAmplitudes(t *testing.T) {
	for _, c := range []struct{ n, k int }{{6, 2}, {8, 2}, {8, 3}, {12, 3}} {
		d := draw{rng: rand.New(rand.NewPCG(15, 1)), n: c.n, sigma: 0.0001, step: 1e-6, stated: true}
		s := d.sweep()
		for i, b := range s.t {
			s.y[i] += 0.005 * math.Cos(float64(c.k)*float64(b)+0.7)
		}
		r := s.fit(t)
		x := r.Shape(s.t, s.y, nil, s.prior)
		got, is := x.Two, x.TwoIs
		if c.k == 3 {
			got, is = x.Three, x.ThreeIs
		}
		// Four times the standard deviation σ·√(2/n) of an amplitude.
		if !is || math.Abs(got-0.005) > 4*0.0001*math.Sqrt(2/float64(c.n)) {
			t.Errorf("%d stations, %d lobes: amplitude %.5f, significant %v, want 0.005, true", c.n, c.k, got, is)
		}
	}
	// Too few stations for either.
	d := draw{rng: rand.New(rand.NewPCG(15, 2)), n: 5, sigma: 0.003, step: 0.002, stated: true}
	s := d.sweep()
	r := s.fit(t)
	if x := r.Shape(s.t, s.y, nil, s.prior); !math.IsNaN(x.Two) || !math.IsNaN(x.Three) || x.TwoIs {
		t.Errorf("5 stations: %+v, want nothing known", x)
	}
}
