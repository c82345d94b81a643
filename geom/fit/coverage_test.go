package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// runs is how many sweeps each coverage is counted over, and band how far a count may lie from
// 95 %: four standard deviations of a binomial share, √(0.95·0.05/20000) = 0.154 %. A right
// program would miss one of the bands below with one seed in 600.
const (
	runs = 20000
	band = 4 * 0.00154
)

// counts is how often a stated interval held the truth, by the factors that make it of standard deviations.
type counts struct {
	level, x, y, ellipse int
	k, kEllipse          float64
}

// add counts one fit whose readings spread by sigma.
func (n *counts) add(f Radial, got, truth [3]float64, sigma float64) {
	inside := func(i int) int {
		return count(math.Abs(got[i]-truth[i]) <= n.k*sigma*math.Sqrt(f.Cofactor[i][i]))
	}
	n.level, n.x, n.y = n.level+inside(0), n.x+inside(1), n.y+inside(2)
	n.ellipse += count(holds(f, n.kEllipse*sigma, truth))
}

// cover fits blurred copies of clean and counts. With priorDof > 0 each sweep comes with a
// repeatability that was itself found from that many repeats: σ·√(χ²/ν).
func cover(t *testing.T, clean sweep, rng *rand.Rand, priorDof int) counts {
	t.Helper()
	var n counts
	wantDof := float64(len(clean.t) - MinStations + priorDof)
	n.k, n.kEllipse = Coverage(wantDof), EllipseFactor(Confidence, wantDof)
	for range runs {
		s := clean.blurred(rng, scatter)
		if s.w != nil {
			for i := range s.y {
				s.y[i] = clean.y[i] + (s.y[i]-clean.y[i])/math.Sqrt(s.w[i])
			}
		}
		f := s.fit(t)
		sigma, dof, ok := f.Spread(repeats(rng, priorDof))
		if !ok || dof != wantDof {
			t.Fatalf("spread known %v with %v degrees of freedom, want %v", ok, dof, wantDof)
		}
		n.add(f, f.params(), s.truth, sigma)
	}
	return n
}

// repeats is a repeatability that was found from so many degrees of freedom; of none, no prior.
func repeats(rng *rand.Rand, dof int) (p Prior) {
	if dof > 0 {
		sum := 0.0
		for range dof {
			z := rng.NormFloat64()
			sum += z * z
		}
		p = Prior{Sigma: scatter * math.Sqrt(sum/float64(dof)), Dof: float64(dof)}
	}
	return p
}

// holds reports whether the ellipse of the centre, k times the standard one, holds the truth.
func holds(f Radial, k float64, truth [3]float64) bool {
	e := f.Cofactor.Ellipse()
	dx, dy := truth[1]-f.Centre.X, truth[2]-f.Centre.Y
	u := e.Along.Unit()
	along, across := dx*u.X+dy*u.Y, dy*u.X-dx*u.Y
	return math.Hypot(along/(k*e.Major), across/(k*e.Minor)) <= 1
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func TestCoverageByMonteCarlo(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 31))
	ring := evenly(6, 0.1, 2*math.Pi)
	known := Model{Sought: ZeroDistance, Surface: 30}
	weighted := exactly(known, [3]float64{42, 0.2, -0.1}, ring)
	weighted.w = []float64{1, 0.5, 1, 4, 1, 0.25}
	for _, c := range []struct {
		name     string
		clean    sweep
		priorDof int
	}{
		{"six stations", exactly(known, [3]float64{42, 0.2, -0.1}, ring), 0},
		{"six stations, prior", exactly(known, [3]float64{42, 0.2, -0.1}, ring), 8},
		{"six stations, 10 out", exactly(known, [3]float64{42, 8, -6}, ring), 0},
		{"six stations, weights", weighted, 0},
		{"three stations, prior", exactly(known, [3]float64{42, 0.2, -0.1}, evenly(3, 0.1, 2*math.Pi)), 8},
		{"radius sought", exactly(Model{Sought: SurfaceRadius, Ball: -1}, [3]float64{30, 0.2, -0.1}, ring), 0},
		{"half a ring, prior", exactly(known, [3]float64{42, 0.2, -0.1}, evenly(6, 0.1, math.Pi)), 8},
	} {
		n := cover(t, c.clean, rng, c.priorDof)
		for what, k := range map[string]int{"level": n.level, "e_x": n.x, "e_y": n.y, "centre's ellipse": n.ellipse} {
			share := float64(k) / runs
			t.Logf("%s, %s: held %.2f %%", c.name, what, 100*share)
			if apart(share, Confidence) > band {
				t.Errorf("%s: the interval of %s held the truth in %.2f %%, want 95 ±%.2f %%", c.name, what, 100*share, 100*band)
			}
		}
	}
}
