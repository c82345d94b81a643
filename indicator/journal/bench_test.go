package journal

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"
)

// BenchmarkAppend is one reading to disk, sync included: nearly all of it is the disk. One run: 0.27 ms.
func BenchmarkAppend(b *testing.B) {
	j := mustCreate(b, tempPath(b))
	payload := sixPayloads()[1]
	b.SetBytes(int64(len(encode(payload))))
	b.ReportAllocs()
	for b.Loop() {
		if err := j.Append(payload); err != nil {
			b.Fatal(err)
		}
	}
	mustClose(b, j)
}

// BenchmarkWriteAndSync is what the disk takes for the same bytes, with nothing of ours around it.
func BenchmarkWriteAndSync(b *testing.B) {
	f, err := os.Create(tempPath(b))
	if err != nil {
		b.Fatal(err)
	}
	line := encode(sixPayloads()[1])
	b.SetBytes(int64(len(line)))
	for b.Loop() {
		if _, err := f.Write(line); err != nil {
			b.Fatal(err)
		}
		if err := f.Sync(); err != nil {
			b.Fatal(err)
		}
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkAppendBesideBare takes turns on one disk: a line appended and synced, the same bytes written
// and synced with nothing of ours around them. The metric times-bare is the first over the second, by the
// medians, for a disk has its moments. One run (-benchtime 2000x, load 7 to 9 of others): 0.240 ms beside 0.224, 1.07
// times; in another 1.09.
func BenchmarkAppendBesideBare(b *testing.B) {
	path := tempPath(b)
	j := mustCreate(b, path)
	f, err := os.Create(path + ".bare")
	if err != nil {
		b.Fatal(err)
	}
	payload := sixPayloads()[1]
	line := encode(payload)
	var ours, bare []time.Duration
	for b.Loop() {
		begin := time.Now()
		if err := j.Append(payload); err != nil {
			b.Fatal(err)
		}
		between := time.Now()
		if _, err := f.Write(line); err != nil {
			b.Fatal(err)
		}
		if err := f.Sync(); err != nil {
			b.Fatal(err)
		}
		ours, bare = append(ours, between.Sub(begin)), append(bare, time.Since(between))
	}
	slices.Sort(ours)
	slices.Sort(bare)
	a, c := ours[len(ours)/2], bare[len(bare)/2]
	b.ReportMetric(float64(a.Microseconds()), "append-µs")
	b.ReportMetric(float64(c.Microseconds()), "bare-µs")
	b.ReportMetric(float64(a)/float64(c), "times-bare")
	mustClose(b, j)
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
}

func BenchmarkOpen100k(b *testing.B) {
	path := tempPath(b)
	var data []byte
	for n := range 100_000 {
		data = append(data, encode(fmt.Appendf(nil,
			`{"v":1,"n":%d,"t":"2025-03-04T09:12:31Z","k":"reading","d":{"station":%d,"value":-0.326}}`, n, n%12))...)
	}
	put(b, path, data)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		j, _, err := Open(path)
		if err != nil || j.Len() != 100_000 {
			b.Fatal(err)
		}
		mustClose(b, j)
	}
}
