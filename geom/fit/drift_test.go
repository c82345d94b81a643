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

// closing is a clean sweep's readings with a closing one, rounded like them.
func (d draw) closing() (all []geom.Bearing, y, tau []float64, p Prior) {
	s := d.sweep()
	all, tau = closed(s.t)
	return all, append(s.y, math.Round((s.truth.At(s.t[0])+d.sigma*d.rng.NormFloat64())/d.step)*d.step), tau, s.prior
}

// drifts reports whether readings are called drifting, those of no fit too.
func drifts(all []geom.Bearing, y, tau []float64, p Prior) bool {
	f, err := Model{Sought: ZeroDistance, Surface: 30}.FitDrift(all, y, nil, tau)
	return err == nil && f.Drifts(y, p)
}

// Clean sweeps with a closing reading are called drifting as seldom as the alarm promises, all kinds of them counted together, and a
// sweep that drifted by eight standard deviations of a reading is called so nearly always.
func TestDriftAlarm(t *testing.T) {
	const sweeps = 3000
	alarms, of := 0, 0
	for _, stated := range []bool{true, false} {
		for _, step := range []float64{0.002, 0.01} {
			for _, n := range []int{5, 6, 8, 12} {
				d := draw{rng: rand.New(rand.NewPCG(22, uint64(n))), n: n, sigma: 0.003, step: step, stated: stated, division: 0.01}
				found := 0
				for range sweeps {
					all, y, tau, p := d.closing()
					alarms += count(drifts(all, y, tau, p))
					for i := range y {
						y[i] += 0.03 * tau[i]
					}
					found += count(drifts(all, y, tau, p))
				}
				of += sweeps
				if stated && step < 0.01 && float64(found) < 0.9*sweeps {
					t.Errorf("a drift of 30 µm found in %d of %d sweeps, need 90 %%", found, sweeps)
				}
			}
		}
	}
	t.Logf("%d alarms in %d clean sweeps", alarms, of)
	if most := promisedDrift*float64(of) + 4*binomial(promisedDrift, of); float64(alarms) > most {
		t.Errorf("%d alarms in %d clean sweeps, need at most %.0f", alarms, of, most)
	}
}

// binomial is the standard deviation of a count of so many, of which each is counted at a rate.
func binomial(rate float64, of int) float64 { return math.Sqrt(rate * (1 - rate) * float64(of)) }

// Readings so fine that nothing is rounded are called drifting at the very rate that is promised, neither oftener nor more seldom: the
// bounds are those of a count, two-sided, at four standard deviations.
func TestDriftAlarmIsItsRate(t *testing.T) {
	const sweeps = 5000
	alarms, of := 0, 0
	for _, stated := range []bool{true, false} {
		for _, n := range []int{4, 6, 9} {
			d := draw{rng: rand.New(rand.NewPCG(23, uint64(n))), n: n, sigma: 0.003, step: 1e-8, stated: stated}
			for range sweeps {
				all, y, tau, p := d.closing()
				alarms += count(drifts(all, y, tau, p))
			}
			of += sweeps
		}
	}
	t.Logf("%d alarms in %d clean sweeps", alarms, of)
	if off := float64(alarms) - promisedDrift*float64(of); math.Abs(off) > 4*binomial(promisedDrift, of) {
		t.Errorf("%d alarms in %d clean sweeps, need %.0f ± %.0f", alarms, of, promisedDrift*float64(of), 4*binomial(promisedDrift, of))
	}
}

// Readings in whole steps that come out exactly on a circle and a drift prove none, though nobody has said what the step is: four
// stations and a closing one leave a single degree of freedom, and rounding makes of it nothing often enough.
func TestDriftOfRoundedReadings(t *testing.T) {
	const sweeps = 4000
	alarms, of := 0, 0
	for _, sigma := range []float64{0.001, 0.003} {
		d := draw{rng: rand.New(rand.NewPCG(24, 4)), n: 4, sigma: sigma, step: 0.01}
		for range sweeps {
			all, y, tau, _ := d.closing()
			alarms += count(drifts(all, y, tau, Prior{}))
		}
		of += sweeps
	}
	if most := promisedDrift*float64(of) + 4*binomial(promisedDrift, of); float64(alarms) > most {
		t.Errorf("%d alarms in %d clean sweeps read in steps of 0.01, need at most %.0f", alarms, of, most)
	}
}
