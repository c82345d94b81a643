package report_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
)

// An arc that no swing makes has its places in a table of its own: one row each, with the figures that plan says, and as
// many as are told; in the text one line each. By hand: the plate's bore of 6 with a cutter of 6, cusps of 0.5, takes 8 of
// acos((9 + 5.5² − 9)/(2·3·5.5)) = 23.56° to either side.
func TestSheetPlaces(t *testing.T) {
	x, s := plateSheet(t, geom.Millimetre, part.Options{Cutters: []float64{6}, SwingMin: 9, StepHeight: 0.5,
		ReadoutStep: [2]float64{0.005, 0.01}}, nil)
	at := slices.IndexFunc(x.Arcs, func(a record.PlanArc) bool { return a.Layer == "bore" })
	bore := &x.Arcs[at]
	if len(bore.Steps) != 8 {
		t.Fatalf("%d places, want 8", len(bore.Steps))
	}
	rows, _, words := sheetPage(t, sheetHTML(t, s))
	text := s.Text()
	for i, p := range bore.Steps {
		want := []string{fmt.Sprint(i + 1), fmt.Sprintf("%.3f", float64(p[0])), fmt.Sprintf("%.2f", float64(p[1]))}
		if !slices.ContainsFunc(rows, func(row []string) bool { return len(row) >= 3 && slices.Equal(row[:3], want) }) {
			t.Errorf("place %d: no row %q", i+1, want)
		}
		if line := fmt.Sprintf("    %s  X %6s  Y %5s", want[0], want[1], want[2]); !strings.Contains(text, line) {
			t.Errorf("place %d: no line %q", i+1, line)
		}
	}
	for _, in := range []string{text, words} {
		if !strings.Contains(in, x.PlungeWords(bore)) || !strings.Contains(in, "plunge at 8 places") {
			t.Errorf("not told: %q", x.PlungeWords(bore))
		}
	}
}
