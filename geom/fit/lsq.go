package fit

import "math"

// maxTerms is the most unknowns of an extended fit: level, centre, two lobes and three.
const maxTerms = 7

// solver is a least-squares problem of up to maxTerms unknowns, factored one row at a time by
// Givens rotations; it serves the tests of shape, which add terms to the circle. (For three unknowns
// [factor] is several times as fast, but it needs all the rows at once and is written out for
// three. Held to certified values by TestRotationsCertified.)
type solver struct {
	n   int
	r   [maxTerms][maxTerms]float64
	b   [maxTerms]float64
	rss float64
}

func (q *solver) add(row [maxTerms]float64, rhs float64) {
	for i := range q.n {
		if row[i] == 0 {
			continue
		}
		h := math.Sqrt(float64(q.r[i][i]*q.r[i][i]) + float64(row[i]*row[i]))
		c, s := q.r[i][i]/h, row[i]/h
		q.r[i][i] = h
		for j := i + 1; j < q.n; j++ {
			q.r[i][j], row[j] = float64(c*q.r[i][j])+float64(s*row[j]), float64(c*row[j])-float64(s*q.r[i][j])
		}
		q.b[i], rhs = float64(c*q.b[i])+float64(s*rhs), float64(c*rhs)-float64(s*q.b[i])
	}
	q.rss += float64(rhs * rhs)
}

// sound reports whether every unknown is held by the rows: a diagonal element a millionth of its
// column is none.
func (q *solver) sound() bool {
	for i := range q.n {
		col := 0.0
		for j := 0; j <= i; j++ {
			col += float64(q.r[j][i] * q.r[j][i])
		}
		if !(q.r[i][i] > 1e-6*math.Sqrt(col)) {
			return false
		}
	}
	return true
}

func (q *solver) solve() (p [maxTerms]float64) {
	for i := q.n - 1; i >= 0; i-- {
		s := q.b[i]
		for j := i + 1; j < q.n; j++ {
			s -= float64(q.r[i][j] * p[j])
		}
		p[i] = s / q.r[i][i]
	}
	return p
}
