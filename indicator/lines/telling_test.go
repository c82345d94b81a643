package lines

import (
	"testing"

	"example.org/trammel/indicator/session"
)

// Every kind of event is told: by its lines, or by the next question, and then a replay has words for it.
func TestEveryKindIsTold(t *testing.T) {
	if len(tellings) != len(session.Events()) {
		t.Errorf("%d kinds are told of %d", len(tellings), len(session.Events()))
	}
	for _, r := range session.Events() {
		if _, ok := tellings[r.Kind]; !ok {
			t.Errorf("%s is not told", r.Kind)
		}
	}
}

// Every reason for which a sweep is closed has its words, in the report and in a replay.
func TestEveryCloseIsTold(t *testing.T) {
	for _, w := range session.Whys() {
		if c := WhyClosed(w); c.Report == "" || c.Sweep == "" {
			t.Errorf("%s: %+v", w, c)
		}
	}
}
