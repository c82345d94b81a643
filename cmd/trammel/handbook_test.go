package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// swapInFile replaces every occurrence of a text in a file.
func swapInFile(t *testing.T, path, old, with string) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(b), old) {
		t.Fatalf("%s does not hold %q", path, old)
	}
	if err := os.WriteFile(path, []byte(strings.ReplaceAll(string(b), old, with)), 0o600); err != nil {
		t.Fatal(err)
	}
}

func float(t *testing.T, v any) float64 {
	t.Helper()
	n, ok := v.(json.Number)
	if !ok {
		t.Fatalf("%v is not a number", v)
	}
	x, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// handbookTol is how far the exact fit of the practice bench may be from the handbook's formula,
// mm. The formula is of the first order: what it leaves out, besides the term that is put in
// below, is e⁴/ρ³ < 1e-6, and the weights of the angle error, (e·v·0.1°/0.003)² < 4 %, of residuals
// of some 0.005.
const handbookTol = 0.0004

// What the program says of a sweep is what the handbook's formula for equally spaced stations
// makes of the readings it repeats: with mean m̄ and first harmonic (a, b) of the readings, a bore
// is out of centre by (−a, −b) and the swing is ρ − t + m̄, less e²/4ρ for the mean of √(ρ² −
// (e·v)²).
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4 (testdata/fit/roundness.json).
func TestPracticeAgainstTheHandbook(t *testing.T) {
	const rho, reach = 30, -12 // indicator/practice/bench-job.toml
	checked := 0
	for seed := range 12 {
		var n int
		var sum, a, b float64
		for _, l := range objects(t, tell(t, "", "practice", "--auto", "--json", "--seed", fmt.Sprint(seed))) {
			switch l["say"] {
			case "reading":
				m, s, c := float(t, l["value"]), 0.0, 0.0
				s, c = math.Sincos(float(t, l["bearing"]) * math.Pi / 180)
				n, sum, a, b = n+1, sum+m, a+m*c, b+m*s
			case "fit":
				if float(t, l["readings"]) != float64(n) {
					t.Fatalf("seed %d: fit of %v readings, %d were repeated", seed, l["readings"], n)
				}
				if n == 6 { // further stations are no longer equally spaced
					f := float64(n)
					ex, ey := -2/f*a, -2/f*b
					swing := rho - reach + sum/f - (ex*ex+ey*ey)/(4*rho)
					e := l["centre"].(map[string]any)
					nearly(t, "x", float(t, e["x"].(map[string]any)["value"]), ex)
					nearly(t, "y", float(t, e["y"].(map[string]any)["value"]), ey)
					nearly(t, "swing", float(t, l["swing"].(map[string]any)["value"]), swing)
					checked++
				}
			case "wind", "settled":
				n, sum, a, b = 0, 0, 0, 0
			}
		}
	}
	if checked < 20 {
		t.Errorf("%d sweeps of six stations met, want at least 20", checked)
	}
}

func nearly(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= handbookTol) {
		t.Errorf("%s = %.6f, the handbook's formula makes it %.6f", what, got, want)
	}
}

// The whole way from the flags to standard output adds nothing to and takes nothing from the lines
// that are on record for the seventh machine.
func TestPracticeAgainstTheRecord(t *testing.T) {
	for name, args := range map[string][]string{
		"practice-7.jsonl":  {"--json"},
		"practice-7.txt":    nil,
		"practice-7-in.txt": {"--unit", "in"},
	} {
		want, err := os.ReadFile(filepath.Join("..", "..", "testdata", "lines", name))
		if err != nil {
			t.Fatal(err)
		}
		if got := tell(t, "", append([]string{"practice", "--auto", "--seed", "7"}, args...)...); got != string(want) {
			t.Errorf("practice %q says\n%s\nwant what %s holds:\n%s", args, got, name, want)
		}
	}
}
