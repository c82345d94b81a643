package testdata

import (
	"runtime"
	"testing"

	"example.org/trammel/indicator/session"
)

// ReportPeak reports the most heap in use while a fold goes on, looked at every 500 events, in megabytes: the
// journal's lines and what the collector has not taken yet are in it.
func ReportPeak(b *testing.B, fold func(each func(session.Step))) {
	b.Helper()
	runtime.GC()
	var most uint64
	n := 0
	fold(func(session.Step) {
		if n++; n%500 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
		}
	})
	b.ReportMetric(float64(most)/1e6, "peak-MB")
}
