package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Axis is what a slide's movement does to the unknowns (level, e_x, e_y), per millimetre that its
// coordinate grows.
type Axis [3]float64

// OffsetAxis is that of the offset slide, which carries the tip outwards.
var OffsetAxis = Axis{1, 0, 0}

// CrossAxis is that of a cross slide whose coordinate grows along the unit vector u: one of the machine
// carries the axis over the work, so that the centre error falls, and one on a rotary table carries the
// work, along u in the table's frame, so that it grows.
func CrossAxis(u geom.Point, carriesWork bool) Axis {
	if carriesWork {
		return Axis{0, u.X, u.Y}
	}
	return Axis{0, -u.X, -u.Y}
}

// Moved returns what is known of the circle after a slide has moved by travel, give or take doubt
// (a standard uncertainty), both millimetres.
func (f Estimate) Moved(a Axis, travel, doubt float64) Estimate {
	f.Circle.Level += float64(a[0] * travel)
	f.Circle.Centre = f.Circle.Centre.Add(geom.Point{X: a[1] * travel, Y: a[2] * travel})
	if s := f.spread(); s > 0 && f.Dof > 0 {
		q := doubt / s * doubt / s
		for i := range 3 {
			for j := range 3 {
				f.Circle.Cofactor[i][j] += float64(float64(a[i]*a[j]) * q)
			}
		}
	}
	return f
}

// Part returns the centre error's product with a row, and its expanded uncertainty.
func (f *Estimate) Part(row geom.Point) Value {
	return Value{f.Circle.Centre.Dot(row), f.expanded([3]float64{0, row.X, row.Y})}
}

// Scatter returns the covariance of the centre, mm², as far as the readings make it: what is the same
// in all sweeps of one setup is left out. It is NaN where the spread is not known.
func (f *Estimate) Scatter() (c [2][2]float64) {
	v := float64(f.spread() * f.spread())
	for i := range c {
		for j := range c[i] {
			c[i][j] = f.Circle.Cofactor[i+1][j+1] * v
		}
	}
	return c
}

// Random returns the covariance of (level, e_x, e_y), mm², as [Estimate.Scatter] does of the centre.
func (f *Estimate) Random() (c [3][3]float64) {
	v := float64(f.spread() * f.spread())
	for i := range c {
		for j := range c[i] {
			c[i][j] = f.Circle.Cofactor[i][j] * v
		}
	}
	return c
}

// Seen returns what is known of the circle once a reading (millimetres) has been taken at a bearing:
// a reading in the place of all that a further sweep would say, and worth as much as one of the
// sweep's own, or less by doubt (a standard uncertainty, millimetres of reading). Without a known
// spread nothing is learnt from it.
//
// Source: the linear Gaussian update of one observation, R. E. Kalman, J. Basic Eng. 82 (1960)
// 35–45 (from memory).
func (f Estimate) Seen(b geom.Bearing, reading, doubt float64) Estimate {
	s := f.spread()
	if !(s > 0) || f.Dof <= 0 {
		return f
	}
	row := f.Circle.Row(b)
	var ca [3]float64
	for i := range 3 {
		for j := range 3 {
			ca[i] += float64(f.Circle.Cofactor[i][j] * row[j])
		}
	}
	k := f.growth(b) + math.Pow(doubt/f.Sigma, 2) + f.Circle.Cofactor.Quadratic(row)
	off := (f.distance(reading) - f.Circle.At(b)) / k
	f.Circle.Level += float64(ca[0] * off)
	f.Circle.Centre = f.Circle.Centre.Add(geom.Point{X: ca[1] * off, Y: ca[2] * off})
	for i := range 3 {
		for j := range 3 {
			f.Circle.Cofactor[i][j] -= float64(ca[i]*ca[j]) / k
		}
	}
	return f
}

// Rezeroed returns the setup as it is once the dial's bezel has been turned: the needle shows by more
// than it did (millimetres of reading) while the tip stands where it stood. What changes is where
// the tip stands when the needle shows zero.
func (s Setup) Rezeroed(d Dial, by float64) Setup {
	z := s.Touch.sign() * d.Gain() * by
	s.Reach -= z
	if s.ZeroRadius > 0 {
		s.ZeroRadius -= z
	}
	return s
}

// Rezeroed returns what is known of the circle in the dial's new figures (see [Setup.Rezeroed]).
func (f Estimate) Rezeroed(by float64) Estimate {
	z := f.perReading() * by
	f.Setup = f.Setup.Rezeroed(f.Dial, by)
	switch f.Circle.Sought {
	case fit.ZeroDistance:
		f.Circle.Level -= z
		f.Circle.Held -= z
	case fit.MeanReading:
		f.Circle.Level += z
	case fit.SurfaceRadius:
	}
	return f
}

// Lean is the standard uncertainty, by the stated limit, of what leaning axes make of the swing radius and of either
// component of the centre between sweep and cut, millimetres; 0 where none is stated. One machine leans one way.
func (f *Estimate) Lean() float64 { return FromLimit(f.Setup.tilted()) }

// Own returns the covariance of the swing radius and of the centre error's components, mm², without what
// settings have in common, the errors of the reference's radius and of the reach and what leaning axes do ([Estimate.Lean]):
// those do not average out between two settings, and are reckoned once for both. It holds the readings' part with the correlations
// that a part of a circle leaves, widened by (t/1.96)² so that ±1.96 u is the band of few readings too, and
// the dial's, the lever's, the drift's and a held radius'. Where no swing radius is known its row
// is 0; ok is false where the spread is not known.
func (f *Estimate) Own() (c [3][3]float64, ok bool) {
	if f.Dof <= 0 {
		return c, false
	}
	wide := fit.Coverage(f.Dof) / fit.Coverage(math.Inf(1))
	read := float64(f.spread()*f.spread()) * wide * wide
	all, _ := f.centre()
	lean := f.Lean()
	for i := 1; i < 3; i++ {
		all[i][i] -= float64(lean * lean)
	}
	for i := range 3 {
		for j := range 3 {
			c[i][j] = f.Circle.Cofactor[i][j] * read
			if i > 0 && j > 0 { // what is not the readings' is added as it is
				c[i][j] += all[i][j] - f.Circle.Cofactor[i][j]*f.spread()*f.spread()
			}
		}
	}
	if f.Circle.Sought != fit.ZeroDistance || !f.Setup.ReachKnown {
		c[0], c[1][0], c[2][0] = [3]float64{}, 0, 0
		return c, true
	}
	for _, p := range f.Budget() {
		switch p.Name {
		case PartReadings, PartReference, PartReach, PartTilt:
		case PartHeld:
			v := float64(p.U * p.U)
			c[0] = [3]float64{v, v * f.lean.X, v * f.lean.Y}
			c[1][0], c[2][0] = c[0][1], c[0][2]
		default:
			c[0][0] += float64(p.U * p.U)
		}
	}
	return c, true
}
