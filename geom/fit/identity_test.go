package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// identity is how near two fits of the same data in another guise must come. They differ by
// rounding alone, as the two solvers of TestFitAgainstGonum do.
const identity = agreement

// eachRandom calls try with blurred random sweeps of every kind and their fits.
func eachRandom(t *testing.T, seed uint64, try func(s sweep, f Radial, rng *rand.Rand)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(26, seed))
	for _, sought := range []Sought{ZeroDistance, SurfaceRadius, MeanReading} {
		for range 200 {
			s := random(rng, sought).blurred(rng, scatter)
			try(s, s.fit(t), rng)
		}
	}
}

// wantSame holds a fit against the unknowns, the sum of squares and the cofactor it must have.
func wantSame(t *testing.T, what string, got Radial, p [3]float64, ssr float64, c Sym3) {
	t.Helper()
	if d := farthest(got.params(), p); !(d <= identity) {
		t.Errorf("%s, sought %v: fit %.13g, want %.13g", what, got.Sought, got.params(), p)
	}
	if !(math.Abs(got.SSR-ssr) <= sameShape*ssr+1e-22) {
		t.Errorf("%s, sought %v: SSR %.13g, want %.13g", what, got.Sought, got.SSR, ssr)
	}
	wantCofactor(t, what, got.Cofactor, c, sameShape)
}

func TestTurningTheFrame(t *testing.T) {
	eachRandom(t, 11, func(s sweep, f Radial, rng *rand.Rand) {
		turn := geom.Bearing(20 * (rng.Float64() - 0.5)) // up to a turn and a half either way
		turned := s
		turned.t = make([]geom.Bearing, len(s.t))
		for i := range s.t {
			turned.t[i] = s.t[i] + turn
		}
		sin, cos := math.Sincos(float64(turn))
		rot := Sym3{{1, 0, 0}, {0, cos, -sin}, {0, sin, cos}}
		var p [3]float64
		var c Sym3
		for i := range 3 {
			for j := range 3 {
				p[i] += rot[i][j] * f.params()[j]
				for k := range 3 {
					for l := range 3 {
						c[i][j] += rot[i][k] * f.Cofactor[k][l] * rot[j][l]
					}
				}
			}
		}
		wantSame(t, "turned", turned.fit(t), p, f.SSR, c)
	})
}

// Seen in a mirror, bearings run the other way: e_y and what goes with it change sign.
func TestMirroringTheFrame(t *testing.T) {
	eachRandom(t, 12, func(s sweep, f Radial, _ *rand.Rand) {
		mirrored := s
		mirrored.t = make([]geom.Bearing, len(s.t))
		for i := range s.t {
			mirrored.t[i] = -s.t[i]
		}
		c := f.Cofactor
		for _, at := range [][2]int{{0, 2}, {1, 2}, {2, 0}, {2, 1}} {
			c[at[0]][at[1]] *= -1
		}
		wantSame(t, "mirrored", mirrored.fit(t), [3]float64{f.Level, f.Centre.X, -f.Centre.Y}, f.SSR, c)
	})
}

func TestOrderOfStations(t *testing.T) {
	eachRandom(t, 13, func(s sweep, f Radial, rng *rand.Rand) {
		mixed := sweep{model: s.model, truth: s.truth}
		for _, i := range rng.Perm(len(s.t)) {
			full := geom.Bearing(2 * math.Pi * float64(rng.IntN(5)-2)) // and whole turns added
			mixed.t, mixed.y = append(mixed.t, s.t[i]+full), append(mixed.y, s.y[i])
			if s.w != nil {
				mixed.w = append(mixed.w, s.w[i])
			}
		}
		wantSame(t, "mixed", mixed.fit(t), f.params(), f.SSR, f.Cofactor)
	})
}

// The same sweep in inches taken for millimetres: every length shrinks alike, and the cofactor,
// which has no unit, stays.
func TestChangeOfUnit(t *testing.T) {
	eachRandom(t, 14, func(s sweep, f Radial, _ *rand.Rand) {
		const k = geom.MillimetresPerInch
		other := s
		other.model.Surface, other.model.Ball = s.model.Surface/k, s.model.Ball/k
		other.y = make([]float64, len(s.y))
		for i := range s.y {
			other.y[i] = s.y[i] / k
		}
		p := f.params()
		wantSame(t, "inches", other.fit(t), [3]float64{p[0] / k, p[1] / k, p[2] / k}, f.SSR/(k*k), f.Cofactor)
	})
}

// Relative weights: a common factor changes nothing but the scale of what is weighted.
func TestScaleOfWeights(t *testing.T) {
	eachRandom(t, 15, func(s sweep, f Radial, _ *rand.Rand) {
		const k = 7.3
		heavy := s
		heavy.w = make([]float64, len(s.y))
		for i := range s.y {
			heavy.w[i] = k * weight(s.w, i)
		}
		c := f.Cofactor
		for i := range 3 {
			for j := range 3 {
				c[i][j] /= k
			}
		}
		wantSame(t, "heavier", heavy.fit(t), f.params(), k*f.SSR, c)
	})
}

// A constant added to every reading, as a dial that was set to another zero adds it, belongs to
// the level and must leave the centre alone:
//
//	ZeroDistance   y + c = d − (z − c)                       the level falls by c, exactly
//	MeanReading    y + c = (a + c) + e·u                     the level rises by c, exactly
//	SurfaceRadius  y + c = d(ρ + c, b + c, e)                the level rises by c, exactly, only if the
//	                                                         ball grows by c as well (ρ − b stays)
func TestConstantAddedToReadings(t *testing.T) {
	eachRandom(t, 16, func(s sweep, f Radial, rng *rand.Rand) {
		c := 4 * (rng.Float64() - 0.5)
		shifted := s
		shifted.y = make([]float64, len(s.y))
		for i := range s.y {
			shifted.y[i] = s.y[i] + c
		}
		p := f.params()
		switch s.model.Sought {
		case ZeroDistance:
			p[0] -= c
		case MeanReading:
			p[0] += c
		case SurfaceRadius:
			shifted.model.Ball += c
			p[0] += c
		}
		wantSame(t, "shifted", shifted.fit(t), p, f.SSR, f.Cofactor)
	})
}

// Where the surface's radius is sought with the ball as it is, a constant is not just a larger
// circle: the readings of a centre that is out bend as 1/ρ. Only a concentric sweep moves by the
// constant; a centre 3 out on an arc of 60° is moved with it, and so is not to be trusted where
// the zero radius is wrong.
func TestConstantAddedToDistances(t *testing.T) {
	const c = 2.0
	for _, e := range []float64{0, 3} {
		s := exactly(Model{Sought: SurfaceRadius}, [3]float64{30, e, 0}, evenly(12, 1, 60*geom.Degree))
		for i := range s.y {
			s.y[i] += c
		}
		f := s.fit(t)
		moved := farthest(f.params(), [3]float64{30 + c, e, 0})
		if e == 0 && moved > 1e-11 { // the arc's condition makes that of rounding
			t.Errorf("concentric: fit %v, want the radius 32 and no centre error", f.params())
		}
		// e²/(2ρ) sin² t is bent by c/ρ less: 0.15·2/30 = 10 µm, and a 60° arc magnifies it.
		if e != 0 && moved < 0.005 {
			t.Errorf("eccentric: fit %v moved by %v only, want more than 0.005", f.params(), moved)
		}
	}
}

// A ball in a bore sees a bore that is smaller by itself, farther away by itself: radius and ball
// that grow together only add a constant.
func TestBallIsASmallerCircle(t *testing.T) {
	eachRandom(t, 17, func(s sweep, f Radial, _ *rand.Rand) {
		if s.model.Sought != ZeroDistance {
			return
		}
		b := s.model.Ball
		point := s
		point.model.Ball, point.model.Surface = 0, s.model.Surface-b
		wantSame(t, "point", point.fit(t), [3]float64{f.Level - b, f.Centre.X, f.Centre.Y}, f.SSR, f.Cofactor)
	})
}
