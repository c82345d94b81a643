package lines_test

import (
	"path/filepath"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// Every kind of event, as it was journalled once, has words wherever it is told: in a replay, behind an undo, and on the
// status row where a person entered it. The golden journals hold every kind, or this says which one they lack.
func TestEveryKindInWords(t *testing.T) {
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d journals, %v", len(files), err)
	}
	seen := map[string]bool{}
	for _, f := range files {
		for i, st := range replay(t, filepath.Base(f)) {
			kind := session.Kind(st.Event)
			seen[kind] = true
			if said := lines.Happened(st, geom.Millimetre); said == "" || said == "event" || strings.HasSuffix(said, " ") {
				t.Errorf("%s, event %d: %s happened as %q", f, i+1, kind, said)
			}
			if text, _ := lines.Status(st, geom.Millimetre); text == "" && session.IsEntry(st.Event) && !followed[kind] {
				t.Errorf("%s, event %d: the status row says nothing of %s", f, i+1, kind)
			}
		}
	}
	for _, r := range session.Events() {
		if !seen[r.Kind] {
			t.Errorf("no golden journal holds %s", r.Kind)
		}
	}
}

// followed are the entries whose sequel, a fit or a question, says on the screen what came of them.
var followed = map[string]bool{"closing": true, "paired": true, "swept": true, "accepted": true, "wondered": true}

// Every reason for which a sweep closes has its words on the replay's line, and no two the same.
func TestHappenedSaysWhyTheSweepClosed(t *testing.T) {
	said := map[string]session.Why{}
	for _, why := range []session.Why{session.ByVerdict, session.ByWind, session.ByLimit, session.ByPerson, session.ByTilt} {
		words := lines.Happened(session.Step{Event: session.Swept{Why: why}}, geom.Millimetre)
		if other, twice := said[words]; words == "" || twice {
			t.Errorf("closed by %s: %q, as by %q", why, words, other)
		}
		said[words] = why
	}
}
