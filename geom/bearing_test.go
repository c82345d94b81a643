package geom

import (
	"math"
	"testing"
)

// apart is |a − b|, and +Inf where either is no number, so that no bound holds it.
func apart(a, b float64) float64 {
	if d := math.Abs(a - b); !math.IsNaN(d) {
		return d
	}
	return math.Inf(1)
}

func TestNormalizedInterval(t *testing.T) {
	const turn = 2 * math.Pi
	for _, c := range []struct{ in, want Bearing }{
		{0, 0}, {1, 1}, {-1, turn - 1}, {math.Pi, math.Pi}, {-math.Pi, math.Pi},
		{turn, 0}, {-turn, 0}, {turn + 1, 1}, {3 * turn, 0}, {-5*turn + 2, 2},
		{-1e-17, 0}, {-1e-300, 0}, {math.SmallestNonzeroFloat64, math.SmallestNonzeroFloat64},
		{Bearing(math.Nextafter(turn, 0)), Bearing(math.Nextafter(turn, 0))},
		{540 * Degree, math.Pi}, {-90 * Degree, 1.5 * math.Pi},
	} {
		// Taking whole turns off loses what the larger number cannot hold.
		if got := c.in.Normalized(); apart(float64(got), float64(c.want)) > 1e-14 {
			t.Errorf("Normalized(%v) = %v, want %v", float64(c.in), float64(got), float64(c.want))
		}
	}
	for k := -4000; k <= 4000; k++ {
		for _, b := range []Bearing{Bearing(k) * Degree, Bearing(float64(k) * turn / 7), FromDegrees(float64(k) * 90),
			Bearing(float64(k)) * 1e13} {
			if got := b.Normalized(); !(got >= 0 && got < turn) {
				t.Fatalf("Normalized(%v) = %v, want [0, 2π)", float64(b), float64(got))
			}
		}
	}
	for _, b := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := Bearing(b).Normalized(); !math.IsNaN(float64(got)) {
			t.Errorf("Normalized(%v) = %v, want NaN", b, float64(got))
		}
	}
}

func TestDegrees360(t *testing.T) {
	for _, c := range []struct{ in, want float64 }{
		{0, 0}, {90, 90}, {359.5, 359.5}, {360, 0}, {720, 0}, {-360, 0}, {-90, 270}, {-450, 270},
		{720.5, 0.5}, {-0.25, 359.75}, {3600000, 0}, {1e-12, 0}, {-1e-12, 0}, {359.9999999999, 0},
		{360.0000000001, 0}, {359.99999999, 359.99999999}, {0.00000001, 0.00000001},
	} {
		got := FromDegrees(c.in).Degrees360()
		if apart(got, c.want) > 1e-9 || got < 0 || got >= 360 {
			t.Errorf("%v° shown as %v°, want %v°", c.in, got, c.want)
		}
	}
	// Every whole number of degrees, from any turn, is shown as itself to eleven digits.
	for k := -1080; k <= 1080; k++ {
		want := float64((k%360 + 360) % 360)
		if got := FromDegrees(float64(k)).Degrees360(); apart(got, want) > 1e-11 || math.Signbit(got) {
			t.Errorf("%d° shown as %v°, want %v°", k, got, want)
		}
	}
	if got := Bearing(math.NaN()).Degrees360(); !math.IsNaN(got) {
		t.Errorf("NaN shown as %v°", got)
	}
}

func TestDegreesThereAndBack(t *testing.T) {
	for _, deg := range []float64{0, 1, -33.25, 90, 180, 359, 360, 1234.5, -720} {
		if got := FromDegrees(deg).Degrees(); apart(got, deg) > 4e-15*math.Abs(deg) {
			t.Errorf("%v° came back as %v°", deg, got)
		}
		if got := Bearing(deg) * Degree; apart(float64(got), float64(FromDegrees(deg))) > 1e-15*math.Abs(deg) {
			t.Errorf("%v*Degree = %v, FromDegrees %v", deg, float64(got), float64(FromDegrees(deg)))
		}
	}
	if FromDegrees(180) != math.Pi || FromDegrees(90) != math.Pi/2 {
		t.Errorf("180° is %v, 90° is %v", float64(FromDegrees(180)), float64(FromDegrees(90)))
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct{ a, b, want float64 }{
		{0, 0, 0}, {10, 350, 20}, {350, 10, 20}, {0, 180, 180}, {90, -90, 180}, {0, 360, 0},
		{-1, 721, 2}, {5, 184, 179}, {5, 186, 179}, {1e-7, -1e-7, 2e-7},
	} {
		got := FromDegrees(c.a).Apart(FromDegrees(c.b)) * 180 / math.Pi
		if apart(got, c.want) > 1e-12 || got < 0 || got > 180 {
			t.Errorf("%v° and %v° are %v° apart, want %v°", c.a, c.b, got, c.want)
		}
	}
}

// Unit vectors of the triangles that everybody knows, and directions of points in each quadrant.
func TestUnitAndPoint(t *testing.T) {
	r := math.Sqrt(0.75)
	for deg, want := range map[float64]Point{
		0: {1, 0}, 30: {r, 0.5}, 60: {0.5, r}, 90: {0, 1}, 120: {-0.5, r}, 180: {-1, 0}, 270: {0, -1}, 330: {r, -0.5},
	} {
		u := FromDegrees(deg).Unit()
		if !(u.Sub(want).Norm() <= 2e-15) {
			t.Errorf("unit at %v° = %v, want %v", deg, u, want)
		}
		if got := want.Bearing().Degrees360(); apart(got, deg) > 1e-12 {
			t.Errorf("%v lies at %v°, want %v°", want, got, deg)
		}
	}
	p, q := Point{3, -4}, Point{-1, 0.5}
	if got := p.Add(q); got != (Point{2, -3.5}) {
		t.Errorf("sum %v", got)
	}
	if got := p.Sub(q); got != (Point{4, -4.5}) {
		t.Errorf("difference %v", got)
	}
	if got := p.Dot(q); got != -5 {
		t.Errorf("scalar product %v, want −5", got)
	}
	if far := (Point{3e200, 4e200}).Norm(); p.Norm() != 5 || apart(far/5e200, 1) > 1e-15 {
		t.Errorf("lengths %v and %v, want 5 and 5e200", p.Norm(), far)
	}
	if b := (Point{}).Bearing(); b != 0 {
		t.Errorf("the origin lies at %v, want 0", float64(b))
	}
	if b := (Point{-1, math.Copysign(0, -1)}).Bearing(); b != math.Pi {
		t.Errorf("(−1, −0) lies at %v, want π", float64(b))
	}
}
