package slide

import "math"

// factor is the triangular factor of a least-squares problem, built one row at a time by Givens
// rotations: R·p = b. Normal equations would square the condition number, and a flat prior on
// the origin beside a narrow one on the gain leaves no digits to waste. Zeros are stepped over:
// each observation touches few of the unknowns.
type factor struct {
	n int
	r []float64 // n×n, row by row, upper triangle
	b []float64
}

func newFactor(n int) *factor { return &factor{n: n, r: make([]float64, n*n), b: make([]float64, n)} }

// add rotates the equation row·p = rhs, of unit weight, into the factor. The row is used up. Every
// product is rounded on its own, so that no machine fuses it into the sum.
func (f *factor) add(row []float64, rhs float64) {
	for i := range f.n {
		if row[i] == 0 {
			continue
		}
		r := f.r[i*f.n : (i+1)*f.n]
		h := math.Hypot(r[i], row[i])
		c, s := r[i]/h, row[i]/h
		r[i] = h
		for j := i + 1; j < f.n; j++ {
			r[j], row[j] = float64(c*r[j])+float64(s*row[j]), float64(c*row[j])-float64(s*r[j])
		}
		f.b[i], rhs = float64(c*f.b[i])+float64(s*rhs), float64(c*rhs)-float64(s*f.b[i])
	}
}

// solve returns p by back substitution; not finite where R is singular.
func (f *factor) solve() []float64 {
	p := make([]float64, f.n)
	for i := f.n - 1; i >= 0; i-- {
		s := f.b[i]
		for j := i + 1; j < f.n; j++ {
			s -= float64(f.r[i*f.n+j] * p[j])
		}
		p[i] = s / f.r[i*f.n+i]
	}
	return p
}

// size returns |R·p|: the length of the solution measured in its own standard deviations.
func (f *factor) size() float64 {
	sum := 0.0
	for _, b := range f.b {
		sum += float64(b * b)
	}
	return math.Sqrt(sum)
}

// covariance returns (RᵀR)⁻¹, n×n.
func (f *factor) covariance() []float64 {
	n := f.n
	t := make([]float64, n*n) // R⁻¹, upper triangle
	for j := range n {
		t[j*n+j] = 1 / f.r[j*n+j]
		for i := j - 1; i >= 0; i-- {
			s := 0.0
			for k := i + 1; k <= j; k++ {
				s -= float64(f.r[i*n+k] * t[k*n+j])
			}
			t[i*n+j] = s / f.r[i*n+i]
		}
	}
	c := make([]float64, n*n)
	for i := range n {
		for j := i; j < n; j++ {
			s := 0.0
			for k := j; k < n; k++ {
				s += float64(t[i*n+k] * t[j*n+k])
			}
			c[i*n+j], c[j*n+i] = s, s
		}
	}
	return c
}
