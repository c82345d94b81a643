package fit

import "math"

// equation is one row of a least-squares problem in three unknowns, a·p₀ + b·p₁ + c·p₂ ≈ rhs,
// each side multiplied by the root of its weight.
type equation struct{ a, b, c, rhs float64 }

// qr is the factor of a least-squares problem A·p ≈ b in three unknowns. With A = Q·R it holds R
// without its square roots: R = √D·U, D diagonal, U upper triangular with a diagonal of ones, and
// z = √D⁻¹·Qᵀb, so that U·p = z.
type qr struct {
	u01, u02, u12 float64
	d0, d1, d2    float64
	z0, z1, z2    float64
}

// products are those of the first column with every column: all that the first stage of the
// factorisation needs, gathered while the rows are made.
type products struct{ aa, ab, ac, ar float64 }

func (p products) with(q equation) products {
	return products{
		p.aa + float64(q.a*q.a), p.ab + float64(q.a*q.b), p.ac + float64(q.a*q.c), p.ar + float64(q.a*q.rhs),
	}
}

// factor factors rows whose products are not known yet.
func factor(rows []equation) qr { return productsOf(rows).factor(rows) }

func productsOf(rows []equation) (p products) {
	for i := range rows {
		p = p.with(rows[i])
	}
	return p
}

// alike is how much of the third column may be explained by the second for the last stage to do
// with their products: the difference then loses a bit.
const alike = 0.5

// factor goes by modified Gram–Schmidt, the right-hand side being one more column. Used like this,
// without forming Q, it is as stable as Householder's transformations: R and p are those of
// equations that differ by rounding from the ones given (Å. Björck, Numerical Methods for Least
// Squares Problems, SIAM 1996, 2.4.4, from memory; held by TestFactorKeepsDigits). The last stage
// takes another pass through the rows only where the columns left are alike, as on short arcs.
// Every product is rounded on its own (float64(…)), so that no machine fuses it into the sum.
//
// A column that the ones before it span leaves rounding or 0 in D; solve refuses both.
func (p products) factor(rows []equation) qr {
	u01, u02, z0 := share(p.ab, p.aa), share(p.ac, p.aa), share(p.ar, p.aa)
	var bb, bc, br, cc, cr float64
	for i := range rows {
		v := &rows[i]
		b, c, r := v.b-float64(u01*v.a), v.c-float64(u02*v.a), v.rhs-float64(z0*v.a)
		bb += float64(b * b)
		bc += float64(b * c)
		br += float64(b * r)
		cc += float64(c * c)
		cr += float64(c * r)
	}
	u12, z1 := share(bc, bb), share(br, bb)
	if both := float64(u12 * bc); both <= alike*cc {
		cc, cr = cc-both, cr-float64(u12*br)
	} else {
		cc, cr = 0, 0
		for i := range rows {
			v := &rows[i]
			b, c, r := v.b-float64(u01*v.a), v.c-float64(u02*v.a), v.rhs-float64(z0*v.a)
			c -= float64(u12 * b)
			cc += float64(c * c)
			cr += float64(c * (r - float64(z1*b)))
		}
	}
	return qr{u01, u02, u12, p.aa, bb, cc, z0, z1, share(cr, cc)}
}

// fold replaces rows by the three of their factor, which say all that they had to say of the
// unknowns: so any number of rows passes through a few places.
func fold(rows []equation) []equation {
	f := factor(rows)
	r0, r1, r2 := math.Sqrt(f.d0), math.Sqrt(f.d1), math.Sqrt(f.d2)
	return append(rows[:0],
		equation{r0, f.u01 * r0, f.u02 * r0, f.z0 * r0},
		equation{0, r1, f.u12 * r1, f.z1 * r1},
		equation{0, 0, r2, f.z2 * r2})
}

// share is x/d, and 0 of a column that is zero.
func share(x, d float64) float64 {
	if d == 0 {
		return 0
	}
	return x / d
}

// solve returns p by back substitution; no numbers where R is singular.
func (q *qr) solve() (p [3]float64) {
	p[2] = q.z2
	p[1] = q.z1 - float64(q.u12*p[2])
	p[0] = q.z0 - float64(q.u01*p[1]) - float64(q.u02*p[2])
	return p
}

// singular returns a *SingularError for a condition beyond maxCondition, or that is no number.
func singular(condition float64) error {
	if condition < maxCondition {
		return nil
	}
	if math.IsNaN(condition) {
		condition = math.Inf(1)
	}
	return &SingularError{Condition: condition}
}

// gain returns how much the sum of squares falls, by the linear model, when p is taken.
func (q *qr) gain() float64 {
	return float64(float64(q.z0*q.z0)*q.d0) + float64(float64(q.z1*q.z1)*q.d1) + float64(float64(q.z2*q.z2)*q.d2)
}

// inverse returns R⁻¹, upper triangular; infinities where R is singular.
func (q *qr) inverse() [3][3]float64 {
	s0, s1, s2 := 1/math.Sqrt(q.d0), 1/math.Sqrt(q.d1), 1/math.Sqrt(q.d2)
	return [3][3]float64{
		{s0, -q.u01 * s1, (float64(q.u01*q.u12) - q.u02) * s2},
		{0, s1, -q.u12 * s2},
		{0, 0, s2},
	}
}

// cofactor returns (JᵀWJ)⁻¹ = U⁻¹·D⁻¹·U⁻ᵀ.
func (q *qr) cofactor() Sym3 {
	i0, i1, i2 := 1/q.d0, 1/q.d1, 1/q.d2
	v02 := float64(q.u01*q.u12) - q.u02
	c01 := -float64(q.u01*i1) - float64(float64(v02*q.u12)*i2)
	c02, c12 := v02*i2, -q.u12*i2
	return Sym3{
		{i0 + float64(float64(q.u01*q.u01)*i1) + float64(float64(v02*v02)*i2), c01, c02},
		{c01, i1 + float64(float64(q.u12*q.u12)*i2), c12},
		{c02, c12, i2},
	}
}

// condition returns ‖R‖·‖R⁻¹‖ in Frobenius norms, which is at least the condition number; infinity
// or no number where R is singular.
func (q *qr) condition() float64 {
	u01, u02, u12 := float64(q.u01*q.u01), float64(q.u02*q.u02), float64(q.u12*q.u12)
	v02 := float64(q.u01*q.u12) - q.u02
	all := float64((1+u01+u02)*q.d0) + float64((1+u12)*q.d1) + q.d2
	return math.Sqrt(all * (1/q.d0 + (1+u01)/q.d1 + (1+u12+float64(v02*v02))/q.d2))
}
