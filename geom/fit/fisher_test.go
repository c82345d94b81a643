package fit

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

func TestFisherTable(t *testing.T) {
	file, err := os.Open("testdata/f_quantiles.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows := map[string]int{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		var p, dof, want float64
		var printed, source string
		if _, err := fmt.Sscan(lines.Text(), &p, &dof, &printed, &source); err != nil {
			t.Fatalf("line %q: %v", lines.Text(), err)
		}
		if _, err := fmt.Sscan(printed, &want); err != nil {
			t.Fatalf("line %q: %v", lines.Text(), err)
		}
		_, decimals, _ := strings.Cut(printed, ".")
		tolerance := 0.5 * math.Pow10(-len(decimals))
		if got := fisher2(p, dof); apart(got, want) > tolerance*(1+1e-9) { // 4.25650 may be printed either way
			t.Errorf("F %v with 2 and %v degrees of freedom = %.6f, printed %s (%s)", p, dof, got, printed, source)
		}
		// The ellipse grows by the root of twice that: k² is printed to twice the tolerance.
		if k := EllipseFactor(p, dof); apart(k*k, 2*want) > 2*tolerance*(1+1e-9) {
			t.Errorf("ellipse of %v with %v degrees of freedom: k² = %.6f, printed twice %s (%s)", p, dof, k*k, printed, source)
		}
		if k := EllipseFactor(Confidence, dof); p == Confidence && apart(k*k, 2*want) > 2*tolerance*(1+1e-9) {
			t.Errorf("EllipseFactor(0.95, %v)² = %.6f, printed twice %s (%s)", dof, k*k, printed, source)
		}
		rows[source]++
	}
	if rows["S1"] != 34 || rows["S2"] != 8 || rows["S3"] != 11 {
		t.Errorf("read %v rows, want 34 of S1, 8 of S2, 11 of S3", rows)
	}
}
