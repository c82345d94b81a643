package testdata

import (
	"math"
	"runtime"
	"testing"
	"time"
)

// ReportGrowth reports with which power of the size the time of something grows, and with which what it allocates: the slope of the
// line through the logarithms, all sizes measured in one run, the quickest of three each. ready makes what is asked ready, unmeasured.
func ReportGrowth(b *testing.B, sizes []int, ready func(n int) func()) {
	b.Helper()
	for b.Loop() {
		x, seconds, bytes := make([]float64, len(sizes)), make([]float64, len(sizes)), make([]float64, len(sizes))
		for i, n := range sizes {
			do := ready(n)
			least, took := math.Inf(1), uint64(0)
			for range 3 {
				var before, after runtime.MemStats
				runtime.GC()
				runtime.ReadMemStats(&before)
				begun := time.Now()
				do()
				least = min(least, time.Since(begun).Seconds())
				runtime.ReadMemStats(&after)
				took = after.TotalAlloc - before.TotalAlloc
			}
			x[i], seconds[i], bytes[i] = math.Log(float64(n)), math.Log(least), math.Log(float64(took))
		}
		b.ReportMetric(slope(x, seconds), "exponent")
		b.ReportMetric(slope(x, bytes), "memory-exponent")
		b.ReportMetric(math.Exp(seconds[len(sizes)-1]), "s-at-largest")
		b.ReportMetric(math.Exp(bytes[len(sizes)-1])/1e6, "MB-at-largest")
	}
}

// slope is that of the line nearest to some places.
func slope(x, y []float64) float64 {
	mx, my := 0.0, 0.0
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	sxy, sxx := 0.0, 0.0
	for i := range x {
		sxy, sxx = sxy+(x[i]-mx)*(y[i]-my), sxx+(x[i]-mx)*(x[i]-mx)
	}
	return sxy / sxx
}
