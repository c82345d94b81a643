package fit

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// arcRows are the equations of a sweep of n stations over an arc: level, e_x, e_y. Where weighted,
// readings weigh from 0.14 to 7.4.
func arcRows(rng *rand.Rand, n int, span geom.Bearing, weighted bool, mean, scatter float64) []equation {
	rows := make([]equation, n)
	for i, b := range evenly(n, geom.Bearing(2*math.Pi*rng.Float64()), span) {
		u, g := b.Unit(), 1.0
		if weighted {
			g = math.Exp(2 * (rng.Float64() - 0.5))
		}
		rows[i] = equation{g, g * u.X, g * u.Y, g * (mean + scatter*rng.NormFloat64())}
	}
	return rows
}

// exactSolution solves the least-squares problem in rational numbers, which a float64 is: normal
// equations by Cramer's rule, without any rounding until the end. It returns p and (AᵀA)⁻¹.
func exactSolution(rows []equation) (p [3]float64, cofactor Sym3) {
	var m [3][4]*big.Rat // AᵀA and Aᵀb
	for j := range m {
		for k := range m[j] {
			m[j][k] = new(big.Rat)
		}
	}
	for _, q := range rows {
		var v [4]*big.Rat
		for j, x := range [4]float64{q.a, q.b, q.c, q.rhs} {
			v[j] = new(big.Rat).SetFloat64(x)
		}
		for j := range 3 {
			for k := range 4 {
				m[j][k].Add(m[j][k], new(big.Rat).Mul(v[j], v[k]))
			}
		}
	}
	minor := func(j, k int) *big.Rat { // cyclic, so that the sign is right
		a, b, c, d := (j+1)%3, (j+2)%3, (k+1)%3, (k+2)%3
		s := new(big.Rat).Mul(m[a][c], m[b][d])
		return s.Sub(s, new(big.Rat).Mul(m[a][d], m[b][c]))
	}
	det := new(big.Rat)
	for k := range 3 {
		det.Add(det, new(big.Rat).Mul(m[0][k], minor(0, k)))
	}
	for j := range 3 {
		sum := new(big.Rat)
		for k := range 3 {
			inv := new(big.Rat).Quo(minor(k, j), det)
			cofactor[j][k], _ = inv.Float64()
			sum.Add(sum, inv.Mul(inv, m[k][3]))
		}
		p[j], _ = sum.Float64()
	}
	return p, cofactor
}

// householder is gonum's solution of the same rows, and its (AᵀA)⁻¹.
func householder(rows []equation) ([3]float64, Sym3) {
	a, b := mat.NewDense(len(rows), 3, nil), mat.NewVecDense(len(rows), nil)
	for i, q := range rows {
		a.SetRow(i, []float64{q.a, q.b, q.c})
		b.SetVec(i, q.rhs)
	}
	var qr mat.QR
	qr.Factorize(a)
	var p mat.VecDense
	_ = qr.SolveVecTo(&p, false, b) // an error here is only a warning of the condition
	return [3]float64{p.AtVec(0), p.AtVec(1), p.AtVec(2)}, gonumCofactor(&qr)
}

// worstCofactor is the largest difference of two cofactors, relative to want's diagonal.
func worstCofactor(got, want Sym3) (worst float64) {
	for i := range 3 {
		for j := range 3 {
			worst = max(worst, apart(got[i][j], want[i][j])/math.Sqrt(want[i][i]*want[j][j]))
		}
	}
	return worst
}

// Short arcs must keep their digits. A stable solution of rows known to ε = 1.1e-16 is off by up to
// ε·κ·(|p| + κ·‖r‖/‖A‖) times a small number (Å. Björck, Numerical Methods for Least Squares
// Problems, SIAM 1996, 1.4.3, from memory), κ the condition; normal equations would be off by
// ε·κ²·|p|, a million times that at 1°. Nor may Householder's QR, of another library, do better:
// on these rows it does worse, for the level's column comes first and takes away the mean. Arcs on
// both sides of where the last stage needs another pass through the rows are among them.
func TestFactorKeepsDigits(t *testing.T) {
	const eps = 1.1e-16
	rng := rand.New(rand.NewPCG(26, 51))
	for _, span := range []geom.Bearing{330, 270, 180, 150, 120, 90, 60, 20, 5, 3, 2, 1} {
		for _, c := range []struct {
			what          string
			weighted      bool
			mean, scatter float64 // mm
		}{
			{"distances", false, 30, 0.0005}, {"residuals", false, 0, 0.0005}, {"weighted distances", true, 30, 0.0005},
		} {
			var ours, theirs, oursCofactor, theirsCofactor float64 // in parts of the bound
			for range 30 {
				rows := arcRows(rng, 12, span*geom.Degree, c.weighted, c.mean, c.scatter)
				want, wantCofactor := exactSolution(rows)
				other, otherCofactor := householder(rows)
				left, size, length := 0.0, 0.0, math.Hypot(want[0], math.Hypot(want[1], want[2]))
				for _, q := range rows {
					left = math.Hypot(left, q.rhs-q.a*want[0]-q.b*want[1]-q.c*want[2])
					size = math.Hypot(size, math.Hypot(q.a, math.Hypot(q.b, q.c)))
				}
				q := factor(rows)
				got, k := q.solve(), q.condition()
				bound := eps * k * (length + k*left/size)
				ours, theirs = max(ours, farthest(got, want)/bound), max(theirs, farthest(other, want)/bound)
				oursCofactor = max(oursCofactor, worstCofactor(q.cofactor(), wantCofactor)/(eps*k))
				theirsCofactor = max(theirsCofactor, worstCofactor(otherCofactor, wantCofactor)/(eps*k))
			}
			most := 2.0
			if span <= 60 { // where another pass is taken
				most = 0.5
			}
			if !(ours <= min(most, theirs)) {
				t.Errorf("%v° of %s: off by %.2g of the bound, Householder by %.2g", span, c.what, ours, theirs)
			}
			if !(oursCofactor <= min(most, theirsCofactor)) {
				t.Errorf("%v° of %s: cofactor off by %.2g of the bound, Householder's by %.2g", span, c.what, oursCofactor, theirsCofactor)
			}
		}
	}
}

// Rows that pass through a few places, a block at a time, leave the same factor.
func TestFoldedRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 52))
	for _, n := range []int{12, 13, 64, 500} {
		rows := arcRows(rng, n, 60*geom.Degree, true, 0, 1)
		if n > 100 { // whole blocks that say nothing of two unknowns
			for i := range rows[:24] {
				rows[i].b, rows[i].c = 0, 0
			}
		}
		var room [12]equation
		some := room[:0]
		for _, q := range rows {
			if len(some) == cap(some) {
				some = fold(some)
			}
			some = append(some, q)
		}
		folded, whole := factor(some), factor(rows)
		got, want := folded.solve(), whole.solve()
		if farthest(got, want) > 1e-12 {
			t.Errorf("%d rows: folded %v, whole %v", n, got, want)
		}
		wantCofactor(t, "folded", folded.cofactor(), whole.cofactor(), 1e-12)
		if apart(folded.gain(), whole.gain()) > 1e-12*whole.gain() {
			t.Errorf("%d rows: gain folded %v, whole %v", n, folded.gain(), whole.gain())
		}
	}
}
