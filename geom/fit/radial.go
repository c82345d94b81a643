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

// The usual sweeps find room on the stack: a small array costs less to clear.
const (
	fewStations  = 16
	manyStations = 64
)

// blockRows is how many equations of a step are held at a time: a file of a million readings passes through a few places, and
// is read from the processor's own memory when it is factored.
const blockRows = 2048

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
// for all alike. Each step is a QR factorisation, so that short arcs do not lose half their
// digits in normal equations. Nothing is allocated for up to 64 readings.
//
// It returns a *[TooFewError] for fewer than MinStations distinct bearings, a *[SingularError]
// when the bearings leave a combination of the unknowns open, a *[OutsideError] when the readings
// put the axis on or outside the surface, and a *[ValueError] for numbers that are not finite.
//
// Source of the method: Å. Björck, Numerical Methods for Least Squares Problems, SIAM 1996,
// ch. 9 (Gauss–Newton), 2.4 (modified Gram–Schmidt) and 6.2 (rows a block at a time), from memory. Signs: DEVELOPERS.md, "Signs and frames".
func (m Model) Fit(t []geom.Bearing, y, w []float64) (Radial, error) {
	n := len(y)
	r := Radial{Model: m, N: n}
	var err error
	switch {
	case n <= fewStations:
		var s, e [fewStations]equation
		err = r.fit(t, y, w, s[:n], e[:n])
	case n <= manyStations:
		var s, e [manyStations]equation
		err = r.fit(t, y, w, s[:n], e[:n])
	default:
		err = r.fit(t, y, w, make([]equation, n), make([]equation, min(n, blockRows)))
	}
	return r, err
}

// fit is Fit in the room given: s for the stations, which it fills, e for the equations of a step.
func (r *Radial) fit(t []geom.Bearing, y, w []float64, s, e []equation) error {
	first, err := r.stations(t, y, w, s)
	if err != nil {
		return err
	}
	if r.Hold {
		return r.hold(t, y, w, e)
	}
	if err := r.linearStart(s, first); err != nil || r.Sought == MeanReading {
		return err
	}
	return r.refine(s, e)
}

// linearStart solves the stations' own equations, which is exact for MeanReading and the first
// order of the other two.
func (r *Radial) linearStart(s []equation, first products) error {
	q := first.factor(s)
	if err := singular(q.condition()); err != nil {
		return err
	}
	p := q.solve()
	r.Level, r.Centre = p[0], geom.Point{X: p[1], Y: p[2]}
	switch r.Sought {
	case ZeroDistance:
		r.Level = r.Surface - p[0]
	case SurfaceRadius:
		if p[0]-r.Ball <= 0 {
			return &OutsideError{Offset: r.Centre.Norm(), Radius: p[0] - r.Ball}
		}
	case MeanReading:
		sum := 0.0
		for i := range s {
			d := s[i].rhs - float64(s[i].a*p[0]) - float64(s[i].b*p[1]) - float64(s[i].c*p[2])
			sum += float64(d * d)
		}
		return r.take(&q, sum)
	}
	// The first order overshoots far out; start inside the surface, where the model has a value.
	if lim := 0.9 * r.inner(); !(r.Centre.Dot(r.Centre) <= lim*lim) {
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

// The search is over when a step is below lastStep of the radius, or when the step that the last
// two foretell, each being the same part of the one before, is below foretold. That foretelling
// is only believed of steps below sameRows, which change the rows, and so the covariance, by no
// more than that.
const (
	lastStep = 1e-13
	foretold = 1e-15
	sameRows = 1e-10
)

// refine runs Gauss–Newton to convergence, halving a step that leaves the model's domain or
// makes the sum of squares worse.
func (r *Radial) refine(s, e []equation) error {
	rows, first, sum := r.equations(s, e)
	near, before := false, 0.0 // before: size of the last step, 0 where it was not taken whole
	for r.Iterations = 1; r.Iterations <= maxSteps; r.Iterations++ {
		q := first.factor(rows)
		step := q.solve()
		size, scale := math.Abs(step[0])+math.Abs(step[1])+math.Abs(step[2]), r.inner()
		left, wasNear := max(0, sum-q.gain()), near // left: the linear model's sum after the step
		near = size <= nearStep*scale || q.gain() <= nearGain*left
		if !near {
			f := 0.0
			if rows, first, sum, f = r.advance(step, sum, s, e); f == 0 {
				return r.outside()
			}
			before = 0
			if f == 1 {
				before = size
			}
			continue
		}
		if r.move(r.Level, r.Centre, step, 1); !r.inside() {
			return r.outside()
		}
		if size <= lastStep*scale || (size <= sameRows*scale && size*size <= foretold*scale*before) {
			return r.take(&q, left)
		}
		rows, first, sum = r.equations(s, e)
		if wasNear && (size >= before || (size <= sameRows*scale && size >= before/2)) {
			// Steps that hardly shrink any more are rounding.
			return r.take(&q, sum)
		}
		before = size
	}
	if near {
		q := first.factor(rows)
		return r.take(&q, sum)
	}
	return r.outside()
}

// move sets the unknowns to the given ones plus f times the step.
func (r *Radial) move(level float64, centre geom.Point, step [3]float64, f float64) {
	r.Level = level + float64(f*step[0])
	r.Centre = geom.Point{X: centre.X + float64(f*step[1]), Y: centre.Y + float64(f*step[2])}
}

// inside reports whether the axis lies inside the circle that the ball's centre runs on, where
// the model has a value, and by more than rounding can make of its root.
func (r *Radial) inside() bool {
	in := r.inner()
	return in > 0 && r.Centre.Dot(r.Centre) < (1-1e-14)*(in*in)
}

// advance takes the longest of the step, a half, a quarter … that keeps the centre inside the
// surface and does not raise the sum of squares, and sets up the equations there. It returns
// what they return, and the part taken; 0 where none would do.
func (r *Radial) advance(step [3]float64, sum float64, s, e []equation) ([]equation, products, float64, float64) {
	level, centre := r.Level, r.Centre
	for f := 1.0; f > 1e-6; f /= 2 {
		if r.move(level, centre, step, f); r.inside() {
			if rows, first, after := r.equations(s, e); after <= sum {
				return rows, first, after, f
			}
		}
	}
	r.Level, r.Centre = level, centre
	return nil, products{}, sum, 0
}

// equations sets up the linear model at the present unknowns, in the room e: where that is less than there are stations, what is
// in it is folded to its factor each time it is full. It returns the equations, their first column's products, and Σ wᵢ rᵢ².
func (r *Radial) equations(s, e []equation) (rows []equation, first products, sum float64) {
	for {
		n := min(len(s), len(e)-len(rows))
		first, sum = r.linear(s[:n], e[len(rows):], first, sum)
		if rows, s = e[:len(rows)+n], s[n:]; len(s) == 0 {
			return rows, first, sum
		}
		rows = fold(rows)
		first = productsOf(rows)
	}
}

// linear is equations for stations that e has room for; first and sum go on.
func (r *Radial) linear(s, e []equation, first products, sum float64) (products, float64) {
	in, off, x, y, free := r.inner(), r.Ball, r.Centre.X, r.Centre.Y, r.Sought == SurfaceRadius
	if !free {
		off -= r.Level
	}
	e = e[:len(s)]
	for i := range s {
		v := &s[i]
		along, across := float64(x*v.b)+float64(y*v.c), float64(y*v.b)-float64(x*v.c)
		if v.a != 1 {
			across /= v.a
		}
		half := halfChord(in, across)
		k := across / half
		q := equation{-v.a, v.b + float64(k*v.c), v.c - float64(k*v.b), v.rhs - along - float64(v.a*(half+off))}
		if free {
			q.a = v.a * (in / half)
		}
		first = first.with(q)
		sum += float64(q.rhs * q.rhs)
		e[i] = q
	}
	return first, sum
}

// take keeps what the factor at the answer says of its spread.
func (r *Radial) take(q *qr, ssr float64) error {
	r.SSR, r.Cofactor, r.Condition = ssr, q.cofactor(), q.condition()
	return singular(r.Condition)
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

// halfChord returns √(in² − across²): half of what a line that passes the centre at the distance
// across has in a circle of radius in.
func halfChord(in, across float64) float64 {
	return math.Sqrt(float64((in - across) * (in + across)))
}

// At returns the distance that the fitted circle gives at bearing t, in the terms of y (see
// [Model.Fit]), millimetres.
func (r *Radial) At(t geom.Bearing) float64 {
	u := t.Unit()
	along, across := sight(r.Centre, u)
	switch r.Sought {
	case MeanReading:
		return r.Level + along
	case ZeroDistance:
		return along + halfChord(r.inner(), across) + r.Ball - r.Level
	default:
		return along + halfChord(r.inner(), across) + r.Ball
	}
}

// Row returns ∂y/∂(level, e_x, e_y) at bearing t: dimensionless.
func (r *Radial) Row(t geom.Bearing) [3]float64 { return r.RowTowards(t.Unit()) }

// RowTowards is [Radial.Row] for the unit vector of a bearing.
func (r *Radial) RowTowards(u geom.Point) [3]float64 {
	if r.Sought == MeanReading {
		return [3]float64{1, u.X, u.Y}
	}
	_, across := sight(r.Centre, u)
	half := halfChord(r.inner(), across)
	k := across / half
	row := [3]float64{-1, u.X + float64(k*u.Y), u.Y - float64(k*u.X)}
	if r.Sought == SurfaceRadius {
		row[0] = r.inner() / half
	}
	return row
}

// sight returns e·u and e·v: how far a centre at e lies along the line of sight u from the axis,
// and to the left of it.
func sight(e, u geom.Point) (along, across float64) {
	return e.Dot(u), e.Dot(geom.Point{X: -u.Y, Y: u.X})
}

// Across returns e·v at bearing t: how far the circle's centre lies to the left of the line of
// sight, millimetres. A station's angle error of dθ moves its reading by that times dθ.
func (r *Radial) Across(t geom.Bearing) float64 {
	_, across := sight(r.Centre, t.Unit())
	return across
}
