package fit

import "math"

// qr is the triangular factor of a least-squares problem in three unknowns, built one row at a
// time by Givens rotations: R·p = b, and the sum of squares that is left over.
type qr struct {
	r   [3][3]float64
	b   [3]float64
	rss float64
}

// add rotates one equation row·p = rhs of the given weight into the factor. Every product is
// rounded on its own (float64(…)), so that no machine fuses it into the sum.
func (q *qr) add(row [3]float64, rhs, weight float64) {
	if weight != 1 {
		s := math.Sqrt(weight)
		for j := range row {
			row[j] *= s
		}
		rhs *= s
	}
	for i := range 3 {
		if row[i] == 0 {
			continue
		}
		h := math.Hypot(q.r[i][i], row[i])
		c, s := q.r[i][i]/h, row[i]/h
		q.r[i][i] = h
		for j := i + 1; j < 3; j++ {
			q.r[i][j], row[j] = float64(c*q.r[i][j])+float64(s*row[j]), float64(c*row[j])-float64(s*q.r[i][j])
		}
		q.b[i], rhs = float64(c*q.b[i])+float64(s*rhs), float64(c*rhs)-float64(s*q.b[i])
	}
	q.rss += float64(rhs * rhs)
}

// solve returns p by back substitution, or a *SingularError.
func (q *qr) solve() ([3]float64, error) {
	if c := q.condition(); !(c < maxCondition) {
		return [3]float64{}, &SingularError{Condition: c}
	}
	var p [3]float64
	for i := 2; i >= 0; i-- {
		s := q.b[i]
		for j := i + 1; j < 3; j++ {
			s -= float64(q.r[i][j] * p[j])
		}
		p[i] = s / q.r[i][i]
	}
	return p, nil
}

// gain returns how much the sum of squares falls, by the linear model, when p is taken.
func (q *qr) gain() float64 {
	return float64(q.b[0]*q.b[0]) + float64(q.b[1]*q.b[1]) + float64(q.b[2]*q.b[2])
}

// inverse returns R⁻¹, upper triangular; infinities where R is singular.
func (q *qr) inverse() [3][3]float64 {
	var v [3][3]float64
	for i := 2; i >= 0; i-- {
		v[i][i] = 1 / q.r[i][i]
		for j := i + 1; j < 3; j++ {
			s := 0.0
			for k := i + 1; k <= j; k++ {
				s -= float64(q.r[i][k] * v[k][j])
			}
			v[i][j] = s * v[i][i]
		}
	}
	return v
}

// cofactor returns (JᵀWJ)⁻¹ = R⁻¹·R⁻ᵀ.
func (q *qr) cofactor() Sym3 {
	v := q.inverse()
	var c Sym3
	for i := range 3 {
		for j := range 3 {
			for k := max(i, j); k < 3; k++ {
				c[i][j] += float64(v[i][k] * v[j][k])
			}
		}
	}
	return c
}

// condition returns ‖R‖·‖R⁻¹‖ in Frobenius norms, which is at least the condition number.
func (q *qr) condition() float64 {
	if q.r[0][0] == 0 || q.r[1][1] == 0 || q.r[2][2] == 0 {
		return math.Inf(1)
	}
	return frobenius(q.r) * frobenius(q.inverse())
}

func frobenius(m [3][3]float64) float64 {
	s := 0.0
	for i := range 3 {
		for j := range 3 {
			s += float64(m[i][j] * m[i][j])
		}
	}
	return math.Sqrt(s)
}
