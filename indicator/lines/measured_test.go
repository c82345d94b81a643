package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A finished arc of 40 ±0.05 is outside its tolerance as much below it as above.
func TestArcIsOutsideOnEitherSide(t *testing.T) {
	for radius, within := range map[float64]string{
		40.1: "outside its tolerance of ±0.050 mm", 39.9: "outside its tolerance of ±0.050 mm",
		40.04: "inside its tolerance of ±0.050 mm", 39.96: "inside its tolerance of ±0.050 mm",
	} {
		for _, hollow := range []bool{false, true} {
			s := cutting(false, hollow, nil)
			arc := s.Set.Job.Arc()
			s.Set.Job.Target.Tolerance, s.Phase = 0.05, session.Ended
			r := arc + radius - 40
			s.Worked = []session.Worked{{Step: session.CheckArc, Value: &r}}
			if got := lines.CutWords(s, geom.Millimetre); !strings.HasSuffix(got, within) {
				t.Errorf("hollow %v, %v of %v: %q, want %s", hollow, r, arc, got, within)
			}
		}
	}
}
