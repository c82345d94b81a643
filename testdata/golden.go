// Package testdata is what tests of several packages share beside the files that stand here: goldens, the settings
// that sessions are opened with, the quadrant plate and its plan, the events of the kept journals.
package testdata

import (
	"flag"
	"os"
	"path/filepath"
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

// Barred ends every line of a drawing with a bar, so that blanks at its end count and are seen.
func Barred(drawing string) string { return strings.ReplaceAll(drawing, "\n", "|\n") + "|\n" }
