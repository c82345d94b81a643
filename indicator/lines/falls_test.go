package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/setup"
)

// Where the figures fall as the tip is pressed, rocking turns the needle at the other end of its way.
func TestTurningOfAFallingDial(t *testing.T) {
	for _, touch := range []indicator.Touch{indicator.Bore, indicator.Boss} {
		for _, reach := range []float64{-12, 12} {
			for _, known := range []bool{false, true} {
				j := setup.Job{Setup: indicator.Setup{Touch: touch, Reach: reach, ReachKnown: known}}
				grows := lines.TurningWords(&j)
				j.Dial.Falls = true
				want := strings.NewReplacer("highest", "lowest", "lowest", "highest").Replace(grows)
				if falls := lines.TurningWords(&j); falls != want || falls == grows {
					t.Errorf("%v, reach %v (known: %v): %q, want %q beside %q", touch, reach, known, falls, want, grows)
				}
			}
		}
	}
}
