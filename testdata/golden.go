// Package testdata is what tests of several packages share beside the files that stand here: goldens, the settings
// that sessions are opened with, the quadrant plate and its plan, the events of the kept journals.
package testdata

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the goldens of this package anew; look at each of them afterwards")

// Golden returns what a person has looked at, a file below the test's own folder; with -update it is what was got, and
// is written there.
func Golden(t testing.TB, path, got string) (want string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (go test -update writes it)", err)
	}
	return string(text)
}

// WantGolden holds a text to its golden.
func WantGolden(t testing.TB, path, got string) {
	t.Helper()
	want := Golden(t, path, got)
	if got == want {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	n := 0
	for n < min(len(g), len(w)) && g[n] == w[n] {
		n++
	}
	t.Errorf("%s differs from line %d on; got\n%s\nwant\n%s", path, n+1, strings.Join(g[n:], "\n"), strings.Join(w[n:], "\n"))
}

// WantGoldenLines holds JSON lines to their golden, line by line. On another processor than the one it was written
// on the last bits of a float64 may differ (fused operations in sine and cosine), so numbers there have to agree to
// 1 nm / 1000 only.
func WantGoldenLines(t testing.TB, path, got string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(Golden(t, path, got), "\n")
	if len(g) != len(w) {
		t.Errorf("%s: %d lines, want %d", path, len(g), len(w))
	}
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] && (runtime.GOARCH == "amd64" || !near(decoded(t, g[i]), decoded(t, w[i]))) {
			t.Fatalf("%s:%d:\n%s\nwant\n%s", path, i+1, g[i], w[i])
		}
	}
}

func decoded(t testing.TB, line string) (v any) {
	t.Helper()
	if err := json.Unmarshal([]byte(line), &v); err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return v
}

// near compares two decoded JSON values, numbers to 1e-9.
func near(a, b any) bool {
	switch a := a.(type) {
	case float64:
		b, ok := b.(float64)
		return ok && math.Abs(a-b) < 1e-9
	case map[string]any:
		b, ok := b.(map[string]any)
		for k := range a {
			ok = ok && near(a[k], b[k])
		}
		return ok && len(a) == len(b)
	case []any:
		b, ok := b.([]any)
		ok = ok && len(a) == len(b)
		for i := range a {
			ok = ok && near(a[i], b[i])
		}
		return ok
	}
	return a == b
}

// Barred ends every line of a drawing with a bar, so that blanks at its end count and are seen.
func Barred(drawing string) string { return strings.ReplaceAll(drawing, "\n", "|\n") + "|\n" }
