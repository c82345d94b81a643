package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/practice"
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
// below, is e⁴/ρ³ < 1e-6 and, in the centre, e³/ρ² < 1e-4.
const handbookTol = 0.0001

// What the verb fit says of six equally spaced readings of the practice machine is what the
// handbook's formula makes of them: with mean m̄ and first harmonic (a, b) of the readings, a bore is
// out of centre by (−a, −b) and the swing is ρ − t + m̄, less e²/4ρ for the mean of √(ρ² − (e·v)²).
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.4.4 (testdata/fit/roundness.json).
func TestPracticeAgainstTheHandbook(t *testing.T) {
	const rho, reach, n = 30, -12, 6 // indicator/practice/bench-job.toml
	for seed := range uint64(24) {
		machine := practice.New(practice.Bench(seed), seed)
		var in strings.Builder
		var sum, a, b float64
		for i := range n {
			deg := 360 * float64(i) / n
			machine.Swing(geom.FromDegrees(deg))
			m := machine.Dial().Reading
			fmt.Fprintf(&in, "%v %v\n", deg, m)
			s, c := math.Sincos(deg * math.Pi / 180)
			sum, a, b = sum+m, a+m*c, b+m*s
		}
		l := objects(t, tell(t, in.String(), "fit", "--json", "--reference-radius", "30", "--reach", "-12"))[0]
		ex, ey := -2.0/n*a, -2.0/n*b
		e := l["centre"].(map[string]any)
		nearly(t, "x", float(t, e["x"].(map[string]any)["value"]), ex)
		nearly(t, "y", float(t, e["y"].(map[string]any)["value"]), ey)
		nearly(t, "swing", float(t, l["swing"].(map[string]any)["value"]), rho-reach+sum/n-(ex*ex+ey*ey)/(4*rho))
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
