package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"example.org/trammel/geom"
)

// drawn is one simulated sweep: equal stations round a ring of radius 30, a centre error of a few
// tenths, readings with normal scatter rounded to a step.
type drawn struct {
	t     []geom.Bearing
	y     []float64
	prior Prior
	truth Radial
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
	out := drawn{truth: truth}
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
// a hundred, with and without a stated repeatability, with fine and with coarse rounding: each kind by itself, and all of
// them counted together. The bound is the promise plus three binomial standard deviations of the count.
func TestSuspectsAlarms(t *testing.T) {
	const sweeps, promised = 3200, 0.01
	called, of := 0, 0
	for _, stated := range []bool{true, false} {
		for _, c := range []struct{ step, division float64 }{{0.002, 0.01}, {0.01, 0.01}, {0.0004, 0.002}, {0.002, 0}, {1e-8, 0}} {
			for _, n := range []int{5, 6, 7, 8, 10, 12} {
				d := draw{rng: rand.New(rand.NewPCG(11, uint64(n))), n: n, sigma: 0.003, step: c.step, stated: stated, division: c.division}
				alarms := 0
				for range sweeps {
					s := d.sweep()
					r := s.fit(t)
					shape := r.Shape(s.t, s.y, nil, s.prior)
					alarms += count(r.Suspects(s.t, s.y, nil, s.prior).N > 0 || shape.TwoIs || shape.ThreeIs)
				}
				called, of = called+alarms, of+sweeps
				if float64(alarms) > promised*sweeps+3*binomial(promised, sweeps) {
					t.Errorf("stated %v, step %v, division %v, %d stations: %d alarms in %d clean sweeps, need at most %.0f",
						stated, c.step, c.division, n, alarms, sweeps, promised*sweeps+3*binomial(promised, sweeps))
				}
			}
		}
	}
	// What the three tests promise one by one: of all kinds together no more is called.
	const sum = promisedMisread + promisedSwap + promisedShape
	t.Logf("%d alarms in %d clean sweeps", called, of)
	if float64(called) > sum*float64(of)+3*binomial(sum, of) {
		t.Errorf("%d alarms in %d clean sweeps of all kinds, need at most %.0f", called, of, sum*float64(of))
	}
}

// Readings finer than anything rounds are called lobed at the very rate that is promised: half of it each for two lobes and for three.
// The bounds are those of a count, two-sided, at four standard deviations.
func TestShapeAlarmIsItsRate(t *testing.T) {
	const sweeps = 8000
	two, three, of := 0, 0, 0
	for _, stated := range []bool{true, false} {
		for _, n := range []int{8, 12} {
			d := draw{rng: rand.New(rand.NewPCG(16, uint64(n))), n: n, sigma: 0.003, step: 1e-8, stated: stated}
			for range sweeps {
				s := d.sweep()
				r := s.fit(t)
				shape := r.Shape(s.t, s.y, nil, s.prior)
				two, three = two+count(shape.TwoIs), three+count(shape.ThreeIs)
			}
			of += sweeps
		}
	}
	const each = promisedShape / 2
	for what, k := range map[string]int{"two": two, "three": three} {
		if off := float64(k) - each*float64(of); math.Abs(off) > 4*binomial(each, of) {
			t.Errorf("%s lobes: %d alarms in %d clean sweeps, need %.0f ± %.0f", what, k, of, each*float64(of), 4*binomial(each, of))
		}
	}
}

// lobesLeave returns the least sum of squares with two lobes or three taken out of an amplitude up to a limit, of 1440 phases: each is one
// column more for gonum's solver, and an amplitude beside the best costs its square over the cofactor.
func lobesLeave(t []geom.Bearing, y []float64) func(limit float64) float64 {
	var all [][3]float64 // what the best amplitude leaves, that, and its cofactor
	for _, k := range []float64{2, 3} {
		for i := range 1440 {
			rss, v, c := linear(t, y, over(t, func(b float64) float64 { return math.Cos(k*b - float64(i)*math.Pi/720) }))
			if v[0] > 0 && c[0] > 0 && c[0] < 1e6 { // some stations do not see some phases
				all = append(all, [3]float64{rss, v[0], c[0]})
			}
		}
	}
	return func(limit float64) float64 {
		least := math.Inf(1)
		for _, a := range all {
			short := max(0, a[1]-limit)
			least = min(least, a[0]+short*short/a[2])
		}
		return least
	}
}

// A reading is left unblamed for lobes from that amplitude on at which they explain the sweep as well as the reading being wrong does,
// but for what chance makes of one in two hundred: by a calculation of its own, which turns lobes of one amplitude round through all
// phases and solves for the circle with gonum, and by Student's t from there too.
func TestLobedFromTheirAmplitude(t *testing.T) {
	const sigma, known = 0.001, 8 // of a reading, and to how many degrees of freedom
	for _, c := range []struct {
		n     int
		off   float64
		which Outliers
	}{{5, 0.02, Outliers{N: 1, Index: [2]int{1}}}, {6, 0.0065, Outliers{N: 1, Index: [2]int{4}}},
		{7, 0.005, Outliers{N: 1, Index: [2]int{6}}}, {6, 0.008, Outliers{N: 2, Index: [2]int{0, 3}}}} {
		rng := rand.New(rand.NewPCG(17, uint64(c.n)))
		at := evenly(c.n, 0.3, 2*math.Pi)
		var y []float64
		for range at {
			y = append(y, 0.2*sigma*rng.NormFloat64())
		}
		var left [][]float64
		for _, i := range c.which.Index[:c.which.N] {
			y[i], left = y[i]+c.off, append(left, only(c.n, i))
		}
		r, err := Model{Sought: ZeroDistance, Surface: 30}.Fit(at, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		prior := Prior{Sigma: sigma, Dof: known}
		rest, _, _ := linear(at, y, left...)
		dof := known + float64(c.n-3-c.which.N)
		chance := gossets(1-0.005/2, dof)
		leave, enough := lobesLeave(at, y), rest+chance*chance*(known*sigma*sigma+rest)/dof
		lo, hi := 0.0, 0.1
		for range 40 {
			if mid := (lo + hi) / 2; leave(mid) > enough {
				lo = mid
			} else {
				hi = mid
			}
		}
		if !(hi > 0.0005 && hi < 0.09) {
			t.Fatalf("%d stations: they explain it from %.5f on, need it between nothing and all there is", c.n, hi)
		}
		for limit, want := range map[float64]bool{0.995 * hi: false, 1.005 * hi: true} {
			if got := r.Lobed(at, y, nil, prior, c.which, limit); got != want {
				t.Errorf("%d stations, lobes up to %.5f where they explain it from %.5f on: %v, want %v", c.n, limit, hi, got, want)
			}
		}
	}
}

// thousands is how many sweeps are drawn: so many times few, with TRAMMEL_TRAPS.
func thousands(few int) int {
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		return 10 * few
	}
	return few
}

// alarmsOf counts the clean sweeps of a kind that raise an alarm: a misread, a swap or a shape.
func alarmsOf(t *testing.T, d draw, sweeps int, before bool) (alarms int) {
	t.Helper()
	for range sweeps {
		s := d.sweep()
		s.prior.Before, s.prior.Floor = before, d.step/math.Sqrt(12) // as a dial says
		r := s.fit(t)
		shape := r.Shape(s.t, s.y, nil, s.prior)
		alarms += count(r.Suspects(s.t, s.y, nil, s.prior).N > 0 || shape.TwoIs || shape.ThreeIs)
	}
	return alarms
}

// A dial may be as fine as it will: clean readings of which nobody has stated how well they repeat raise an alarm in no more than one of
// a hundred sweeps, as long as they scatter by no more than three times what the weak prior takes, 4.5 µm. Settings of old, which took
// half of a division, call a sweep in twenty.
func TestSuspectsOfFineDials(t *testing.T) {
	const promised = 0.01
	sweeps := thousands(500)
	old, of := 0, 0
	for _, division := range []float64{0.0005, 0.001, 0.002, 0.00254} {
		for _, n := range []int{5, 6, 7, 8} {
			for _, sigma := range []float64{0.0015, 0.003, 0.0045} {
				d := draw{rng: rand.New(rand.NewPCG(18, uint64(n))), n: n, sigma: sigma, step: division / 5, division: division}
				if a := alarmsOf(t, d, sweeps, false); float64(a) > promised*float64(sweeps)+3*binomial(promised, sweeps) {
					t.Errorf("divisions of %v, %d stations, scatter %v: %d alarms in %d clean sweeps, need at most %.0f", division, n, sigma, a,
						sweeps, promised*float64(sweeps))
				}
				if sigma == 0.003 && division == 0.001 && (n == 6 || n == 7) {
					old, of = old+alarmsOf(t, d, sweeps, true), of+sweeps
				}
			}
		}
	}
	if off := math.Abs(float64(old) - 0.055*float64(of)); off > 5*binomial(0.055, of) {
		t.Errorf("by what was done before %d alarms in %d clean sweeps, need some 5.5 %%", old, of)
	}
}

// Beyond three times what the weak prior takes, clean readings are blamed oftener: no more of them than it says, and no fewer.
func TestSuspectsBeyondTheWeakPrior(t *testing.T) {
	sweeps := thousands(1000)
	for _, c := range []struct {
		n           int
		sigma, says float64
	}{{5, 0.03, 0.02}, {6, 0.03, 0.042}, {7, 0.03, 0.052}, {5, 0.05, 0.102}, {6, 0.05, 0.12}, {7, 0.05, 0.105}} {
		d := draw{rng: rand.New(rand.NewPCG(20, uint64(c.n))), n: c.n, sigma: c.sigma, step: 0.002, division: 0.01}
		blamed := 0
		for range sweeps {
			s := d.sweep()
			s.prior.Floor = d.step / math.Sqrt(12)
			r := s.fit(t)
			blamed += count(r.Suspects(s.t, s.y, nil, s.prior).N > 0)
		}
		t.Logf("%d stations, scatter %v: blamed in %d of %d clean sweeps", c.n, c.sigma, blamed, sweeps)
		if off := math.Abs(float64(blamed) - c.says*float64(sweeps)); off > 4*binomial(c.says, sweeps) {
			t.Errorf("%d stations, scatter %v: blamed in %d of %d clean sweeps, need %.1f %%", c.n, c.sigma, blamed, sweeps, 100*c.says)
		}
	}
}

// What holds the rate of fine dials leaves this of the slips: one of twenty divisions of 0.001, among readings that repeat to one, is
// named in 74 of a hundred sweeps of six and in 99 of seven; one of a turn, 0.1, in all of them.
func TestSuspectsSlipsOfFineDials(t *testing.T) {
	sweeps := thousands(500)
	for _, c := range []struct {
		n          int
		slip, need float64
	}{{6, 0.02, 0.74}, {7, 0.02, 0.985}, {6, 0.1, 1}, {7, 0.1, 1}} {
		d := draw{rng: rand.New(rand.NewPCG(21, uint64(c.n))), n: c.n, sigma: 0.001, step: 0.0002, division: 0.001}
		named := 0
		for range sweeps {
			s := d.sweep()
			at := d.rng.IntN(c.n)
			s.y[at] += c.slip
			s.prior.Floor = d.step / math.Sqrt(12)
			r := s.fit(t)
			x := r.Suspects(s.t, s.y, nil, s.prior)
			named += count(slices.Contains(x.Index[:x.N], at))
		}
		t.Logf("%d stations, a slip of %v: named in %d of %d sweeps", c.n, c.slip, named, sweeps)
		if float64(named) < c.need*float64(sweeps)-4*binomial(c.need, sweeps) {
			t.Errorf("%d stations, a slip of %v: named in %d of %d sweeps, need %.1f %%", c.n, c.slip, named, sweeps, 100*c.need)
		}
	}
}

// One reading among five that is off by a turn of the needle is named, and nothing beside it: any two of five that are left out leave a
// circle through the other three, and say nothing. Before, whichever pair stood first was.
func TestSuspectsOneOfFive(t *testing.T) {
	const n, turn = 5, 1.0
	sweeps := thousands(400)
	for _, stated := range []bool{true, false} {
		d := draw{rng: rand.New(rand.NewPCG(19, n)), n: n, sigma: 0.003, step: 0.002, stated: stated, division: 0.01}
		named, before := 0, 0
		for range sweeps {
			s := d.sweep()
			at := d.rng.IntN(n)
			s.y[at] += turn
			r := s.fit(t)
			x := r.Suspects(s.t, s.y, nil, s.prior)
			named += count(x.N == 1 && x.Index[0] == at)
			s.prior.Before = true
			x = r.Suspects(s.t, s.y, nil, s.prior)
			before += count(slices.Contains(x.Index[:x.N], at))
		}
		if float64(named) < 0.99*float64(sweeps) {
			t.Errorf("stated %v: the one alone is named in %d of %d sweeps, need 99 %%", stated, named, sweeps)
		}
		if float64(before) > 0.5*float64(sweeps) {
			t.Errorf("stated %v: by what was done before it is among those named in %d of %d sweeps, need less than half", stated, before,
				sweeps)
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

// A weight of 4 is a reading of half the spread (weights are relative to the variance of one that weighs 1): with all of them so, and
// that of a reading of weight 1 stated twice as large, everything that is said of a misread, of two and of two in each other's place
// is what it is without weights, its doubt in particular.
func TestSuspectsOfWeightedReadings(t *testing.T) {
	t0 := make([]geom.Bearing, 8)
	for i := range t0 {
		t0[i] = geom.FromDegrees(45 * float64(i))
	}
	four := []float64{4, 4, 4, 4, 4, 4, 4, 4}
	noise := []float64{0.0007, -0.0011, 0.0004, 0.0012, -0.0006, 0.0002, -0.0013, 0.0005}
	for name, slip := range map[string]func(y []float64){
		"one":     func(y []float64) { y[2] += 0.1 },
		"two":     func(y []float64) { y[1], y[5] = y[1]+0.1, y[5]-0.08 },
		"swapped": func(y []float64) { y[2], y[3] = y[3], y[2] },
	} {
		m := Model{Sought: MeanReading}
		y := make([]float64, 8)
		for i := range y {
			y[i] = 0.4*math.Cos(float64(t0[i])) - 0.3*math.Sin(float64(t0[i])) + noise[i]
		}
		slip(y)
		plain, err := m.Fit(t0, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		weighed, err := m.Fit(t0, y, four)
		if err != nil {
			t.Fatal(err)
		}
		want := plain.Suspects(t0, y, nil, Prior{Sigma: 0.001, Dof: 8})
		got := weighed.Suspects(t0, y, four, Prior{Sigma: 0.002, Dof: 8})
		if want.N == 0 || got.N != want.N || got.Index != want.Index || got.Swapped != want.Swapped || got.Dof != want.Dof {
			t.Errorf("%s: %+v, want %+v", name, got, want)
			continue
		}
		for i := range got.N {
			if math.Abs(got.Delta[i]-want.Delta[i]) > 1e-12 || math.Abs(got.Sigma[i]-want.Sigma[i]) > 1e-12 {
				t.Errorf("%s: off by %v ± %v, want %v ± %v", name, got.Delta[i], got.Sigma[i], want.Delta[i], want.Sigma[i])
			}
		}
	}
}

// The same of lobes: what they come to is in the terms of the readings, and so is up to which amplitude they explain a misread.
func TestLobesOfWeightedReadings(t *testing.T) {
	m := Model{Sought: MeanReading}
	var at []geom.Bearing
	var y, four []float64
	noise := []float64{0.0007, -0.0011, 0.0004, 0.0012, -0.0006, 0.0002, -0.0013, 0.0005, -0.0003}
	for i, off := range noise {
		a := geom.FromDegrees(40 * float64(i))
		at, four = append(at, a), append(four, 4)
		y = append(y, 0.01*math.Cos(2*float64(a)-0.3)+0.004*math.Cos(3*float64(a)+1)+off)
	}
	fits := func() (plain, weighed Radial) {
		t.Helper()
		plain, err := m.Fit(at, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		if weighed, err = m.Fit(at, y, four); err != nil {
			t.Fatal(err)
		}
		return plain, weighed
	}
	plain, weighed := fits()
	want, got := plain.Shape(at, y, nil, Prior{Sigma: 0.001, Dof: 8}), weighed.Shape(at, y, four, Prior{Sigma: 0.002, Dof: 8})
	if !want.TwoIs || !want.ThreeIs || got.TwoIs != want.TwoIs || got.ThreeIs != want.ThreeIs || math.Abs(got.Two-want.Two) > 1e-12 ||
		math.Abs(got.Three-want.Three) > 1e-12 || math.Abs(want.Two-0.01) > 0.001 || math.Abs(want.Three-0.004) > 0.001 {
		t.Errorf("lobes %+v, want %+v, of 0.01 and 0.004", got, want)
	}
	// Of six readings an oval of some amplitude explains that one is off by 0.009.
	at, y, four = at[:0], y[:0], four[:6]
	for i := range 6 {
		at, y = append(at, geom.FromDegrees(60*float64(i))), append(y, noise[i])
	}
	y[4] += 0.009
	plain, weighed = fits()
	o := Outliers{N: 1, Index: [2]int{4}}
	explained := 0
	for limit := 0.0005; limit < 0.03; limit += 0.0005 {
		is := plain.Lobed(at, y, nil, Prior{Sigma: 0.001, Dof: 8}, o, limit)
		if is {
			explained++
		}
		if weighed.Lobed(at, y, four, Prior{Sigma: 0.002, Dof: 8}, o, limit) != is {
			t.Errorf("lobes up to %v explain it: not %v with weights of 4, want %v", limit, is, is)
		}
	}
	if explained == 0 || explained == 59 {
		t.Errorf("%d of 59 amplitudes explain it, want some", explained)
	}
}
