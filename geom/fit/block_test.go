package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// A long sweep passes through a room of blockRows a block at a time. It is as good as by another library that has all the rows
// before it at once, on the whole circle and on arcs whose condition is in the thousands, with weights and without.
func TestBlocksAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 51))
	for _, n := range []int{blockRows, blockRows + 1, 2*blockRows - 3, 2*blockRows - 2, 3*blockRows + 17} {
		for _, sought := range soughts {
			for _, arc := range []geom.Bearing{2 * math.Pi, math.Pi / 9} {
				m := Model{Sought: sought, Surface: 30}
				s := exactly(m, [3]float64{30, 0.8, -0.5}, evenly(n, 1, 1+arc)).blurred(rng, scatter)
				if n%2 == 0 {
					s.w = make([]float64, n)
					for i := range s.w {
						s.w[i] = 0.5 + rng.Float64()
					}
				}
				f, want := s.fit(t), oracle(s.model, s.truth, s.t, s.y, s.w)
				// Rounding is ε times the condition, of a distance of some thirty millimetres; ten times that is let pass.
				if d, most := farthest(f.params(), want.p), max(agreement, 10*30*0x1p-52*f.Condition); d > most {
					t.Errorf("%d readings over %.3g, sought %v: %.15g, oracle %.15g, apart by %.2g, want %.2g", n, arc, sought, f.params(), want.p,
						d, most)
				}
				if d := apart(f.SSR, want.ssr) / want.ssr; d > 1e-9 {
					t.Errorf("%d readings over %.3g, sought %v: SSR %.15g, oracle %.15g", n, arc, sought, f.SSR, want.ssr)
				}
				wantCofactor(t, "in blocks", f.Cofactor, want.cofactor, sameShape)
			}
		}
	}
}

// A certified fit is as good when its rows pass through as few places as can be, folded again and again.
func TestFoldedCertified(t *testing.T) {
	c := certifiedSet(t, "pontius")
	const step = 150000
	for _, room := range []int{4, 5, 11} {
		var rows []equation
		for _, row := range c.Data {
			if len(rows) == room {
				rows = fold(rows)
			}
			x := row[1] / step
			rows = append(rows, equation{1, x, x * x, row[0]})
		}
		q := factor(rows)
		p, s := q.solve(), q.cofactor()
		fitted := func(row []float64) float64 { x := row[1] / step; return p[0] + p[1]*x + p[2]*x*x }
		c.want(t, c.regression(fitted, []float64{p[0], p[1] / step, p[2] / step / step},
			[]float64{s[0][0], s[1][1] / step / step, s[2][2] / step / step / step / step}), 11)
	}
}

// A held radius keeps the centre of a long sweep as of a short one: what is left is square to both columns over all readings, and
// the doubt is that of all of them (the normal equations of two unknowns).
func TestBlocksHeld(t *testing.T) {
	for _, n := range []int{12, blockRows, 2*blockRows + 5} {
		m := Model{Sought: ZeroDistance, Surface: 30, Hold: true, Held: 42}
		s := exactly(m, [3]float64{42, 0.8, -0.5}, evenly(n, 1, 2)).blurred(rand.New(rand.NewPCG(26, 52)), scatter)
		f := s.fit(t)
		var xx, xy, yy, xr, yr float64
		for i := range s.t {
			v, row := modelled(m, f.params(), s.t[i])
			r := s.y[i] - v
			xx, xy, yy = xx+row[1]*row[1], xy+row[1]*row[2], yy+row[2]*row[2]
			xr, yr = xr+row[1]*r, yr+row[2]*r
		}
		if most := 1e-12 * float64(n); math.Abs(xr) > most || math.Abs(yr) > most {
			t.Errorf("%d readings: %.2g and %.2g mm are left along the columns, want %.2g at most", n, xr, yr, most)
		}
		det := xx*yy - xy*xy
		wantCofactor(t, "held", f.Cofactor, Sym3{{}, {0, yy / det, -xy / det}, {0, -xy / det, xx / det}}, sameShape)
	}
}
