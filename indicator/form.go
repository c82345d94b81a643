package indicator

import (
	"math"

	"example.org/trammel/geom"
)

// A surface with k lobes departs from its circle by a·cos(kθ + φ). What the stations that were taken make of that in the
// fitted radius and centre is linear in a, and with it in cos kθ and sin kθ: two vectors for each k.
const (
	fewestLobes, mostLobes = 2, 7
	lobeKinds              = mostLobes - fewestLobes + 1
)

// MightBe is the amplitude of lobes that a reference is taken to be capable of where nobody has stated a limit: up to it a
// round that does not fit is not blamed on who read it (common practice, no source).
const MightBe = 0.02 // mm

// Form is what is known of the reference's form beside its stated limit, and what is let pass for it. Millimetres.
type Form struct {
	// Shown bounds the amplitude of two and of three lobes that sweeps have seen in every phase; 0 where none has.
	Shown [2]float64
	// Allowed is the amplitude of lobes below which a reading is not blamed for what they would explain as well; 0 blames it.
	Allowed float64
}

// Allows returns the amplitude that is allowed for: the stated limit, or what any reference might be.
func (s *Setup) Allows() float64 {
	if s.FormLimit > 0 {
		return s.FormLimit
	}
	return MightBe
}

// lobeLimit bounds the amplitude of k lobes: as stated, or as shown where that is less.
func (s *Setup) lobeLimit(k int) float64 {
	if i := k - fewestLobes; i < len(s.Form.Shown) && s.Form.Shown[i] > 0 {
		return min(s.FormLimit, s.Form.Shown[i])
	}
	return s.FormLimit
}

// lobeGain is what lobes of amplitude 1 make of the fitted unknowns: the most of the level over all phases, and M·Mᵀ of
// the centre, M holding the shifts that cosine and sine make. In their worst phase they shift it along a unit vector n by
// √(nᵀ M·Mᵀ n).
type lobeGain struct{ level, xx, xy, yy float64 }

// centre is the largest singular value of M: the most that the centre is shifted by.
func (g *lobeGain) centre() float64 {
	return math.Sqrt(max(0, (g.xx+g.yy)/2+math.Hypot((g.xx-g.yy)/2, g.xy)))
}

// FormGain returns what k lobes of amplitude 1, in the phase that is worst for each, make of the radius and of the centre by
// the stations that were taken; 0 for other than 2 to 7 lobes. Of n even stations on a full circle k lobes go into the centre whole
// where k ± 1 is a multiple of n, into the radius where k is, and else into neither (sampling theorem).
func (f *Estimate) FormGain(k int) (radius, centre float64) {
	if k < fewestLobes || k > mostLobes {
		return 0, 0
	}
	g := &f.lobes[k-fewestLobes]
	return g.level, g.centre()
}

// formPart returns what the form may make of the radius, its amplitude times the worst gain, and M·Mᵀ of the centre for the
// lobes that shift it most, both as limits; 0 where none is stated.
func (f *Estimate) formPart() (radius float64, centre lobeGain) {
	if !(f.Setup.FormLimit > 0) {
		return 0, centre
	}
	most := 0.0
	for i := range f.lobes {
		g, a := f.lobes[i], f.Setup.lobeLimit(i+fewestLobes)
		radius = max(radius, a*g.level)
		if c := a * g.centre(); c > most {
			most, centre = c, lobeGain{xx: a * a * g.xx, xy: a * a * g.xy, yy: a * a * g.yy}
		}
	}
	return radius, centre
}

// WithForm returns the estimate with the form of its reference counted up to what it might be: what is outside by it is
// outside by more than the form could make.
func (f *Estimate) WithForm() Estimate {
	g := *f
	g.Setup.FormLimit = f.Setup.Allows()
	return g
}

// findGains solves the fit's normal equations, a drift among them where places are given, for lobes in cosine and in sine phase.
func (f *Estimate) findGains(bearings []geom.Bearing, w, places []float64) {
	const unknowns = 4
	var m [unknowns][unknowns + 2*lobeKinds]float64
	sought := unknowns
	if places == nil {
		sought--
	}
	for i, b := range bearings {
		u := b.Unit()
		row := f.Circle.RowTowards(u)
		q := [unknowns]float64{row[0], row[1], row[2]}
		if f.Circle.Hold {
			q[0] = 0
		}
		if places != nil {
			q[3] = places[i]
		}
		g := 1.0
		if w != nil {
			g = w[i]
		}
		var of [unknowns + 2*lobeKinds]float64
		copy(of[:], q[:])
		at := geom.Point{X: float64(u.X*u.X) - float64(u.Y*u.Y), Y: 2 * u.X * u.Y} // of two lobes
		for k := range lobeKinds {
			of[unknowns+2*k], of[unknowns+2*k+1] = at.X, at.Y
			at = geom.Point{X: float64(at.X*u.X) - float64(at.Y*u.Y), Y: float64(at.X*u.Y) + float64(at.Y*u.X)}
		}
		for r := range sought {
			by, sums := g*q[r], &m[r]
			for c := range sums {
				sums[c] += float64(by * of[c])
			}
		}
	}
	for i := range m {
		if m[i][i] == 0 { // held, or no drift
			m[i][i] = 1
		}
	}
	for i := range m { // of a positive definite matrix no pivots need be sought
		for r := range m {
			if r == i {
				continue
			}
			by := m[r][i] / m[i][i]
			for c := i; c < len(m[r]); c++ {
				m[r][c] -= float64(by * m[i][c])
			}
		}
	}
	for k := range f.lobes {
		var p [3][2]float64
		for i := range p {
			p[i] = [2]float64{m[i][unknowns+2*k] / m[i][i], m[i][unknowns+2*k+1] / m[i][i]}
		}
		dot := func(a, b [2]float64) float64 { return float64(a[0]*b[0]) + float64(a[1]*b[1]) }
		f.lobes[k] = lobeGain{math.Hypot(p[0][0], p[0][1]), dot(p[1], p[1]), dot(p[1], p[2]), dot(p[2], p[2])}
	}
}
