package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mat"
)

// round is a round surface that is touched from the axis, seen as vector geometry sees it: the
// line d·u from the axis meets the circle that the ball's centre runs on where |d·u − e| = ρ − b,
// that is where
//
//	d² − 2 d (e·u) + |e|² − (ρ−b)² = 0
//
// It shares no formula with the code under test, which splits e along and across the line.
type round struct {
	radius, ball float64
	centre       geom.Point
}

// centreDistance is the positive root d of the quadratic: where the ball's centre stands.
func (s round) centreDistance(t geom.Bearing) float64 {
	sin, cos := math.Sincos(float64(t))
	half := s.centre.X*cos + s.centre.Y*sin
	off, in := math.Hypot(s.centre.X, s.centre.Y), s.radius-s.ball
	return half + math.Sqrt(half*half+(in-off)*(in+off))
}

// distance is how far the touched surface lies from the axis, as the tip measures it.
func (s round) distance(t geom.Bearing) float64 { return s.centreDistance(t) + s.ball }

// slopes differentiates the quadratic implicitly: ∂d/∂e = (d·u − e)/(d − e·u) and
// ∂d/∂ρ = (ρ−b)/(d − e·u).
func (s round) slopes(t geom.Bearing) (byRadius, byX, byY float64) {
	sin, cos := math.Sincos(float64(t))
	d := s.centreDistance(t)
	q := d - s.centre.X*cos - s.centre.Y*sin
	return (s.radius - s.ball) / q, (d*cos - s.centre.X) / q, (d*sin - s.centre.Y) / q
}

// modelled is what the model m says of the data at bearing t for the unknowns p = (level, e_x,
// e_y), and its derivatives.
func modelled(m Model, p [3]float64, t geom.Bearing) (y float64, row [3]float64) {
	e := geom.Point{X: p[1], Y: p[2]}
	switch m.Sought {
	case ZeroDistance:
		s := round{m.Surface, m.Ball, e}
		_, byX, byY := s.slopes(t)
		return s.distance(t) - p[0], [3]float64{-1, byX, byY}
	case SurfaceRadius:
		s := round{p[0], m.Ball, e}
		byRadius, byX, byY := s.slopes(t)
		return s.distance(t), [3]float64{byRadius, byX, byY}
	case MeanReading:
	}
	sin, cos := math.Sincos(float64(t))
	return p[0] + p[1]*cos + p[2]*sin, [3]float64{1, cos, sin}
}

// answer is what the oracle says.
type answer struct {
	p        [3]float64 // level, e_x, e_y
	cofactor Sym3
	ssr      float64
}

// oracle fits the same model with Gauss–Newton steps solved by gonum's Householder QR, begun at
// start (the truth the data were made from, so that it needs no safeguards).
func oracle(m Model, start [3]float64, t []geom.Bearing, y, w []float64) answer {
	a := answer{p: start}
	n := len(y)
	jac, rhs := mat.NewDense(n, 3, nil), mat.NewVecDense(n, nil)
	var step mat.VecDense
	var qr mat.QR
	for range 30 {
		a.ssr = 0
		for i := range n {
			root := 1.0
			if w != nil {
				root = math.Sqrt(w[i])
			}
			v, row := modelled(m, a.p, t[i])
			for j := range 3 {
				jac.Set(i, j, root*row[j])
			}
			rhs.SetVec(i, root*(y[i]-v))
			a.ssr += root * root * (y[i] - v) * (y[i] - v)
		}
		qr.Factorize(jac)
		// An error here is only a warning of the condition, which short arcs are meant to have.
		_ = qr.SolveVecTo(&step, false, rhs)
		for j := range 3 {
			a.p[j] += step.AtVec(j)
		}
		if mat.Norm(&step, math.Inf(1)) < 1e-14*math.Abs(a.p[0]) {
			break
		}
	}
	a.cofactor = gonumCofactor(&qr)
	return a
}

// gonumCofactor is R⁻¹·R⁻ᵀ by gonum's triangular inverse.
func gonumCofactor(qr *mat.QR) Sym3 {
	var r mat.Dense
	qr.RTo(&r)
	tri := mat.NewTriDense(3, mat.Upper, nil)
	for i := range 3 {
		for j := i; j < 3; j++ {
			tri.SetTri(i, j, r.At(i, j))
		}
	}
	var inv mat.TriDense
	_ = inv.InverseTri(tri)
	var c mat.Dense
	c.Mul(&inv, inv.T())
	var out Sym3
	for i := range 3 {
		for j := range 3 {
			out[i][j] = c.At(i, j)
		}
	}
	return out
}

// sweep is data made for a test, with the truth it was made from.
type sweep struct {
	model Model
	truth [3]float64
	t     []geom.Bearing
	y, w  []float64
}

// exactly fills y with what the truth gives at the bearings t.
func exactly(m Model, truth [3]float64, t []geom.Bearing) sweep {
	s := sweep{model: m, truth: truth, t: t, y: make([]float64, len(t))}
	for i, b := range t {
		s.y[i], _ = modelled(m, truth, b)
	}
	return s
}

// blurred adds normal noise of standard deviation sigma, in millimetres.
func (s sweep) blurred(rng *rand.Rand, sigma float64) sweep {
	y := make([]float64, len(s.y))
	for i := range y {
		y[i] = s.y[i] + sigma*rng.NormFloat64()
	}
	s.y = y
	return s
}

func (s sweep) fit(t testing.TB) Radial {
	t.Helper()
	r, err := s.model.Fit(s.t, s.y, s.w)
	if err != nil {
		t.Fatalf("%+v truth %v, %d stations: %v", s.model, s.truth, len(s.t), err)
	}
	return r
}

// evenly returns n bearings spaced evenly from from, over the whole circle where span is 2π, with
// one at both ends of a shorter arc.
func evenly(n int, from, span geom.Bearing) []geom.Bearing {
	t := make([]geom.Bearing, n)
	gaps := float64(n - 1)
	if span == 2*math.Pi {
		gaps = float64(n)
	}
	for i := range t {
		t[i] = from + span*geom.Bearing(float64(i)/gaps)
	}
	return t
}

// params is the fit's answer in the oracle's order.
func (r *Radial) params() [3]float64 { return [3]float64{r.Level, r.Centre.X, r.Centre.Y} }

// apart is |a − b|, and +Inf where either is no number, so that no bound holds it.
func apart(a, b float64) float64 {
	if d := math.Abs(a - b); !math.IsNaN(d) {
		return d
	}
	return math.Inf(1)
}

// farthest is the largest difference of the three unknowns, millimetres.
func farthest(a, b [3]float64) float64 {
	return max(apart(a[0], b[0]), apart(a[1], b[1]), apart(a[2], b[2]))
}

// random draws a sweep over at least half of the circle, the centre out by up to half of the
// circle that the ball runs on.
func random(rng *rand.Rand, sought Sought) sweep {
	rho := 5 + 95*rng.Float64()
	m := Model{Sought: sought, Ball: 0.2 * rho * (2*rng.Float64() - 1)}
	level := rho
	if sought == ZeroDistance {
		m.Surface, level = rho, rho+20*(rng.Float64()-0.5)
	}
	out := 0.5 * (rho - m.Ball) * rng.Float64()
	way := geom.Bearing(2 * math.Pi * rng.Float64()).Unit()
	n := 4 + rng.IntN(61)
	span := math.Pi * (1 + rng.Float64())
	t := evenly(n, geom.Bearing(2*math.Pi*rng.Float64()), geom.Bearing(span))
	for i := range t { // not quite evenly
		t[i] += geom.Bearing(span / float64(n) * 0.4 * (rng.Float64() - 0.5))
	}
	s := exactly(m, [3]float64{level, out * way.X, out * way.Y}, t)
	if rng.IntN(2) == 0 {
		s.w = make([]float64, n)
		for i := range s.w {
			s.w[i] = math.Exp(4 * (rng.Float64() - 0.5)) // 0.14 … 7.4
		}
	}
	return s
}
