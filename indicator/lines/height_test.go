package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A second sweep 30 up stands above the first, one 30 down below it; the sign is told by the word alone.
func TestHeightAboveOrBelow(t *testing.T) {
	for height, want := range map[float64]string{30: "30.000 mm above the first", -30: "30.000 mm below the first"} {
		found := false
		for _, l := range lines.Of(session.Step{Event: session.Raised{Height: height}}, geom.Millimetre) {
			if h, ok := l.(lines.HeightLine); ok {
				found = true
				if !strings.Contains(h.Text(), want) || strings.Contains(h.Text(), "-") {
					t.Errorf("%v: %q, want %q", height, h.Text(), want)
				}
			}
		}
		if !found {
			t.Errorf("%v: no line of a height", height)
		}
	}
}
