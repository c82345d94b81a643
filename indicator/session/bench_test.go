package session_test

import (
	"testing"

	"example.org/trammel/indicator/session"
)

// BenchmarkApply1000 applies a thousand events of whole settings, fits of every reading included.
func BenchmarkApply1000(b *testing.B) {
	all := events(b, bench(b, 7).until(session.ForNothing).mem.Lines)
	b.ReportAllocs()
	for b.Loop() {
		var s session.State
		for i := range 1000 {
			s = s.Apply(all[i%len(all)])
		}
		if s.Events != 1000 {
			b.Fatal(s.Events)
		}
	}
}

// BenchmarkFold100k reads a journal of a hundred thousand lines, setting after setting.
func BenchmarkFold100k(b *testing.B) {
	p := bench(b, 7).until(session.ForNothing)
	all := events(b, p.mem.Lines)
	var lines [][]byte
	bytes := 0
	for n := range 100_000 {
		line, err := session.Encode(n+1, begin, all[n%len(all)])
		if err != nil {
			b.Fatal(err)
		}
		lines = append(lines, line)
		bytes += len(line)
	}
	b.SetBytes(int64(bytes))
	b.ReportAllocs()
	for b.Loop() {
		s, err := session.Fold(lines, nil)
		if err != nil || s.Events != 100_000 {
			b.Fatal(err)
		}
	}
}
