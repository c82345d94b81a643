package fit

import (
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// The same profile moved, turned, mirrored, in another unit, in another order, with points twice:
// radii and departures follow, and so do the centres of the circles that have only one.
func TestRoundnessIdentities(t *testing.T) {
	rng := rand.New(rand.NewPCG(28, 11))
	for range 100 {
		p := lobed(rng, 8+rng.IntN(40), 20, 0.004, 0.003, 0)
		r := roundnessOf(t, p)
		b, by := geom.Bearing(7*rng.Float64()).Unit(), geom.Point{X: 50 * rng.NormFloat64(), Y: 50 * rng.NormFloat64()}
		const k = geom.MillimetresPerInch
		for _, c := range []struct {
			name  string
			scale float64
			f     func(geom.Point) geom.Point
		}{
			{"moved", 1, by.Add},
			{"turned", 1, func(p geom.Point) geom.Point { return geom.Point{X: b.X*p.X - b.Y*p.Y, Y: b.Y*p.X + b.X*p.Y} }},
			{"mirrored", 1, func(p geom.Point) geom.Point { return geom.Point{X: -p.X, Y: p.Y} }},
			{"in inches", 1 / k, func(p geom.Point) geom.Point { return geom.Point{X: p.X / k, Y: p.Y / k} }},
			{"in another order, some twice", 1, func(p geom.Point) geom.Point { return p }},
		} {
			q := make([]geom.Point, len(p))
			for i := range p {
				q[i] = c.f(p[i])
			}
			if c.name == "in another order, some twice" {
				rng.Shuffle(len(q), func(i, j int) { q[i], q[j] = q[j], q[i] })
				r = roundnessOf(t, append(append([]geom.Point(nil), p...), q[:3]...)) // least squares weighs them
				q = append(q, q[:3]...)
			}
			wantSameRoundness(t, c.name, roundnessOf(t, q), r, c.scale, c.f)
		}
	}
}

func wantSameRoundness(t *testing.T, what string, got, was RoundnessResult, scale float64, f func(geom.Point) geom.Point) {
	t.Helper()
	// A centre is fixed by where distances cross, which a flat crossing magnifies.
	const rounding, crossing = 1e-11, 1e-9 // mm
	for _, c := range []struct {
		name     string
		got, was ReferenceCircle
	}{
		{"least squares", got.LeastSquares, was.LeastSquares},
		{"minimum zone", got.MinimumZone, was.MinimumZone},
		{"circumscribed", got.MinimumCircumscribed, was.MinimumCircumscribed},
		{"inscribed", got.MaximumInscribed, was.MaximumInscribed},
	} {
		centre := f(c.was.Centre)
		if farthest([3]float64{c.got.Radius, c.got.Centre.X, c.got.Centre.Y}, [3]float64{scale * c.was.Radius,
			centre.X, centre.Y}) > crossing ||
			apart(c.got.Departure, scale*c.was.Departure) > rounding {
			t.Errorf("%s, %s: %+v, want %+v at scale %v", what, c.name, c.got, c.was, scale)
		}
	}
}

// Readings in whole hundredths at equal angles lie on a few circles about the axis, and rounding
// tears every vertex: the definitions must hold, and the search must not swell.
func TestRoundnessOfCoarseReadings(t *testing.T) {
	rng := rand.New(rand.NewPCG(28, 12))
	for _, n := range []int{8, 12, 36, 64, 120} {
		for range 10 {
			p := lobed(rng, n, 20, 0.003, 0.002, 0.01) // mostly 0
			wantDefinitions(t, "coarse", p, roundnessOf(t, p))
			s := seenFrom(geom.Point{X: 0.2, Y: -20. / 70}, p, 20*profileGrain)
			for _, way := range []float64{1, -1} {
				if e := s.diagram(way); len(e) > 3*n { // Euler: at most 3n − 6
					t.Errorf("%d points, way %v: %d edges", n, way, len(e))
				}
			}
		}
	}
}

// FuzzRoundness: whatever the points, Roundness ends with an error or with circles that are what
// they are called.
func FuzzRoundness(f *testing.F) {
	f.Add(packed(0, 0.01, 1, 0, 2, 0.02, 3, 0, 4, 0.01, 5, -0.01))
	f.Add(packed(0, 0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6, 0))
	f.Add(packed(0, 1, 1, -1, 2, 1, 3, -1, 4, 1, 5, -1))
	f.Add(packed(0, 0, 2, 0, 4, 0, 0, 0))
	f.Add(packed(0, 0, 1e-9, 1e-9, 2, 0, 4, 0, 4.0000001, 1e-7))
	f.Fuzz(func(t *testing.T, data []byte) {
		var at []geom.Bearing
		var r []float64
		for ; len(data) >= 16 && len(at) < 40; data = data[16:] {
			b := math.Float64frombits(binary.LittleEndian.Uint64(data))
			d := math.Float64frombits(binary.LittleEndian.Uint64(data[8:]))
			if !(math.Abs(b) < 100 && math.Abs(d) < 5) {
				continue
			}
			at, r = append(at, geom.Bearing(b)), append(r, 20+d)
		}
		p := ProfilePoints(at, r)
		got, err := Roundness(p)
		if err != nil {
			if !errors.As(err, new(*CoincidentError)) && !errors.As(err, new(*StraightError)) && !errors.As(err, new(*SingularError)) &&
				!errors.As(err, new(*UnsettledError)) && !errors.As(err, new(*GapError)) {
				t.Fatalf("error of no known kind: %v", err)
			}
			return
		}
		wantDefinitions(t, "fuzzed", p, got)
	})
}

func benchmarkRoundness(b *testing.B, p []geom.Point) {
	for b.Loop() {
		if _, err := Roundness(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRoundness12(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 21)), 12, 20, 0.004, 0.003, 0))
}

func BenchmarkRoundness64(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 22)), 64, 20, 0.004, 0.003, 0))
}

func BenchmarkRoundness64Coarse(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 23)), 64, 20, 0.004, 0.003, 0.01))
}

func BenchmarkRoundness400(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 24)), 400, 20, 0.004, 0.003, 0))
}

func BenchmarkRoundness400Coarse(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 25)), 400, 20, 0.004, 0.003, 0.01))
}

func BenchmarkRoundness400True(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 26)), 400, 20, 0, 0, 0))
}

func BenchmarkRoundness1000(b *testing.B) {
	benchmarkRoundness(b, lobed(rand.New(rand.NewPCG(28, 27)), 1000, 20, 0.004, 0.003, 0))
}
