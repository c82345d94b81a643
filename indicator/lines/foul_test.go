package lines_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// Whatever text a journal holds, in any place where it may stand, no line that is said of its events drives a terminal or is cut in
// two by a name: each of them, in both units, and what the screen's rows say of the event.
func TestNoLineIsFoul(t *testing.T) {
	all, places := testdata.FoulJournals(t, testdata.Foul)
	if places < 19 {
		t.Errorf("only %d places of the journals hold a text", places)
	}
	kinds := map[reflect.Type]bool{}
	for i, payloads := range all {
		var s session.State
		for n, line := range payloads {
			r, err := session.Decode(n+1, line)
			if err != nil {
				t.Fatal(err)
			}
			st := session.Step{Before: s, Event: r.Event, After: s.Apply(r.Event)}
			s = st.After
			u := geom.Unit((i + n) % 2)
			status, _ := lines.Status(st, u)
			for _, words := range []string{lines.Happened(st, u), status} {
				if bad := testdata.Drives(words); bad != "" {
					t.Errorf("journal %d, event %d, %s: the screen says %s", i, n+1, session.Kind(r.Event), bad)
				}
			}
			for _, l := range lines.Of(st, u) {
				kinds[reflect.TypeOf(l)] = true
				if bad := testdata.Drives(l.Text()); bad != "" {
					t.Errorf("journal %d, event %d, %s: %T says %s", i, n+1, session.Kind(r.Event), l, bad)
				}
				if _, err := json.Marshal(l); err != nil {
					t.Errorf("%T: %v", l, err)
				}
			}
		}
	}
	if len(kinds) < 25 {
		t.Errorf("only %d kinds of lines are said", len(kinds))
	}
}
