package fit

import (
	"math"

	"example.org/trammel/geom"
)

// arc is a circle or a straight line seen from one of its points: the apex at, the unit vector
// to that is square to the curve there, and the curvature, positive where the centre lies on the
// side of to. With s along the tangent (to the right of to) and n along to, measured from the
// apex, a point lies
//
//	d = (2n − κ(s² + n²)) / (1 + D)        D = √((1 − κn)² + (κs)²)
//
// beyond the curve on the side of to. That is ρ − |P − C| for κ > 0, |P − C| − ρ for κ < 0 and
// n for the line, in one formula without a break. D is the distance from the centre in radii.
type arc struct {
	at, to geom.Point
	bend   float64 // κ
}

func (a *arc) tangent() geom.Point { return geom.Point{X: a.to.Y, Y: -a.to.X} }

// local returns p in the frame of the apex.
func (a *arc) local(p geom.Point) (s, n float64) {
	v := p.Sub(a.at)
	return v.Dot(a.tangent()), v.Dot(a.to)
}

// depth returns d and D of a point in the frame of the apex.
func (a *arc) depth(s, n float64) (d, far float64) {
	u, v := 1-float64(a.bend*n), float64(a.bend*s)
	far = math.Sqrt(float64(u*u) + float64(v*v))
	q := float64(s*s) + float64(n*n)
	return (2*n - float64(a.bend*q)) / (1 + far), far
}

// rows returns d, its derivatives by (offset along to, turn counter-clockwise about the apex, κ),
// and its second derivatives by the same, moves being made in that order.
//
// With the unit gradient e = (−κs, 1 − κn)/D and m = (n − κ(s² + n²))/D:
//
//	d' = (−eₙ, −s/D, −(s² + n² − d·m)/(1 + D))        ∂D/∂κ = −m
//
// and the gradient itself turns by −κ/D per length across it. (Checked against differences by
// TestArcDerivatives.)
func (a *arc) rows(s, n float64) (d float64, first [3]float64, second Sym3) {
	d, far := a.depth(s, n)
	far = max(far, 1e-150) // a point in the very centre has no direction; its row is then (0, 0, −ρ²)
	k := a.bend
	q := float64(s*s) + float64(n*n)
	es, en := -float64(k*s)/far, (1-float64(k*n))/far
	m := (n - float64(k*q)) / far
	first = [3]float64{-en, -s / far, -(q - float64(d*m)) / (1 + far)}
	turn := k / far
	second[0][0] = -float64(turn * float64(es*es))
	second[1][1] = -float64(m * (1 + float64(turn*m)))
	second[2][2] = (2*float64(m*first[2]) - float64(d*(q-float64(m*m)))/far) / (1 + far)
	second[0][1] = -float64(es * (1 + float64(turn*m)))
	second[0][2] = (n - float64(en*m)) / far
	second[1][2] = -float64(s*m) / far / far
	second[1][0], second[2][0], second[2][1] = second[0][1], second[0][2], second[1][2]
	return d, first, second
}

// moved returns the arc after f times the step.
func (a *arc) moved(step [3]float64, f float64) arc {
	out := arc{bend: a.bend + float64(f*step[2])}
	off := f * step[0]
	out.at = geom.Point{X: a.at.X + float64(off*a.to.X), Y: a.at.Y + float64(off*a.to.Y)}
	sin, cos := math.Sincos(f * step[1])
	to := geom.Point{X: float64(cos*a.to.X) - float64(sin*a.to.Y), Y: float64(sin*a.to.X) + float64(cos*a.to.Y)}
	length := to.Norm()
	out.to = geom.Point{X: to.X / length, Y: to.Y / length}
	return out
}

// cofactor turns the factor over (offset, turn, κ) into the cofactor over (radius, x, y):
//
//	C = at + to/κ     ∂C = (to, −tangent/κ, −to/κ²)     ∂ρ = (0, 0, −sign κ/κ²)
func (a *arc) cofactor(q *qr) Sym3 {
	r, t := 1/a.bend, a.tangent()
	by := Sym3{
		{0, 0, -float64(math.Abs(r) * r)},
		{a.to.X, -float64(t.X * r), -float64(float64(a.to.X*r) * r)},
		{a.to.Y, -float64(t.Y * r), -float64(float64(a.to.Y*r) * r)},
	}
	v := q.inverse()
	var g, c Sym3
	for i := range 3 {
		for j := range 3 {
			for k := 0; k <= j; k++ {
				g[i][j] += float64(by[i][k] * v[k][j])
			}
		}
	}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				c[i][j] += float64(g[i][k] * g[j][k])
			}
		}
	}
	return c
}

// newton returns the Newton step of the factored problem, bent being what the sum of squares curves
// beyond the linear model (Σ w·d·∂²d); or plain, the step without it, where no minimum lies ahead.
//
// With the factor R, (RᵀR + B)·p = Rᵀb is (I + M)·z = b, M = R⁻ᵀ B R⁻¹, R·p = z: the digits
// that a short arc needs stay in R, and only the small M is formed.
func newton(q *qr, bent *Sym3, plain [3]float64) [3]float64 {
	v := q.inverse()
	var bv, h Sym3
	for i := range 3 {
		for j := range 3 {
			for k := 0; k <= j; k++ {
				bv[i][j] += float64(bent[i][k] * v[k][j])
			}
		}
	}
	for i := range 3 {
		for j := range 3 {
			for k := 0; k <= i; k++ {
				h[i][j] += float64(v[k][i] * bv[k][j])
			}
		}
		h[i][i]++
	}
	z := [3]float64{q.z0 * math.Sqrt(q.d0), q.z1 * math.Sqrt(q.d1), q.z2 * math.Sqrt(q.d2)} // Rᵀ⁻¹·Jᵀ·d
	if !cholesky(&h, &z) {
		return plain
	}
	var p [3]float64
	for i := range 3 {
		for k := i; k < 3; k++ {
			p[i] += float64(v[i][k] * z[k])
		}
	}
	return p
}

// leastPivot is how much of the linear model's curvature must be left for a minimum ahead.
const leastPivot = 1e-9

// cholesky solves h·z = b in place; it reports false, with b untouched, unless h is positive
// definite.
func cholesky(h *Sym3, b *[3]float64) bool {
	var l Sym3
	for i := range 3 {
		for j := 0; j <= i; j++ {
			s := h[i][j]
			for k := range j {
				s -= float64(l[i][k] * l[j][k])
			}
			switch {
			case i > j:
				l[i][j] = s / l[j][j]
			case !(s > leastPivot && finite(s)):
				return false
			default:
				l[i][i] = math.Sqrt(s)
			}
		}
	}
	for i := range 3 {
		for k := range i {
			b[i] -= float64(l[i][k] * b[k])
		}
		b[i] /= l[i][i]
	}
	for i := 2; i >= 0; i-- {
		for k := i + 1; k < 3; k++ {
			b[i] -= float64(l[k][i] * b[k])
		}
		b[i] /= l[i][i]
	}
	return true
}
