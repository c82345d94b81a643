package indicator_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// even returns n stations spread evenly and what a dial reads there in a ring that is a little
// out of centre, with a ripple that no circle takes up.
func even(n int) ([]geom.Bearing, []float64) {
	b, m := make([]geom.Bearing, n), make([]float64, n)
	for i := range n {
		b[i] = geom.Bearing(2 * math.Pi * float64(i) / float64(n))
		s, c := math.Sincos(float64(b[i]))
		m[i] = 0.1*c - 0.05*s + 0.002*math.Cos(5*float64(b[i]))
	}
	return b, m
}

// A sweep of up to 64 stations is fitted without a single allocation, the weighing of angles
// included.
func TestFitAllocatesNothing(t *testing.T) {
	for _, n := range []int{3, 6, 12, indicator.MaxStations} {
		for _, d := range []indicator.Dial{
			{},
			{Graduation: 0.01, ReadsTo: 0.2, Repeatability: 0.003, AngleError: 0.01},
		} {
			t.Run(fmt.Sprintf("%d readings, angle error %v", n, d.AngleError), func(t *testing.T) {
				b, m := even(n)
				got := testing.AllocsPerRun(50, func() {
					if _, err := indicator.Fit(d, ring, b, m); err != nil {
						t.Fatal(err)
					}
				})
				if got != 0 {
					t.Errorf("%v allocations, want none", got)
				}
			})
		}
	}
}

// More readings than that are fitted as well: a hundred give what fifty of them twice would.
func TestFitOfManyReadings(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.003, AngleError: 0.001}
	b, m := even(50)
	one := mustFit(t, d, ring, b, m)
	two := mustFit(t, d, ring, append(b, b...), append(m, m...))
	if two.Circle.N != 100 {
		t.Errorf("%d readings fitted, want 100", two.Circle.N)
	}
	near(t, "swing radius", two.Swing().V, one.Swing().V, exactMM)
	near(t, "centre error x", two.CentreX().V, one.CentreX().V, exactMM)
}

func BenchmarkFit6(b *testing.B) {
	at, m := even(6)
	d := indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, Repeatability: 0.003, AngleError: 0.002}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := indicator.Fit(d, ring, at, m); err != nil {
			b.Fatal(err)
		}
	}
}
