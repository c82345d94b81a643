package part_test

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// c is a place as a complex number: turning by θ is a product with e^iθ, which shares nothing with the plan's own turning.
func c(p geom.Point) complex128 { return complex(p.X, p.Y) }

// Straights of triangles that lie anyhow: turned about the datum by what the plan says, and by no more than 45°, each runs
// along the slide that it names; the other slide's coordinate is one and the same all along, and the cutter's axis is half
// its diameter off the straight, on the side where the third corner is not. The run has the metal, the third corner, on its
// left with a cutter that turns clockwise, on its right with a left-hand one (common practice, no source).
func TestStraightsAreLaid(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 4))
	for range 400 {
		corner := func() geom.Point { return at(200*rng.Float64()-100, 200*rng.Float64()-100) }
		v := [3]geom.Point{corner(), corner(), corner()}
		if math.Abs(v[1].Sub(v[0]).Cross(v[2].Sub(v[0]))) < 400 {
			continue // hardly a triangle
		}
		d, datum, left := 2+10*rng.Float64(), corner(), rng.IntN(2) == 0
		p := made(t, part.Outline{Loops: [][]part.Piece{pieces(
			geom.Straight(v[0], v[1]), geom.Straight(v[1], v[2]), geom.Straight(v[2], v[0]))}},
			part.Options{Cutters: []float64{d}, Datum: datum, LeftHand: left})
		for i := range p.Lines {
			l := &p.Lines[i]
			by := cmplx.Exp(complex(0, float64(l.Lay.Turn)))
			machine := func(q geom.Point) complex128 { return (c(q) - c(datum)) * by }
			start, stop := complex(l.Lay.Run[0], l.Lay.Across), complex(l.Lay.Run[1], l.Lay.Across)
			if !part.NamedX(l.Lay.Slide) {
				start, stop = complex(l.Lay.Across, l.Lay.Run[0]), complex(l.Lay.Across, l.Lay.Run[1])
			}
			if math.Abs(l.Lay.Turn.Degrees()) > 45+tiny || !l.Lay.Turned {
				t.Errorf("straight %v to %v: turned by %v°, %v", l.Start, l.End, l.Lay.Turn.Degrees(), l.Lay.Turned)
			}
			a, b, third := machine(v[i]), machine(v[(i+1)%3]), machine(v[(i+2)%3])
			// Along the slide both ends of the straight lie alike across it.
			if along := b - a; math.Min(math.Abs(real(along)), math.Abs(imag(along))) > tiny ||
				part.NamedX(l.Lay.Slide) != (math.Abs(real(along)) > math.Abs(imag(along))) {
				t.Errorf("straight %v to %v lies along %v, said %v", l.Start, l.End, along, l.Lay.Slide)
			}
			cross := func(p, q complex128) float64 { return imag(cmplx.Conj(p) * q) }
			way := stop - start
			near(t, "length of the run", cmplx.Abs(way), cmplx.Abs(b-a), tiny)
			off := cross(way, a-start) / cmplx.Abs(way) // of the straight, + on the left of the run
			metal := cross(way, third-a)
			if left {
				off, metal = -off, -metal
			}
			near(t, "the straight is off the axis, towards the metal", off, d/2, tiny)
			if metal <= 0 {
				t.Errorf("straight %v to %v: the metal is on the wrong side of the run", l.Start, l.End)
			}
		}
	}
}

// A straight that a slide runs along is not turned; the other slide's coordinate is the axis', half the cutter off. The
// link's upper straight stands at y = 20, its cutter of 8 at 24; seen from a datum at (5, 3) that is 21, from X 25 to −35.
func TestStraightsThatLieAlong(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}, Datum: at(5, 3)})
	l := p.Lines[0].Lay
	if l.Turned || l.Turn != 0 || !part.NamedX(l.Slide) {
		t.Errorf("laid %+v, want as it lies, along X", l)
	}
	near(t, "across", l.Across, 21, tiny)
	near(t, "start", l.Run[0], 25, tiny)
	near(t, "stop", l.Run[1], -35, tiny)
	// At 45° either slide is as near: the one along X is taken.
	o := part.Outline{Open: [][]part.Piece{pieces(geom.Straight(at(0, 0), at(10, 10)))}}
	if l := made(t, o, part.Options{}).Lines[0].Lay; !l.Turned || !part.NamedX(l.Slide) {
		t.Errorf("laid %+v, want along X", l)
	}
}

// A straight laid by an angle that is out by ε about the datum, or with the slide out by δ: what is cut is off at the blend
// by as much as its own uncertainty says, its limit being √3 of it. The cut is made by turning the part and moving the
// cutter, and looked at from the part.
func TestStraightsOwnError(t *testing.T) {
	const eps, delta = 0.0005, 0.02
	datum, lean := at(-7, 11), 25*deg
	o := moved(link(), turned(lean, at(3, -4)))
	p := made(t, o, part.Options{Cutters: []float64{8}, Datum: datum})
	seen := 0
	for _, limit := range []part.Doubts{{Angle: eps}, {Slide: delta}, {Angle: eps, Slide: delta}} {
		b := part.Believe(p, nil, limit)
		for k, j := range b.Joints {
			for side, cut := range j.Cuts {
				if cut.Setting >= 0 {
					continue
				}
				seen++
				bl := p.Blends[b.Where[k]]
				l := &p.Lines[0]
				if n := bl.Between[side]; l.N != n {
					l = &p.Lines[1]
				}
				// The part stands turned by ε too much, the cutter by δ off: where its edge passes the blend, in the part.
				cutAt := func(eps, delta float64) float64 {
					by := cmplx.Exp(complex(0, float64(l.Lay.Turn)+eps))
					axis := complex(0, l.Lay.Across+delta)
					along := complex(1, 0)
					if !part.NamedX(l.Lay.Slide) {
						axis, along = complex(l.Lay.Across+delta, 0), complex(0, 1)
					}
					inPart, way := axis/by+c(datum), along/by
					n := c(bl.Normal)
					// Of the axis' line the place whose foot is the blend's: from there half the cutter back along the normal.
					s := imag(cmplx.Conj(n)*(c(bl.At)-inPart)) / imag(cmplx.Conj(n)*way)
					return real(cmplx.Conj(n)*(inPart+complex(s, 0)*way-c(bl.At))) - 4
				}
				near(t, "the cut is right where nothing is out", cutAt(0, 0), 0, tiny)
				want := math.Hypot(cutAt(limit.Angle, 0), cutAt(0, limit.Slide))
				near(t, "limit of the straight's own error", cut.OwnU*math.Sqrt(3), want, 1e-5)
			}
		}
	}
	if seen != 12 { // two straights with two blends each, three times
		t.Errorf("%d straights at blends, want 12", seen)
	}
	// As the link lies along X its straights are cut as the arcs are: the angle is of no matter, on a table it is.
	for _, rotary := range []bool{false, true} {
		b := part.Believe(made(t, link(), part.Options{Cutters: []float64{8}, Datum: datum, Rotary: rotary}), nil, part.Doubts{Angle: eps})
		own := 0.0
		for _, j := range b.Joints {
			own = max(own, j.Cuts[0].OwnU, j.Cuts[1].OwnU)
		}
		if (own > 0) != rotary {
			t.Errorf("rotary %v: own error %v", rotary, own)
		}
	}
}
