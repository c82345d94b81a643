package plot

import (
	"math"
	"testing"
)

func TestRoundFactor(t *testing.T) {
	for _, c := range []struct{ limit, want float64 }{
		{1, 1}, {1.99, 1}, {2, 2}, {4.999, 2}, {5, 5}, {9.99, 5}, {10, 10}, {63, 50}, {1000, 1000},
		{0.7, 0.5}, {0.2, 0.2}, {0.019, 0.01}, {123456, 100000},
		{0, 0}, {-3, 0}, {math.NaN(), 0}, {math.Inf(1), 0},
	} {
		if got := roundFactor(c.limit); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("roundFactor(%v) = %v, want %v", c.limit, got, c.want)
		}
	}
	// It never exceeds the limit and never leaves more than a factor of 2.5 unused.
	for x := 1e-6; x < 1e9; x *= 1.037 {
		if f := roundFactor(x); f > x*(1+1e-9) || f*2.5 < x*(1-1e-9) {
			t.Errorf("roundFactor(%v) = %v, want above %v and at most %v", x, f, x/2.5, x)
		}
	}
}

func TestFormatFactor(t *testing.T) {
	for f, want := range map[float64]string{1: "1", 50: "50", 0.5: "0.5", 2000: "2000", 0.02: "0.02", 1e9: "1e+09"} {
		if got := formatFactor(roundFactor(f)); got != want {
			t.Errorf("factor %v is written %q, want %q", f, got, want)
		}
	}
}
