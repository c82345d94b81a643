package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// closed adds a closing reading at the first station, and returns the places in time, from −½ to ½.
func closed(t []geom.Bearing) (all []geom.Bearing, tau []float64) {
	all = append(append(all, t...), t[0])
	for i := range all {
		tau = append(tau, float64(i)/float64(len(all)-1)-0.5)
	}
	return all, tau
}

// driftOracle is oracle with the drift as a fourth column, on gonum's QR.
func driftOracle(m Model, start [3]float64, t []geom.Bearing, y, w, tau []float64) (p [4]float64, inv [4][4]float64) {
	copy(p[:], start[:])
	n := len(y)
	jac, rhs := mat.NewDense(n, 4, nil), mat.NewVecDense(n, nil)
	for range 30 {
		for i := range n {
			root := 1.0
			if w != nil {
				root = math.Sqrt(w[i])
			}
			v, row := modelled(m, [3]float64{p[0], p[1], p[2]}, t[i])
			for j := range 3 {
				jac.Set(i, j, root*row[j])
			}
			jac.Set(i, 3, root*tau[i])
			rhs.SetVec(i, root*(y[i]-v-p[3]*tau[i]))
		}
		var step mat.VecDense
		var qr mat.QR
		qr.Factorize(jac)
		_ = qr.SolveVecTo(&step, false, rhs)
		for j := range 4 {
			p[j] += step.AtVec(j)
		}
	}
	var normal, c mat.Dense
	normal.Mul(jac.T(), jac)
	_ = c.Inverse(&normal)
	for i := range 4 {
		for j := range 4 {
			inv[i][j] = c.At(i, j)
		}
	}
	return p, inv
}

// The fit with drift agrees with four unknowns solved at once on gonum's QR.
func TestFitDriftOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 1))
	for range 500 {
		s := random(rng, Sought(rng.IntN(3))).blurred(rng, 0.003)
		tau := make([]float64, len(s.y))
		for i := range tau {
			tau[i] = float64(i)/float64(len(tau)-1) - 0.5
			s.y[i] += 0.05 * tau[i]
		}
		got, err := s.model.FitDrift(s.t, s.y, s.w, tau)
		if err != nil {
			t.Fatal(err)
		}
		p, inv := driftOracle(s.model, s.truth, s.t, s.y, s.w, tau)
		// Rounding of both, on distances of up to 200 mm.
		const rounding = 1e-9
		if far := farthest(got.params(), [3]float64{p[0], p[1], p[2]}); far > rounding || apart(got.Change, p[3]) > rounding {
			t.Fatalf("%+v: %v and change %v, oracle %v", s.model, got.params(), got.Change, p)
		}
		if apart(got.Var/inv[3][3], 1) > 1e-6 {
			t.Fatalf("variance of the change %v, oracle %v", got.Var, inv[3][3])
		}
		for i := range 3 {
			for j := range 3 {
				if apart(got.Cofactor[i][j], inv[i][j]) > 1e-6*math.Sqrt(inv[i][i]*inv[j][j]) {
					t.Fatalf("cofactor %v, oracle %v", got.Cofactor, inv)
				}
			}
		}
	}
}

// Four stations in a row on four unknowns leave nothing over; a drift that the circle can take up
// whole is refused.
func TestFitDriftRefusals(t *testing.T) {
	m := Model{Sought: ZeroDistance, Surface: 30}
	bearings := evenly(6, 0, 2*math.Pi)
	var y, tau []float64
	for _, b := range bearings {
		y, tau = append(y, 0.1), append(tau, math.Cos(float64(b)))
	}
	var singular *SingularError
	if _, err := m.FitDrift(bearings, y, nil, tau); !errors.As(err, &singular) {
		t.Errorf("a drift that goes like a centre error: %v, want a SingularError", err)
	}
	var few *TooFewError
	if _, err := m.FitDrift(bearings[:2], y[:2], nil, tau[:2]); !errors.As(err, &few) {
		t.Errorf("two readings: %v, want a TooFewError", err)
	}
}

// Clean sweeps with a closing reading are called drifting as seldom as the alarm allows, and a
// sweep that drifted by eight standard deviations of a reading is called so nearly always.
func TestDriftAlarm(t *testing.T) {
	const sweeps = 3000
	limit := driftAlarm*sweeps + 3*math.Sqrt(driftAlarm*(1-driftAlarm)*sweeps)
	for _, stated := range []bool{true, false} {
		for _, step := range []float64{0.002, 0.01} {
			for _, n := range []int{5, 6, 8, 12} {
				d := draw{rng: rand.New(rand.NewPCG(22, uint64(n))), n: n, sigma: 0.003, step: step, stated: stated, division: 0.01}
				alarms, found := 0, 0
				for range sweeps {
					s := d.sweep()
					all, tau := closed(s.t)
					truth := s.fit(t)
					y := append(append([]float64(nil), s.y...), math.Round((truth.At(s.t[0])+d.sigma*d.rng.NormFloat64())/step)*step)
					m := Model{Sought: ZeroDistance, Surface: 30}
					f, err := m.FitDrift(all, y, nil, tau)
					if err != nil {
						t.Fatal(err)
					}
					if f.Drifts(y, s.prior) {
						alarms++
					}
					for i := range y {
						y[i] += 0.03 * tau[i]
					}
					if f, err = m.FitDrift(all, y, nil, tau); err == nil && f.Drifts(y, s.prior) {
						found++
					}
				}
				t.Logf("stated %v, step %v, %d stations: %d alarms, a drift of 30 µm found in %.1f %%", stated, step, n, alarms,
					100*float64(found)/sweeps)
				if float64(alarms) > limit {
					t.Errorf("%d alarms in %d clean sweeps, need at most %.0f", alarms, sweeps, limit)
				}
				if stated && step < 0.01 && float64(found) < 0.9*sweeps {
					t.Errorf("a drift of 30 µm found in %d of %d sweeps, need 90 %%", found, sweeps)
				}
			}
		}
	}
}
