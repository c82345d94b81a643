package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Reread is a station of a closed sweep that is read once more: what it read then and what it reads now, millimetres of reading.
type Reread struct {
	Bearing   geom.Bearing
	Then, Now float64
}

// MovedAlarm is how often a move is said of what stands where it stood.
const MovedAlarm = 0.01

// Moved is what a few stations, read once more, tell of a reference since its sweep.
type Moved struct {
	// By is how far its centre has gone, seen from the axis, millimetres; U the expanded uncertainty of that in the direction in
	// which it is known least.
	By geom.Point
	U  float64
	// Shown says that it is more than chance: of what has not moved it is said in [MovedAlarm] of all cases.
	Shown bool
	// Now is the circle as it stands by all that is known.
	Now Estimate
	// Shift is by how much all readings are larger than they were, millimetres of reading; unknown where the dial's zero is taken to
	// be what it was.
	Shift Value
}

// Most is what it has not moved by more than, millimetres.
func (m *Moved) Most() float64 { return m.By.Norm() + m.U }

// Bumped compares stations with what they read in the sweep. Whatever does not move with the centre, the form of the reference at these
// stations above all, is in both readings of a station and drops out; and so does what it is all shifted by, unless kept says that the
// dial's zero is what it was: three readings find centre and shift, two find the centre alone. ok is false where they do not: too few,
// too near to each other, or a sweep that knows no uncertainty.
//
// With D the differences in terms of distance, of variance 2σ² each, and K = ∂d/∂(shift, e): δ = (KᵀK)⁻¹Kᵀ·D =: B·D. The centre now is
// ê + δ. Both lean on the same first readings, −B on these and (JᵀWJ)⁻¹Jᵀ on all: Cov(ê, δ) = −σ²·(JᵀWJ)⁻¹·Jₛᵀ·Bᵀ, Jₛ the rows of the
// sweep at these stations.
func (f *Estimate) Bumped(again []Reread, kept bool) (m Moved, ok bool) {
	from := 0 // the first of the unknowns (shift, x, y) that is sought
	if kept {
		from = 1
	}
	if len(again) < 3-from || !(f.Dof > 0) {
		return m, false
	}
	now, shift := f.Circle, 0.0
	var inverse fit.Sym3
	var ssr float64
	for range 4 { // the exact circle: a move of half a millimetre bends the differences by some micrometres
		var normal fit.Sym3
		var right [3]float64
		ssr = 0
		for _, a := range again {
			row := shiftRow(now.Row(a.Bearing))
			left := float64(f.perReading()*(a.Now-a.Then)) - (now.At(a.Bearing) - f.Circle.At(a.Bearing)) - shift
			ssr += float64(left * left)
			for i := from; i < 3; i++ {
				right[i] += float64(row[i] * left)
				for j := from; j < 3; j++ {
					normal[i][j] += float64(row[i] * row[j])
				}
			}
		}
		if inverse, ok = inverted(normal, from, float64(len(again))); !ok {
			return m, false
		}
		step := times(inverse, right)
		shift += step[0]
		now.Centre = now.Centre.Add(geom.Point{X: step[1], Y: step[2]})
	}
	if n := now.Centre.Norm(); math.IsNaN(n) || math.IsInf(n, 0) {
		return m, false
	}
	m.By, m.Now, m.Shift = now.Centre.Sub(f.Circle.Centre), *f, unknown
	variance := f.spread() * f.spread()
	if more := float64(len(again) - 3 + from); more > 0 { // what is read beyond the unknowns tells of the scatter too
		variance = (f.Dof*variance + ssr/2) / (f.Dof + more)
		m.Now.Dof += more
		m.Now.Sigma *= math.Sqrt(variance) / f.spread()
	}
	m.judge(inverse, math.Sqrt(2*variance), m.Now.Dof)
	if !kept {
		m.Shift = Value{shift / f.perReading(), fit.Coverage(m.Now.Dof) * math.Sqrt(2*variance*inverse[0][0]) / math.Abs(f.perReading())}
	}
	m.Now.Circle.Centre = now.Centre
	m.Now.Circle.Cofactor = f.movedCofactor(again, inverse)
	return m, true
}

// judge finds how well the move is known, where inverse times the square of s is its covariance.
func (m *Moved) judge(inverse fit.Sym3, s, dof float64) {
	ell := inverse.Ellipse()
	m.U = fit.Coverage(dof) * s * ell.Major
	sin, cos := math.Sincos(float64(m.By.Bearing() - ell.Along))
	n := m.By.Norm()
	m.Shown = math.Hypot(n*cos/ell.Major, n*sin/ell.Minor) > fit.EllipseFactor(1-MovedAlarm, dof)*s
}

// movedCofactor is that of the centre as it stands now, in the terms of the sweep's.
func (f *Estimate) movedCofactor(again []Reread, inverse fit.Sym3) fit.Sym3 {
	var with fit.Sym3 // JₛᵀBᵀ
	for _, a := range again {
		row, was := shiftRow(f.Circle.Row(a.Bearing)), f.Circle.Row(a.Bearing)
		b := times(inverse, row)
		for i := range with {
			for j := range with[i] {
				with[i][j] += float64(was[i] * b[j])
			}
		}
	}
	out := f.Circle.Cofactor
	for i := 1; i < 3; i++ {
		out[0][i], out[i][0] = 0, 0
		for j := 1; j < 3; j++ {
			out[i][j] += 2 * inverse[i][j]
			for k := range with {
				out[i][j] -= float64(f.Circle.Cofactor[i][k]*with[k][j]) + float64(f.Circle.Cofactor[j][k]*with[k][i])
			}
		}
	}
	return out
}

// shiftRow is a row of the sweep with the shift of all readings in the place of the level.
func shiftRow(row [3]float64) [3]float64 { return [3]float64{1, row[1], row[2]} }

func times(m fit.Sym3, v [3]float64) (out [3]float64) {
	for i := range m {
		for j := range m[i] {
			out[i] += float64(m[i][j] * v[j])
		}
	}
	return out
}

// inverted is the inverse of the unknowns' matrix from one of them on, zeros before; ok is false where n rows fix them too badly: what
// lies within a few degrees.
func inverted(m fit.Sym3, from int, n float64) (out fit.Sym3, ok bool) {
	if from > 0 {
		m[0][0] = n // stands apart, and is taken out again
	}
	minor := func(i, j int) float64 {
		a, b := (i+1)%3, (i+2)%3
		c, d := (j+1)%3, (j+2)%3
		return float64(m[a][c]*m[b][d]) - float64(m[a][d]*m[b][c])
	}
	det := float64(m[0][0]*minor(0, 0)) + float64(m[0][1]*minor(0, 1)) + float64(m[0][2]*minor(0, 2))
	if !(det > 1e-6*n*n*n) {
		return out, false
	}
	for i := from; i < 3; i++ {
		for j := from; j < 3; j++ {
			out[i][j] = minor(j, i) / det
		}
	}
	return out, true
}
