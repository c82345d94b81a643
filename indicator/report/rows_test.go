package report

import (
	"slices"
	"testing"

	"example.org/trammel/indicator/session"
)

// passed are the kinds of event that a report tells nothing of by themselves: what they change is seen in the sweeps,
// the winds and the figures.
var passed = []string{"opened", "loaded", "doubted", "kept", "contradicted", "touch again",
	"closing", "drifted", "evened", "paired", "held", "released", "at", "collar", "bezel",
	"sense", "suspected", "passed over", "restated", "back", "differs",
	"wondered", "height", "tilt", "resweep", "settled", "bumped"}

// Every kind of event has its row in the report, or is said to have none.
func TestEveryKindIsReported(t *testing.T) {
	for _, r := range session.Events() {
		_, told := rows[r.Kind]
		if told == slices.Contains(passed, r.Kind) {
			t.Errorf("%s is told: %v, and on the list of those that are not: %v", r.Kind, told, !told)
		}
	}
	if len(rows)+len(passed) != len(session.Events()) {
		t.Errorf("%d kinds told and %d not, of %d", len(rows), len(passed), len(session.Events()))
	}
}
