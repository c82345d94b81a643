package job_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// ring is the circle in cells of a degree, those true that cannot be reached: the oracle of these
// tests, which shares nothing with the way in which obstacles are kept.
type ring [360]bool

// blocked reports whether a bearing, degrees, lies inside an obstacle; the borders of cells that
// are reached from one side can be reached.
func (r *ring) blocked(deg float64) bool {
	const rounding = 1e-7
	cell := func(x float64) bool { return r[(int(math.Floor(x))%360+360)%360] }
	return cell(deg-rounding) && cell(deg+rounding)
}

// free is the angle, degrees, that can be reached from one bearing counter-clockwise to another.
func (r *ring) free(from, to float64) float64 {
	sum := 0.0
	for at := from; at < to; {
		next := min(math.Floor(at)+1, to)
		if !r[(int(math.Floor(at))%360+360)%360] {
			sum += next - at
		}
		at = next
	}
	return sum
}

// widest is the width of the widest obstacle, degrees.
func (r *ring) widest() float64 {
	widest, run := 0, 0
	for i := range 720 {
		if run++; !r[i%360] {
			run = 0
		}
		widest = max(widest, run)
	}
	return float64(widest)
}

// drawn is a sweep drawn by chance, as a file gives it.
type drawn struct {
	from, to, stations int
	obstacles          [][2]int
	ring               ring
}

func drawSweep(rng *rand.Rand) (d drawn) {
	d.from, d.stations = rng.IntN(540)-180, 3+rng.IntN(20)
	if d.to = d.from + 360; rng.IntN(2) == 0 {
		d.to = d.from + 5 + rng.IntN(355)
	}
	for range 1 + rng.IntN(4) {
		a, wide := rng.IntN(360), 1+rng.IntN([]int{20, 150}[rng.IntN(2)])
		d.obstacles = append(d.obstacles, [2]int{a, (a + wide) % 360})
		for i := range wide {
			d.ring[(a+i)%360] = true
		}
	}
	return d
}

func (d *drawn) text(t testing.TB) string {
	list := ""
	for _, o := range d.obstacles {
		list += fmt.Sprintf("[%d, %d], ", o[0], o[1])
	}
	text := edit(t, shownJob, "to = 360", fmt.Sprintf("to = %d\nobstacles = [%s]", d.to, list))
	return edit(t, edit(t, text, "from = 0 ", fmt.Sprintf("from = %d ", d.from)), "stations = 6", fmt.Sprintf("stations = %d", d.stations))
}

// Whatever stands in the way: every station and every place between two of them can be reached,
// no two are the same, and the steps are even in the angle that can be reached. A sweep of which
// too little is left is refused.
func TestStationsAvoidObstacles(t *testing.T) {
	rng := rand.New(rand.NewPCG(80, 130))
	kinds := map[string]int{}
	for range 4000 {
		d := drawSweep(rng)
		left, whole := d.ring.free(float64(d.from), float64(d.to)), float64(d.to-d.from)
		j, err := job.ParseJob("job.toml", []byte(d.text(t)))
		if (err != nil) != (left < 10 && left < whole) {
			t.Fatalf("%+v: error %v with %v° of %v° left", d.obstacles, err, left, whole)
		}
		if err != nil {
			kinds["refused"]++
			continue
		}
		if got := geom.Bearing(j.Sweep.Left()).Degrees(); math.Abs(got-left) > 1e-6 {
			t.Fatalf("%+v: %v° left, want %v°", d, got, left)
		}
		kinds[d.check(t, j.Sweep)]++
	}
	for _, k := range []string{"part", "ends", "across", "refused"} {
		if kinds[k] < 50 {
			t.Errorf("%d sweeps of the kind %q, want some of each: %v", kinds[k], k, kinds)
		}
	}
}

// check holds one sweep to the rules and says of which kind it is.
func (d *drawn) check(t *testing.T, s setup.Sweep) string {
	t.Helper()
	fail := func(format string, args ...any) {
		t.Helper()
		t.Fatalf("from %d to %d, obstacles %v, %d stations: "+format, append([]any{d.from, d.to, d.obstacles, d.stations}, args...)...)
	}
	var at []float64
	for i := range s.Stations {
		at = append(at, s.Bearing(i).Degrees())
	}
	if !slices.IsSorted(at) || at[0] < float64(d.from)-1e-6 || at[len(at)-1] > float64(d.to)+1e-6 {
		fail("at %v, want them in order", at)
	}
	for i := range s.Stations - 1 {
		at = append(at, s.Between(i).Degrees())
	}
	for i, b := range at {
		if d.ring.blocked(b) || s.Blocked(geom.FromDegrees(b)) {
			fail("%v° cannot be reached", b)
		}
		for _, c := range at[:i] {
			if geom.FromDegrees(b).Apart(geom.FromDegrees(c)) < 1e-4 {
				fail("%v° and %v° are one", b, c)
			}
		}
	}
	for b := range s.Marks(15 * geom.Degree) {
		if deg := b.Degrees(); d.ring.blocked(deg) || deg < float64(d.from)-1e-6 || deg > float64(d.to)+1e-6 {
			fail("mark at %v°", deg)
		}
	}
	at = at[:s.Stations]
	if d.to-d.from < 360 {
		return d.even(at, fail)
	}
	return d.evenRound(at, fail)
}

// even: on a part of a circle one station stands at each end of what can be reached.
func (d *drawn) even(at []float64, fail func(string, ...any)) string {
	step := d.ring.free(float64(d.from), float64(d.to)) / float64(len(at)-1)
	if d.ring.free(float64(d.from), at[0]) > 1e-6 || d.ring.free(at[len(at)-1], float64(d.to)) > 1e-6 {
		fail("at %v, want both ends", at)
	}
	for i := range at[1:] {
		if got := d.ring.free(at[i], at[i+1]); math.Abs(got-step) > 1e-6 {
			fail("%v° from %v° to %v°, want %v°", got, at[i], at[i+1], step)
		}
	}
	return "part"
}

// evenRound: on a whole round all steps but one are even. That one leads across an obstacle from
// edge to edge, or is as long as the others with the widest obstacle counted in.
func (d *drawn) evenRound(at []float64, fail func(string, ...any)) string {
	free := make([]float64, len(at))
	long := make([]float64, len(at))
	odd := 0
	for i, b := range at {
		next := at[(i+1)%len(at)]
		if i == len(at)-1 {
			next += 360
		}
		free[i], long[i] = d.ring.free(b, next), next-b
		if free[i] < free[odd]-1e-6 {
			odd = i
		}
	}
	step := free[(odd+1)%len(at)]
	for i := range free {
		if i != odd && math.Abs(free[i]-step) > 1e-6 {
			fail("at %v: steps %v, want all but one even", at, free)
		}
	}
	switch {
	case free[odd] < 1e-6 && long[odd] > step/2-1e-6:
		return "ends"
	case math.Abs(free[odd]+d.ring.widest()-step) < 1e-6:
		return "across"
	}
	fail("at %v: the step from %v° is %v° long, %v° of it free, the others %v°", at, at[odd], long[odd], free[odd], step)
	return ""
}

// Some layouts that can be followed by hand, degrees.
func TestObstacleLayouts(t *testing.T) {
	for _, c := range []struct {
		name, obstacles string
		from, to        int
		at              []float64
	}{
		// 360 − 50 − 15 leaves 295, five steps of 59 from 130 on; 189 is 11 before the second obstacle.
		{"two", "[[80, 130], [200, 215]]", 0, 360, []float64{21, 80, 130, 189, 263, 322}},
		// 330 in five steps of 66: 30 is less than half a step, so 60 all round, 15 beside each edge.
		{"across zero", "[[350, 20]]", 0, 360, []float64{35, 95, 155, 215, 275, 335}},
		{"overlapping", "[[80, 120], [110, 130], [85, 90], [120, 125]]", 0, 360, []float64{18, 80, 130, 192, 254, 316}},
		{"touching", "[[80, 100], [100, 130]]", 0, 360, []float64{18, 80, 130, 192, 254, 316}},
		{"joined across zero", "[[300, 10], [350, 60]]", 0, 360, []float64{60, 108, 156, 204, 252, 300}},
		{"from inside an obstacle", "[[80, 130]]", 100, 460, []float64{130, 192, 254, 316, 378, 440}},
		// Of 0 to 100 there are left 0 to 20 and 40 to 100.
		{"in a part", "[[20, 40]]", 0, 100, []float64{0, 16, 52, 68, 84, 100}},
		{"at both ends of a part", "[[-20, 10], [90, 120]]", 0, 100, []float64{10, 26, 42, 58, 74, 90}},
		{"beside a part", "[[200, 220]]", 0, 100, []float64{0, 20, 40, 60, 80, 100}},
		{"edges that a station falls on", "[[40, 60]]", 0, 120, []float64{0, 20, 40, 80, 100, 120}},
	} {
		s := mustJob(t, edit(t, edit(t, shownJob, "to = 360", fmt.Sprintf("to = %d\nobstacles = %s", c.to, c.obstacles)), "from = 0 ",
			fmt.Sprintf("from = %d ", c.from))).Sweep
		for i, want := range c.at {
			if got := s.Bearing(i).Degrees(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: station %d stands at %v°, want %v°", c.name, i, got, want)
			}
		}
		if s.Full() {
			t.Errorf("%s: told as free all round", c.name)
		}
	}
}

// Three stations beside a bolt of 4° stand 120° apart: one at each of its edges would be one place
// twice.
func TestNarrowObstacle(t *testing.T) {
	s := mustJob(t, edit(t, shownJob, "stations = 6", "stations = 3\nobstacles = [[58, 62]]")).Sweep
	for i, want := range []float64{0, 120, 240} {
		if got := s.Bearing(i).Degrees(); math.Abs(got-want) > 1e-9 {
			t.Errorf("station %d stands at %v°, want %v°", i, got, want)
		}
	}
}

// obstacles are those from each first bearing to its second, radians.
func obstacles(pairs ...[2]geom.Bearing) (out []setup.Obstacle) {
	for _, p := range pairs {
		out = append(out, setup.Obstacle{From: p[0], To: p[1]})
	}
	return out
}

// What a journal by other hands might hold leads to no crash, and obstacles that leave nothing are
// as none.
func TestOddObstacles(t *testing.T) {
	inf, nan := geom.Bearing(math.Inf(1)), geom.Bearing(math.NaN())
	for _, o := range [][][2]geom.Bearing{
		{{0, 0}}, {{1, -1}}, {{0, 7}}, {{-100, 100}}, {{nan, 1}}, {{0, nan}}, {{-inf, inf}}, {{inf, inf}}, {{1e308, 1.7e308}},
		{{3, 4}, {1, 2}, {1, 5}}, {{0, 3.2}, {3, 6.5}}, {{0, 1e-300}},
	} {
		o := obstacles(o...)
		for _, n := range []int{-1, 0, 1, 2, 3, 64, math.MaxInt} {
			for _, to := range []geom.Bearing{2 * math.Pi, 1, 0, -1, 100, nan} {
				s := setup.Sweep{Stations: n, To: to, Obstacles: o}
				for _, i := range []int{0, 1, 5, 1000} {
					s.Bearing(i)
					if n > 2 {
						s.Between(i)
					}
				}
				if left := s.Left(); left > 100+1e-9 {
					t.Errorf("%+v: %v left", s, left)
				}
				marks := 0
				for range s.Marks(15 * geom.Degree) {
					marks++
				}
				if marks > 400 {
					t.Errorf("%+v: %d marks", s, marks)
				}
			}
		}
	}
	s := setup.Sweep{Stations: 4, To: 2 * math.Pi, Obstacles: obstacles([2]geom.Bearing{0, 7})}
	if s.Left() != 0 || math.Abs(float64(s.Bearing(1))-math.Pi/2) > 1e-9 {
		t.Errorf("nothing left: %v, station at %v; want 0, and as without obstacles", s.Left(), s.Bearing(1))
	}
}
