package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/trammel/geom/fit"
)

// longSweep is a file of n readings round a ring of 30, a centre 0.028 out, and longCloud one of n points round a circle of 42. A
// reading and a coordinate scatter by 0.002.
func longSweep(n int) string {
	return longFile(n, func(t, scatter float64) (a, b float64) {
		sin, cos := math.Sincos(t * math.Pi / 180)
		return t, 0.1 - 0.0251*cos + 0.0127*sin + scatter
	})
}

func longCloud(n int) string {
	return longFile(n, func(t, scatter float64) (a, b float64) {
		sin, cos := math.Sincos(t * math.Pi / 180)
		return 10 + (42+scatter)*cos, -5 + (42+scatter)*sin
	})
}

func longFile(n int, at func(t, scatter float64) (a, b float64)) string {
	rng := rand.New(rand.NewPCG(22, 7))
	var text strings.Builder
	for i := range n {
		a, b := at(360*float64(i)/float64(n), 0.002*rng.NormFloat64())
		fmt.Fprintf(&text, "%.4f %.4f\n", a, b)
	}
	return text.String()
}

// What is not looked for in a long file is said, and not that there were too few readings to find it.
func TestLongFileSaysWhatIsNotSought(t *testing.T) {
	for n, want := range map[int]string{
		fit.MaxScreen:     "",
		fit.MaxScreen + 1: "more than 64 readings are not searched for misreads or for the reference's form: suspects is empty and shape null",
	} {
		var out strings.Builder
		w := world{in: strings.NewReader(longSweep(n)), out: &out, err: os.Stderr, getenv: os.Getenv}
		if code := run([]string{"fit", "--reference-radius", "30", "--reach", "-12"}, w); code != exitDone {
			t.Fatalf("%d readings: exit code %d", n, code)
		}
		if note := strings.Contains(out.String(), "searched"); note != (want != "") || !strings.Contains(out.String(), want) {
			t.Errorf("%d readings: want %q in\n%s", n, want, out.String())
		}
		if few := "too few stations"; strings.Contains(out.String(), few) {
			t.Errorf("%d readings: %s, in\n%s", n, few, out.String())
		}
	}
}

// BenchmarkMillion fits a file of a million lines, as the verb does.
func BenchmarkMillion(b *testing.B) {
	for _, c := range []struct{ name, text, flags string }{
		{"readings", longSweep(1_000_000), "--reference-radius 30 --reach -12"},
		{"readings-json", longSweep(1_000_000), "--reference-radius 30 --reach -12 --json"},
		{"points", longCloud(1_000_000), "--points"},
	} {
		path := filepath.Join(b.TempDir(), "readings.txt")
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			b.Fatal(err)
		}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				w := world{in: strings.NewReader(""), out: io.Discard, err: os.Stderr, getenv: os.Getenv}
				if code := run(append([]string{"fit", path}, strings.Fields(c.flags)...), w); code != exitDone {
					b.Fatalf("exit code %d", code)
				}
			}
		})
	}
}
