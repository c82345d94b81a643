package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A spread is written out, to two digits, however small it is.
func TestSpreadIsWrittenOut(t *testing.T) {
	for spread, want := range map[float64]string{0: " 0 mm", 0.0000153: " 0.000015 mm", 0.00044: " 0.00044 mm", 0.0126: " 0.013 mm",
		12.6: " 13 mm"} {
		got := lines.GaugedWords(session.Gauged{Source: "fifo:needle", Samples: 10, Spread: spread}, geom.Millimetre)
		if !strings.HasSuffix(got, "spread"+want) {
			t.Errorf("a spread of %v mm: %q, want %q", spread, got, want)
		}
	}
}
