// Package fit holds the least-squares circle fits: what a ring of indicator readings says of
// the circle that was touched, and how sure it is of it.
package fit

import (
	"math"

	"example.org/trammel/geom"
)

// Sought names the first of the three unknowns of a radial fit; the other two are always the
// centre error e.
type Sought uint8

const (
	// ZeroDistance: the surface's radius is known; sought is z, the distance of the tip from
	// the axis when the dial reads zero.
	ZeroDistance Sought = iota
	// SurfaceRadius: z is known and has been added to the readings; sought is ρ.
	SurfaceRadius
	// MeanReading: neither is known. The model is then linear, and only e has a meaning.
	MeanReading
)

// Model says what is known before the fit. Lengths are millimetres.
type Model struct {
	Sought Sought
	// Surface is the radius ρ of the round surface (> 0); used when ZeroDistance is sought.
	Surface float64
	// Ball is the tip's radius with a sign: + inside a bore, where the ball's centre runs on a
	// circle of radius ρ − r; − round a boss, where it runs on ρ + r; 0 for a point.
	Ball float64
	// Hold keeps the level at Held (millimetres, what Sought names) and seeks the centre alone: a part
	// of a circle that tells the two apart badly needs one of them from elsewhere.
	Hold bool
	Held float64
}

// Sym3 is a symmetric 3×3 matrix over (level, e_x, e_y).
type Sym3 [3][3]float64

// Radial is a fitted circle.
type Radial struct {
	Model
	// Level is what Model.Sought names, in millimetres.
	Level float64
	// Centre is the centre error e = C − A: where the surface's centre lies, seen from the axis.
	Centre geom.Point
	// N counts the readings.
	N int
	// SSR is Σ wᵢ rᵢ² in mm², r measured minus fitted.
	SSR float64
	// Cofactor is (JᵀWJ)⁻¹ over (Level, e_x, e_y); times the variance of one reading of
	// weight 1 it is the covariance.
	Cofactor Sym3
	// Condition bounds the condition number of √W·J from above (Frobenius norms).
	Condition float64
	// Iterations counts the Gauss–Newton steps taken.
	Iterations int
}

// MinStations is the least number of distinct bearings that fixes three unknowns.
const MinStations = 3

// maxCondition is where √W·J counts as singular: beyond it less than five of the sixteen digits
// of a float64 are left, and the doubt is larger than any workpiece. A 1° arc stands near 1e5.
const maxCondition = 1e11

// maxSteps bounds Gauss–Newton, which takes three or four steps for |e| up to half of ρ; the
// rest is room for the halved steps of a centre almost as far out as the surface.
const maxSteps = 100

// Fit fits the exact radial model to the measured distances y taken at bearings t:
//
//	d(θ) = e·u + √((ρ−b)² − (e·v)²) + b        u = (cos θ, sin θ), v = (−sin θ, cos θ)
//
//	ZeroDistance    yᵢ = d(θᵢ) − z    unknown z, e    (y: how far beyond the zero point the surface lies)
//	SurfaceRadius   yᵢ = d(θᵢ)        unknown ρ, e
//	MeanReading     yᵢ = a + e·u      unknown a, e
//
// by minimising Σ wᵢ (yᵢ − model)² with Gauss–Newton from the linear start. y is millimetres,
// outwards from the axis; t is radians, counter-clockwise from +X; w are relative weights, nil
// for all alike. Each step is a QR factorisation by Givens rotations, so that short arcs do not
// lose half their digits in normal equations. Nothing is allocated, whatever the number of
// readings.
//
// It returns a *[TooFewError] for fewer than MinStations distinct bearings, a *[SingularError]
// when the bearings leave a combination of the unknowns open, a *[OutsideError] when the readings
// put the axis on or outside the surface, and a *[ValueError] for numbers that are not finite.
//
// Source of the method: Å. Björck, Numerical Methods for Least Squares Problems, SIAM 1996,
// ch. 9 (Gauss–Newton) and 2.3 (Givens QR), from memory. Signs: DEVELOPERS.md, "Signs and frames".
func (m Model) Fit(t []geom.Bearing, y, w []float64) (Radial, error) {
	r := Radial{Model: m, N: len(y)}
	if err := m.check(t, y, w); err != nil {
		return r, err
	}
	if m.Hold {
		return r, r.hold(t, y, w)
	}
	if err := r.linearStart(t, y, w); err != nil {
		return r, err
	}
	if m.Sought != MeanReading {
		if err := r.refine(t, y, w); err != nil {
			return r, err
		}
	}
	return r, nil
}

// check refuses what no fit can use.
func (m Model) check(t []geom.Bearing, y, w []float64) error {
	if len(t) != len(y) || (w != nil && len(w) != len(y)) {
		panic("fit: bearings, readings and weights differ in number")
	}
	for i := range y {
		if !usable(y[i]) || !finite(float64(t[i])) || (w != nil && !(usable(w[i]) && w[i] > 1/maxValue)) {
			return &ValueError{Index: i}
		}
	}
	if !usable(m.Ball) || (m.Sought == ZeroDistance && !(m.Surface-m.Ball > 0 && usable(m.Surface))) {
		return &OutsideError{Offset: 0, Radius: m.Surface - m.Ball}
	}
	if n := distinct(t); n < MinStations {
		return &TooFewError{Have: n, Need: MinStations}
	}
	return nil
}

// distinct counts bearings that differ by more than a millionth of a degree, up to MinStations.
func distinct(t []geom.Bearing) int {
	var seen [MinStations]geom.Bearing
	n := 0
next:
	for _, b := range t {
		for _, s := range seen[:n] {
			if b.Apart(s) < 1e-6*float64(geom.Degree) {
				continue next
			}
		}
		seen[n] = b
		if n++; n == MinStations {
			break
		}
	}
	return n
}

// linearStart solves y ≈ a + e·u, which is exact for MeanReading and the first order of the
// other two.
func (r *Radial) linearStart(t []geom.Bearing, y, w []float64) error {
	var q qr
	for i := range y {
		u := t[i].Unit()
		q.add([3]float64{1, u.X, u.Y}, y[i], weight(w, i))
	}
	p, err := q.solve()
	if err != nil {
		return err
	}
	r.Level, r.Centre = p[0], geom.Point{X: p[1], Y: p[2]}
	r.take(&q)
	r.SSR = q.rss
	switch r.Sought {
	case ZeroDistance:
		r.Level = r.Surface - p[0]
	case SurfaceRadius:
		if p[0]-r.Ball <= 0 {
			return &OutsideError{Offset: r.Centre.Norm(), Radius: p[0] - r.Ball}
		}
	case MeanReading:
	}
	// The first order overshoots far out; start inside the surface, where the model has a value.
	if lim := 0.9 * r.inner(); r.Sought != MeanReading && r.Centre.Norm() > lim {
		f := lim / r.Centre.Norm()
		r.Centre = geom.Point{X: f * r.Centre.X, Y: f * r.Centre.Y}
	}
	return nil
}

// Near the answer the sum of squares says nothing of a step any more: its rounding, about one
// part in 1e11 for readings of micrometres on distances of tens of millimetres, is as large as
// what the step gains. A step is trusted whole, and not judged by the sum, once it is below
// nearStep of the radius, or gains less than nearGain of the sum (a thousandth of what the
// readings' own scatter leaves open).
const (
	nearStep = 1e-7
	nearGain = 1e-6
)

// refine runs Gauss–Newton to convergence, halving a step that leaves the model's domain or
// makes the sum of squares worse.
func (r *Radial) refine(t []geom.Bearing, y, w []float64) error {
	r.SSR = r.sumSquares(t, y, w)
	near, last := false, math.Inf(1)
	for r.Iterations = 1; r.Iterations <= maxSteps; r.Iterations++ {
		var q qr
		for i := range y {
			q.add(r.Row(t[i]), y[i]-r.At(t[i]), weight(w, i))
		}
		step, err := q.solve()
		if err != nil {
			return err
		}
		// The factor is measured where it was used; at convergence that is where the answer is.
		r.take(&q)
		size := math.Abs(step[0]) + math.Abs(step[1]) + math.Abs(step[2])
		scale := r.inner()
		near = size <= nearStep*scale || q.gain() <= nearGain*q.rss
		if !near {
			if !r.advance(step, t, y, w) {
				return r.outside()
			}
			last = math.Inf(1)
			continue
		}
		if r.move(*r, step, 1); !r.inside() {
			return r.outside()
		}
		r.SSR = r.sumSquares(t, y, w)
		// Steps that shrink no more are rounding, and all that is left.
		if size <= 1e-13*scale || size >= last {
			return nil
		}
		last = size
	}
	if near {
		return nil
	}
	return r.outside()
}

// move sets the unknowns to those of from plus f times the step.
func (r *Radial) move(from Radial, step [3]float64, f float64) {
	r.Level = from.Level + float64(f*step[0])
	r.Centre = geom.Point{X: from.Centre.X + float64(f*step[1]), Y: from.Centre.Y + float64(f*step[2])}
}

// inside reports whether the axis lies inside the circle that the ball's centre runs on, where
// the model has a value.
func (r *Radial) inside() bool { return r.inner() > 0 && r.Centre.Norm() < r.inner() }

// advance takes the longest of the step, a half, a quarter … that keeps the centre inside the
// surface and does not raise the sum of squares. It reports whether it moved.
func (r *Radial) advance(step [3]float64, t []geom.Bearing, y, w []float64) bool {
	from := *r
	for f := 1.0; f > 1e-6; f /= 2 {
		if r.move(from, step, f); r.inside() {
			if s := r.sumSquares(t, y, w); s <= from.SSR {
				r.SSR = s
				return true
			}
		}
	}
	r.Level, r.Centre = from.Level, from.Centre
	return false
}

func (r *Radial) sumSquares(t []geom.Bearing, y, w []float64) float64 {
	sum := 0.0
	for i := range y {
		d := y[i] - r.At(t[i])
		sum += float64(weight(w, i) * float64(d*d))
	}
	return sum
}

// take keeps what the factorisation says of the answer's spread.
func (r *Radial) take(q *qr) {
	r.Cofactor, r.Condition = q.cofactor(), q.condition()
}

func (r *Radial) outside() error {
	return &OutsideError{Offset: r.Centre.Norm(), Radius: r.inner()}
}

// inner is the radius of the circle that the ball's centre runs on, ρ − b.
func (r *Radial) inner() float64 {
	if r.Sought == SurfaceRadius {
		return r.Level - r.Ball
	}
	return r.Surface - r.Ball
}

// root returns e·u, e·v and √((ρ−b)² − (e·v)²), the half chord.
func (r *Radial) root(t geom.Bearing) (along, across, half float64) {
	u := t.Unit()
	along = r.Centre.Dot(u)
	across = r.Centre.Dot(geom.Point{X: -u.Y, Y: u.X})
	in := r.inner()
	return along, across, math.Sqrt(float64((in - across) * (in + across)))
}

// At returns the distance that the fitted circle gives at bearing t, in the terms of y (see
// [Model.Fit]), millimetres.
func (r *Radial) At(t geom.Bearing) float64 {
	if r.Sought == MeanReading {
		return r.Level + r.Centre.Dot(t.Unit())
	}
	along, _, half := r.root(t)
	d := along + half + r.Ball
	if r.Sought == ZeroDistance {
		d -= r.Level
	}
	return d
}

// Row returns ∂y/∂(level, e_x, e_y) at bearing t: dimensionless.
func (r *Radial) Row(t geom.Bearing) [3]float64 {
	u := t.Unit()
	if r.Sought == MeanReading {
		return [3]float64{1, u.X, u.Y}
	}
	_, across, half := r.root(t)
	k := across / half
	row := [3]float64{-1, u.X + float64(k*u.Y), u.Y - float64(k*u.X)}
	if r.Sought == SurfaceRadius {
		row[0] = r.inner() / half
	}
	return row
}

// Across returns e·v at bearing t: how far the circle's centre lies to the left of the line of
// sight, millimetres. A station's angle error of dθ moves its reading by that times dθ.
func (r *Radial) Across(t geom.Bearing) float64 {
	u := t.Unit()
	return r.Centre.Dot(geom.Point{X: -u.Y, Y: u.X})
}

func weight(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}

// maxValue bounds readings and weights, so that no sum of their squares overflows.
const maxValue = 1e100

func usable(x float64) bool { return math.Abs(x) < maxValue }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
