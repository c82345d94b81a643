package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// What the alarms promise: so many clean sweeps in all, families of tests shared out by Bonferroni.
const (
	promisedMisread = 0.003
	promisedSwap    = 0.001
	promisedShape   = 0.002
	promisedDrift   = 0.002
)

// linear fits y to 1, cos, sin and further columns, on gonum's QR: the sum of squares left, each further column's value and its
// variance for a reading's variance of 1. The circle's own curve is left out: the tests' centres are a hundredth off, where it
// makes 2 nm.
func linear(t []geom.Bearing, y []float64, further ...[]float64) (rss float64, value, cofactor []float64) {
	n, p := len(y), 3+len(further)
	a, b := mat.NewDense(n, p, nil), mat.NewVecDense(n, y)
	for i := range n {
		a.SetRow(i, append([]float64{1, math.Cos(float64(t[i])), math.Sin(float64(t[i]))}, make([]float64, len(further))...))
		for j, c := range further {
			a.Set(i, 3+j, c[i])
		}
	}
	var x, left mat.VecDense
	_ = x.SolveVec(a, b)
	left.MulVec(a, &x)
	left.SubVec(b, &left)
	var normal, inv mat.Dense
	normal.Mul(a.T(), a)
	_ = inv.Inverse(&normal)
	for j := 3; j < p; j++ {
		value, cofactor = append(value, x.AtVec(j)), append(cofactor, inv.At(j, j))
	}
	return mat.Dot(&left, &left), value, cofactor
}

// only is a column that is 1 at i and 0 elsewhere; over one of f at all bearings.
func only(n, i int) []float64 {
	out := make([]float64, n)
	out[i] = 1
	return out
}

func over(t []geom.Bearing, f func(float64) float64) []float64 {
	out := make([]float64, len(t))
	for i, b := range t {
		out[i] = f(float64(b))
	}
	return out
}

// alarm is one kind of alarm: what is done to a clean sweep by so much, whether it is called, and the statistic over the quantile that
// a calculation of its own has for the place where it must begin to be.
type alarm struct {
	name   string
	n      int
	spoil  func(t []geom.Bearing, y []float64, by float64)
	called func(r *Radial, t []geom.Bearing, y []float64) bool
	ratio  func(t []geom.Bearing, y []float64) float64
}

func gossets(p, dof float64) float64 { return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Quantile(p) }
func fisher(p, dof float64) float64  { return distuv.F{D1: 2, D2: dof}.Quantile(p) }

// gained is the F statistic of two further columns beside those that are fitted anyway.
func gained(t []geom.Bearing, y []float64, two [2][]float64, beside ...[]float64) (f, dof float64) {
	less, _, _ := linear(t, y, beside...)
	whole, _, _ := linear(t, y, append(beside, two[0], two[1])...)
	dof = float64(len(y) - 5 - len(beside))
	return (less - whole) / 2 / (whole / dof), dof
}

var lobe = [...]func(t []geom.Bearing) [2][]float64{lobes(2), lobes(3)}

func lobes(k float64) func(t []geom.Bearing) [2][]float64 {
	return func(t []geom.Bearing) [2][]float64 {
		return [2][]float64{
			over(t, func(b float64) float64 { return math.Cos(k * b) }),
			over(t, func(b float64) float64 { return math.Sin(k * b) }),
		}
	}
}

func alarms() []alarm {
	tau := func(n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = float64(i)/float64(n-1) - 0.5
		}
		return out
	}
	addLobe := func(k float64) func(t []geom.Bearing, y []float64, by float64) {
		return func(t []geom.Bearing, y []float64, by float64) {
			for i, b := range t {
				y[i] += by * math.Cos(k*float64(b)+1)
			}
		}
	}
	return []alarm{
		{"one misread", 8, func(_ []geom.Bearing, y []float64, by float64) { y[2] += by },
			func(r *Radial, t []geom.Bearing, y []float64) bool { return r.Suspects(t, y, nil, Prior{}).N > 0 },
			func(t []geom.Bearing, y []float64) float64 {
				n := len(y)
				rss, v, c := linear(t, y, only(n, 2))
				dof := float64(n - 4)
				return math.Abs(v[0]) / math.Sqrt(c[0]*rss/dof) / gossets(1-promisedMisread/2/float64(n), dof)
			}},
		{"two misreads", 10, func(_ []geom.Bearing, y []float64, by float64) { y[2] += by; y[5] -= 1.2 * by },
			func(r *Radial, t []geom.Bearing, y []float64) bool { return r.Suspects(t, y, nil, Prior{}).N == 2 },
			func(t []geom.Bearing, y []float64) float64 {
				n := len(y)
				rss, v, c := linear(t, y, only(n, 2), only(n, 5))
				dof := float64(n - 5)
				least := min(math.Abs(v[0])/math.Sqrt(c[0]), math.Abs(v[1])/math.Sqrt(c[1]))
				return least / math.Sqrt(rss/dof) / gossets(1-promisedMisread/2/float64(n), dof)
			}},
		{"a swap", 8, func(t []geom.Bearing, y []float64, by float64) { // of a ring that stands off by so much, its centre's way
			for i, b := range t {
				y[i] += by * math.Cos(float64(b))
			}
			y[1], y[2] = y[2], y[1]
		},
			func(r *Radial, t []geom.Bearing, y []float64) bool { return r.Suspects(t, y, nil, Prior{}).Swapped },
			func(t []geom.Bearing, y []float64) float64 {
				n := len(y)
				f, dof := gained(t, y, [2][]float64{only(n, 1), only(n, 2)})
				return f / fisher(1-promisedSwap/float64(n), dof)
			}},
		{"two lobes", 7, addLobe(2),
			func(r *Radial, t []geom.Bearing, y []float64) bool { return r.Shape(t, y, nil, Prior{}).TwoIs },
			func(t []geom.Bearing, y []float64) float64 {
				f, dof := gained(t, y, lobe[0](t))
				return f / fisher(1-promisedShape/2, dof)
			}},
		{"three lobes", 10, addLobe(3),
			func(r *Radial, t []geom.Bearing, y []float64) bool { return r.Shape(t, y, nil, Prior{}).ThreeIs },
			func(t []geom.Bearing, y []float64) float64 {
				two := lobe[0](t)
				f, dof := gained(t, y, lobe[1](t), two[0], two[1])
				return f / fisher(1-promisedShape/2, dof)
			}},
		{"a drift", 8, func(t []geom.Bearing, y []float64, by float64) {
			for i, v := range tau(len(t)) {
				y[i] += by * v
			}
		},
			func(r *Radial, t []geom.Bearing, y []float64) bool {
				d, err := r.FitDrift(t, y, nil, tau(len(t)))
				return err == nil && d.Drifts(y, Prior{})
			},
			func(t []geom.Bearing, y []float64) float64 {
				rss, v, c := linear(t, y, tau(len(y)))
				dof := float64(len(y) - 4)
				return math.Abs(v[0]) / math.Sqrt(c[0]*rss/dof) / gossets(1-promisedDrift/2, dof)
			}},
	}
}

// Each alarm begins exactly where its share of one clean sweep in a hundred says: at the quantile of Student's t or of F, from gonum, of a
// statistic from a fit of its own. Half the rate, or twice, moves it by several hundredths.
func TestAlarmsBeginWherePromised(t *testing.T) {
	if sum := promisedMisread + promisedSwap + promisedShape + promisedDrift; sum > 0.01 {
		t.Fatalf("the alarms promise %v of clean sweeps together, need at most 0.01", sum)
	}
	for k, a := range alarms() {
		rng := rand.New(rand.NewPCG(31, uint64(k)))
		var bearings []geom.Bearing
		var clean []float64
		for i := range a.n {
			bearings = append(bearings, geom.FromDegrees(360*float64(i)/float64(a.n)))
			clean = append(clean, 30+1e-4*rng.NormFloat64())
		}
		at := func(by float64) (y []float64, called bool) {
			y = append(y, clean...)
			a.spoil(bearings, y, by)
			r, err := Model{Sought: ZeroDistance, Surface: 30}.Fit(bearings, y, nil)
			if err != nil {
				t.Fatal(err)
			}
			return y, a.called(&r, bearings, y)
		}
		hi := 0.01
		if _, called := at(hi); !called {
			t.Errorf("%s: not called at %v", a.name, hi)
			continue
		}
		lo := hi
		for called := true; called && lo > 1e-6; { // the first step down that is no longer called
			hi, lo = lo, lo/1.05
			_, called = at(lo)
		}
		for range 40 {
			mid := (lo + hi) / 2
			if _, called := at(mid); called {
				hi = mid
			} else {
				lo = mid
			}
		}
		y, _ := at(hi)
		if got := a.ratio(bearings, y); math.Abs(got-1) > 2e-3 {
			t.Errorf("%s begins at %.4f of the promised quantile, need 1", a.name, got)
		}
	}
}
