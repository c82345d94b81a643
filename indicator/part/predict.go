package part

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Setting is what is believed of one setting of the swing radius: by how much it is out, and how sure
// that is. A setting still to come is believed to be what it is aimed at: 0.
type Setting struct {
	Radius float64       // δR, true swing radius less the one meant
	Centre geom.Point    // e, reference centre less axis: the arc's centre is out by −e
	Cov    [3][3]float64 // covariance of δR, e_x, e_y, without what settings have in common
	// Open: the setting is still to come, so it can be aimed beside its figure, by no more than
	// Tolerance in δR and CentreTolerance in e.
	Open                       bool
	Tolerance, CentreTolerance float64
}

// Source is an unknown that several settings or cutters have in common: the reach, the reference's
// radius, an axis that leans, a cutter's diameter. It enters with sensitivities, by setting into δR and
// into e, and by cutter into δD; what is not listed has none. So it cancels between two elements, or doubles, as it does at the machine.
type Source struct {
	Name     string
	U        float64 // standard uncertainty, millimetres
	Settings []float64
	Centres  []geom.Point
	Cutters  []float64
}

// Cut is how one of two elements that meet is cut.
type Cut struct {
	// Setting is an index into Situation.Settings, −1: by a slide. Kappa is +1 for a convex arc, −1 for
	// a concave one, 0 for a straight.
	Setting int
	Kappa   float64
	Cutter  int // an index into Situation.Cutters, −1: its error is in Own, or of no matter
	// Own is a further normal error of this element alone, + out of the metal, with its standard
	// uncertainty: all there is of a straight.
	Own, OwnU float64
}

// Joint is a blend with the way in which its two elements are cut.
type Joint struct {
	Cuts   [2]Cut
	Normal geom.Point // unit vector out of the metal where they meet
	Weight float64    // how much its step matters; 0 counts as 1
}

// Situation is what is believed of the settings of a part, made and to come.
type Situation struct {
	Settings []Setting
	Cutters  []float64 // δD, true effective diameter less the one reckoned with
	Sources  []Source
	Joints   []Joint
}

// Foretold is a step at a blend, the first element's normal error less the second's, + where the first
// stands prouder, and its standard uncertainty, millimetres.
type Foretold struct{ Value, U float64 }

// A SituationError is a situation that names what is not there or has a number that is none.
type SituationError struct {
	What string
	At   int
}

func (e *SituationError) Error() string { return fmt.Sprintf("%s %d is none", e.What, e.At) }

// row is the step of one joint as a linear form in all there is to be sure of.
type row struct {
	settings [][3]float64 // by δR, e_x, e_y of each setting
	cutters  []float64
	own      float64
	variance float64 // of own
}

// row lays out one joint. An element's normal error is
//
//	δ = κ·δR − δD/2 − e·n + own
//
// out of the metal, n the outward normal there: a swing radius too large leaves a convex arc proud
// (+δR) and digs a concave one deeper (−δR), a cutter too large takes half its excess off either, and
// an arc whose centre is out by −e moves with it. The step is δ of the first less δ of the second.
// What is left out is (e·v)²/2r of either arc, v along the outline: 0.013 µm for e = 0.02 on r = 15
// (held by TestStepsAreReal).
func (s *Situation) row(j Joint) row {
	r := row{settings: make([][3]float64, len(s.Settings)), cutters: make([]float64, len(s.Cutters))}
	for k, c := range j.Cuts {
		sign := float64(1 - 2*k)
		if c.Setting >= 0 {
			to := &r.settings[c.Setting]
			to[0] += sign * c.Kappa
			to[1] -= sign * j.Normal.X
			to[2] -= sign * j.Normal.Y
		}
		if c.Cutter >= 0 {
			r.cutters[c.Cutter] -= sign / 2
		}
		r.own += sign * c.Own
		r.variance += c.OwnU * c.OwnU
	}
	return r
}

// foretell is the value and the uncertainty of a row.
func (s *Situation) foretell(r row) Foretold {
	value, variance := r.own, r.variance
	for i, a := range r.settings {
		b := &s.Settings[i]
		value += a[0]*b.Radius + a[1]*b.Centre.X + a[2]*b.Centre.Y
		for k := range 3 {
			for l := range 3 {
				variance += a[k] * b.Cov[k][l] * a[l]
			}
		}
	}
	for i, a := range r.cutters {
		value += a * s.Cutters[i]
	}
	for _, src := range s.Sources {
		by := 0.0
		for i, c := range src.Settings {
			by += r.settings[i][0] * c
		}
		for i, c := range src.Centres {
			by += r.settings[i][1]*c.X + r.settings[i][2]*c.Y
		}
		for i, c := range src.Cutters {
			by += r.cutters[i] * c
		}
		variance += by * by * src.U * src.U
	}
	return Foretold{Value: value, U: math.Sqrt(max(0, variance))}
}

// Steps foretells the step at every joint, and which is worst: the one whose |step| + 2·U is largest,
// −1 where there is none. It fails with a [SituationError].
func (s *Situation) Steps() (steps []Foretold, worst int, err error) {
	if err := s.check(); err != nil {
		return nil, -1, err
	}
	steps, worst = s.steps()
	return steps, worst, nil
}

func (s *Situation) steps() (steps []Foretold, worst int) {
	worst, most := -1, -1.0
	for i, j := range s.Joints {
		f := s.foretell(s.row(j))
		steps = append(steps, f)
		if bad := math.Abs(f.Value) + 2*f.U; bad > most {
			worst, most = i, bad
		}
	}
	return steps, worst
}

// check refuses indexes of what is not there and numbers that are none.
func (s *Situation) check() error {
	for i, b := range s.Settings {
		xs := []float64{b.Radius, b.Centre.X, b.Centre.Y, b.Tolerance, b.CentreTolerance}
		for _, c := range b.Cov {
			xs = append(xs, c[:]...)
		}
		if !finite(xs...) || b.Tolerance < 0 || b.CentreTolerance < 0 {
			return &SituationError{"setting", i}
		}
	}
	for i, d := range s.Cutters {
		if !finite(d) {
			return &SituationError{"cutter", i}
		}
	}
	for i, src := range s.Sources {
		xs := append([]float64{src.U}, src.Settings...)
		for _, c := range src.Centres {
			xs = append(xs, c.X, c.Y)
		}
		if len(src.Settings) > len(s.Settings) || len(src.Centres) > len(s.Settings) || len(src.Cutters) > len(s.Cutters) ||
			!finite(xs...) || !finite(src.Settings...) || !finite(src.Cutters...) {
			return &SituationError{"common source", i}
		}
	}
	for i, j := range s.Joints {
		if !finite(j.Normal.X, j.Normal.Y, j.Weight) || j.Weight < 0 {
			return &SituationError{"joint", i}
		}
		for _, c := range j.Cuts {
			if c.Setting < -1 || c.Setting >= len(s.Settings) || c.Cutter < -1 || c.Cutter >= len(s.Cutters) ||
				!finite(c.Kappa, c.Own, c.OwnU) {
				return &SituationError{"joint", i}
			}
		}
	}
	return nil
}
