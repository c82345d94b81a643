package session_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
)

// fieldsOf are the names in JSON of all that a type is made of, deep down.
func fieldsOf(at string, t reflect.Type, add func(at string)) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return
	}
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() || f.Anonymous && name == "" {
			continue
		}
		if name == "" {
			name = f.Name
		}
		add(at + "." + name)
		fieldsOf(at+"."+name, f.Type, add)
	}
}

// fieldsIn are the names of all that a value of JSON holds, deep down.
func fieldsIn(at string, v any, add func(at string)) {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			fieldsIn(at, x, add)
		}
	case map[string]any:
		for k, x := range v {
			add(at + "." + k)
			fieldsIn(at+"."+k, x, add)
		}
	}
}

// frozen are the journals that are kept for ever: whole sessions, and those that go as far as one rare field.
func frozen(t *testing.T) (names []string) {
	t.Helper()
	for _, folder := range []string{"", "fields"} {
		files, err := filepath.Glob(filepath.Join("../../testdata/journal", folder, "*.jsonl"))
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		for _, f := range files {
			names = append(names, filepath.Join(folder, filepath.Base(f)))
		}
	}
	return names
}

// unfrozen are the fields that no journal of old holds, each with why no program can have written it; all else is held, and none may be
// added.
var unfrozen = map[string]string{
	"back.causes.turn":       "where the needle was nowhere on the dial, senses and what is touched are suspected, no ring's zero",
	"differs.changes.cause":  "what a file says otherwise is told by its key, and is no suspicion",
	"differs.changes.slides": "as its cause: the key names the slide",
	"differs.changes.turn":   "as its cause",
	"opened.job.setup.zero_limit": "of a zero radius, which trammel fit takes by a flag; no job file states one, so no setting " +
		"is opened with it",
	"opened.lessons.belief.play_open": "of reversals",
	"opened.lessons.belief.reversals": "winds under the needle teach a screw's travel; no session sees where its play is taken up",
}

// Each kind of event, and each field that one may have, stands in a journal that is kept for ever: what was written once is read for ever,
// and a field that no journal of old holds could change its meaning unseen.
func TestEveryFieldIsFrozen(t *testing.T) {
	held := map[string]bool{}
	event := map[string]reflect.Type{}
	for _, f := range frozen(t) {
		for i, line := range goldenLines(t, f) {
			var e map[string]any
			if err := json.Unmarshal([]byte(line), &e); err != nil {
				t.Fatal(err)
			}
			kind := fmt.Sprint(e["k"])
			held[kind] = true
			fieldsIn(kind, e["d"], func(at string) { held[at] = true })
			if event[kind] == nil {
				r, err := session.Decode(i+1, []byte(line))
				if err != nil {
					t.Fatal(err)
				}
				event[kind] = reflect.TypeOf(r.Event)
			}
		}
	}
	missing := map[string]bool{}
	for _, r := range session.Events() {
		if event[r.Kind] == nil {
			missing[r.Kind] = true
			continue
		}
		fieldsOf(r.Kind, event[r.Kind], func(at string) {
			if !held[at] {
				missing[at] = true
			}
		})
	}
	gap := func(at string) bool {
		return slices.ContainsFunc(slices.Collect(maps.Keys(unfrozen)), func(g string) bool { return at == g || strings.HasPrefix(at, g+".") })
	}
	for _, at := range slices.Sorted(maps.Keys(missing)) {
		if !gap(at) {
			t.Errorf("no journal in testdata holds %s", at)
		}
	}
	for _, at := range slices.Sorted(maps.Keys(unfrozen)) {
		if !missing[at] {
			t.Errorf("a journal in testdata holds %s, take it off the list", at)
		}
	}
}
