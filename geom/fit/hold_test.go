package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// heldOracle fits the centre alone by Gauss–Newton on gonum's QR.
func heldOracle(s sweep, level float64) (e geom.Point, inv mat.Dense, ssr float64) {
	n := len(s.y)
	e = geom.Point{X: s.truth[1], Y: s.truth[2]}
	jac, rhs := mat.NewDense(n, 2, nil), mat.NewVecDense(n, nil)
	for range 40 {
		ssr = 0
		for i := range n {
			root := 1.0
			if s.w != nil {
				root = math.Sqrt(s.w[i])
			}
			v, row := modelled(s.model, [3]float64{level, e.X, e.Y}, s.t[i])
			jac.Set(i, 0, root*row[1])
			jac.Set(i, 1, root*row[2])
			rhs.SetVec(i, root*(s.y[i]-v))
			ssr += root * root * (s.y[i] - v) * (s.y[i] - v)
		}
		var step mat.VecDense
		var qr mat.QR
		qr.Factorize(jac)
		_ = qr.SolveVecTo(&step, false, rhs)
		e.X += step.AtVec(0)
		e.Y += step.AtVec(1)
	}
	var normal mat.Dense
	normal.Mul(jac.T(), jac)
	_ = inv.Inverse(&normal)
	return e, inv, ssr
}

// With the level held, the centre is that of a two-unknown fit on gonum's QR, and it leans as a
// fit at a level a little off does.
func TestHeldOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 1))
	for range 500 {
		s := random(rng, Sought(rng.IntN(2))).blurred(rng, 0.0003)
		s.model.Hold, s.model.Held = true, s.truth[0]+0.001*rng.NormFloat64()
		r := s.fit(t)
		e, inv, ssr := heldOracle(s, s.model.Held)
		if r.Level != s.model.Held || r.Centre.Sub(e).Norm() > 1e-9 || apart(r.SSR, ssr) > 1e-9 {
			t.Fatalf("%+v: level %v, centre %v, sum %v, oracle %v, %v", s.model, r.Level, r.Centre, r.SSR, e, ssr)
		}
		for i := range 2 {
			for j := range 2 {
				if apart(r.Cofactor[i+1][j+1], inv.At(i, j)) > 1e-8*math.Sqrt(inv.At(i, i)*inv.At(j, j)) {
					t.Fatalf("cofactor %v, oracle %v", r.Cofactor, inv)
				}
			}
		}
		const h = 1e-4
		off := s
		off.model.Held += h
		o := off.fit(t)
		lean, want := r.HeldLean(s.t, s.w), o.Centre.Sub(r.Centre)
		// A difference quotient is off by its step's share of the radius, and by the residuals' part of
		// the second derivative.
		if d := (geom.Point{X: lean.X - want.X/h, Y: lean.Y - want.Y/h}); d.Norm() > 1e-3*(1+lean.Norm()) {
			t.Fatalf("lean %v, difference quotient %v", lean, geom.Point{X: want.X / h, Y: want.Y / h})
		}
	}
}

// The spread of a held fit has one degree of freedom more.
func TestHeldSpread(t *testing.T) {
	s := exactly(Model{Sought: ZeroDistance, Surface: 30}, [3]float64{30, 0.1, 0.2}, evenly(6, 0, 2))
	s.model.Hold, s.model.Held = true, 30
	r := s.fit(t)
	if _, dof, ok := r.Spread(Prior{Floor: 0.001}); !ok || dof != 4 {
		t.Errorf("six readings, two unknowns: %v degrees of freedom, want 4", dof)
	}
}

// A level that puts the axis outside the surface is refused, and so is a reading from one bearing.
func TestHeldRefusals(t *testing.T) {
	m := Model{Sought: SurfaceRadius, Hold: true, Held: -1}
	at := evenly(4, 0, 2*math.Pi)
	var outside *OutsideError
	if _, err := m.Fit(at, []float64{30, 30, 30, 30}, nil); !errors.As(err, &outside) {
		t.Errorf("a surface of radius −1: %v, want an OutsideError", err)
	}
	m.Held = math.NaN()
	if _, err := m.Fit(at, []float64{30, 30, 30, 30}, nil); !errors.As(err, &outside) {
		t.Errorf("a surface of no radius: %v, want an OutsideError", err)
	}
}
