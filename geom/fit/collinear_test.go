package fit

import (
	"math"
	"testing"

	"example.org/trammel/geom"
)

// On an arc of half-angle φ that is swept evenly, the squared correlation of the level with the
// centre is that of a constant with cos over the arc: 2·sinc²φ/(1 + sinc 2φ). By symmetry the part
// of the centre that goes with it lies along the arc's middle, the other way where the surface's
// radius is the level.
func TestCollinearOnArcs(t *testing.T) {
	const n = 4001 // as good as swept without a gap
	sinc := func(x float64) float64 { return math.Sin(x) / x }
	for _, half := range []float64{20, 45, 90, 100, 150} {
		phi := half * math.Pi / 180
		for _, sought := range []Sought{ZeroDistance, SurfaceRadius} {
			middle := geom.FromDegrees(70)
			m := Model{Sought: sought, Surface: 30}
			s := exactly(m, [3]float64{30, 0, 0}, evenly(n, middle-geom.Bearing(phi), geom.Bearing(2*phi)))
			r := s.fit(t)
			got := r.Cofactor.Collinear()
			want := math.Sqrt(2 * sinc(phi) * sinc(phi) / (1 + sinc(2*phi)))
			if math.Abs(got.Correlation-want) > 1e-3 {
				t.Errorf("half-angle %v°: correlation %.5f, want %.5f", half, got.Correlation, want)
			}
			along := middle
			if sought == SurfaceRadius {
				along += math.Pi
			}
			if got.Along.Apart(along) > 1e-6 {
				t.Errorf("half-angle %v°, sought %d: along %v°, want %v°", half, sought, got.Along.Degrees360(), along.Degrees360())
			}
			// With the level known, cos alone is to be found: Σcos² of the rows.
			sum := 0.0
			for _, b := range s.t {
				c := math.Cos(float64(b - middle))
				sum += c * c
			}
			if math.Abs(got.Held*math.Sqrt(sum)-1) > 1e-6 {
				t.Errorf("half-angle %v°: held %v, want %v", half, got.Held, 1/math.Sqrt(sum))
			}
			if (want > 0.8 && got.Together > got.Part) || got.Level != math.Sqrt(r.Cofactor[0][0]) {
				t.Errorf("half-angle %v°: %+v", half, got)
			}
		}
	}
}

// Once round nothing goes with the level: the correlation is rounding alone.
func TestCollinearOnCircle(t *testing.T) {
	s := exactly(Model{Sought: ZeroDistance, Surface: 30}, [3]float64{30, 0, 0}, evenly(12, 0, 2*math.Pi))
	r := s.fit(t)
	if got := r.Cofactor.Collinear(); got.Correlation > 1e-7 {
		t.Errorf("%+v, want no correlation", got)
	}
}
