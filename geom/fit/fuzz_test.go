package fit

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"example.org/trammel/geom"
)

// packed writes numbers as the fuzzer's bytes: bearing, reading, weight of each station in turn.
func packed(values ...float64) []byte {
	var b []byte
	for _, v := range values {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}

// FuzzFit: whatever the numbers, Fit ends, with an error of its own or an answer of finite
// numbers that lies inside the surface.
func FuzzFit(f *testing.F) {
	plain := packed(0, 0.1, 1, 2, 0.2, 1, 4, -0.1, 1, 5, 0, 1)
	f.Add(uint8(0), false, 30.0, 0.0, plain)
	f.Add(uint8(1), true, 0.0, -0.5, packed(0, 8, 1, math.Pi/2, 4, 2, math.Pi, 2, 1, -math.Pi/2, 4, 0.5))
	f.Add(uint8(2), true, 0.0, 0.0, plain)
	f.Add(uint8(0), true, 0.5, 0.49, plain)                                                       // hardly any circle left
	f.Add(uint8(0), false, 1.0, 0.0, packed(0, 0.99, 1, 2, -0.4, 1, 4, -0.6, 1))                  // centre at the edge
	f.Add(uint8(1), false, 0.0, 0.0, packed(1, 30, 1, 1.0001, 30.001, 1, 1.0002, 29.999, 1))      // a hair of an arc
	f.Add(uint8(1), false, 0.0, 0.0, packed(0, -1, 1, 2, 3, 1, 4, -2, 1))                         // distances below zero
	f.Add(uint8(2), true, 0.0, 0.0, packed(0, 1e160, 1, 2, -1e160, 1, 4, 3e150, 1, 5, 0, 1e-200)) // squares that overflow
	f.Add(uint8(0), true, 1e-310, 0.0, packed(0, 1e-310, 1e90, 2, 0, 1e-90, 4, 0, 1))             // squares that vanish
	f.Add(uint8(0), false, 30.0, 0.0, packed(1e300, 0, 1, -1e308, 1, 1, 1.7e308, 2, 1))           // bearings of many turns
	f.Add(uint8(1), true, math.Inf(1), math.NaN(), packed(math.NaN(), math.Inf(1), -1, 0, 0, 0, 1, 1, 1))
	f.Fuzz(func(t *testing.T, sought uint8, weighted bool, surface, ball float64, data []byte) {
		m := Model{Sought: Sought(sought % 3), Surface: surface, Ball: ball}
		var at []geom.Bearing
		var y, w []float64
		for ; len(data) >= 24 && len(y) < 64; data = data[24:] {
			number := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:])) }
			at, y = append(at, geom.Bearing(number(0))), append(y, number(1))
			if weighted {
				w = append(w, number(2))
			}
		}
		if !weighted {
			w = nil
		}
		r, err := m.Fit(at, y, w)
		if err != nil {
			if !errors.As(err, new(*TooFewError)) && !errors.As(err, new(*SingularError)) &&
				!errors.As(err, new(*OutsideError)) && !errors.As(err, new(*ValueError)) {
				t.Fatalf("error of no known kind: %v", err)
			}
			return
		}
		wantFinite(t, &r, at)
	})
}

func wantFinite(t *testing.T, r *Radial, at []geom.Bearing) {
	t.Helper()
	numbers := []float64{r.Level, r.Centre.X, r.Centre.Y, r.SSR, r.Condition}
	for i := range 3 {
		numbers = append(numbers, r.Cofactor[i][:]...)
		if !(r.Cofactor[i][i] > 0) {
			t.Errorf("variance %d is %v", i, r.Cofactor[i][i])
		}
	}
	for _, b := range at {
		numbers = append(numbers, r.At(b))
	}
	for _, v := range numbers {
		if !finite(v) {
			t.Fatalf("not finite: %+v", r)
		}
	}
	if r.N != len(at) || r.SSR < 0 || !(r.Condition >= 1 && r.Condition < maxCondition) {
		t.Errorf("%d readings: %+v", len(at), r)
	}
	if r.Sought != MeanReading && !(r.Centre.Norm() < r.inner()) {
		t.Errorf("centre %v mm off in a circle of %v mm", r.Centre.Norm(), r.inner())
	}
}
