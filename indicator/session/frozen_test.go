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

// unfrozen are the fields that no journal of old holds yet, with all that is below them: each is a gap, and none may be added.
var unfrozen = []string{
	"looked.gauge", "looked.off", "looked.skipped", "opened.plate.tasks.mill",
	"back.causes.turn", "differs.changes.cause", "differs.changes.slides", "differs.changes.turn",
	"opened.arc.before_from", "opened.arc.before_to", "opened.arcs.by.bezel", "opened.arcs.by.held",
	"opened.arcs.by.lever", "opened.arcs.by.tip", "opened.found", "opened.job.about.slide_error_per_100",
	"opened.job.cut.radius_limit", "opened.job.dial.falls", "opened.job.dial.repeats", "opened.job.part.bracket",
	"opened.job.setup.held_limit", "opened.job.setup.held_radius", "opened.job.setup.zero_limit",
	"opened.lessons.belief.assumed.askew", "opened.lessons.belief.play_open", "opened.lessons.belief.reversals",
	"opened.machine.head.vernier", "opened.machine.slides.backlash_limit", "opened.machine.slides.low",
	"opened.plate.tasks.arc.at_from", "opened.plate.tasks.arc.at_to", "opened.plate.tasks.arc.before_from",
	"opened.plate.tasks.arc.before_to", "opened.plate.tasks.arc.cutter_bearing", "opened.plate.tasks.arc.depth",
	"opened.plate.tasks.arc.entry", "opened.plate.tasks.arc.frees", "opened.plate.tasks.arc.lone",
	"opened.plate.tasks.arc.spring", "opened.plate.tasks.arc.step", "opened.plate.tasks.depth", "opened.plate.tasks.slot",
	"opened.plate.tasks.wind", "reread.gauge", "step.by.figures.repeat", "step.by.figures.resolution", "suspected.wind",
	"tilt.failed",
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
		return slices.ContainsFunc(unfrozen, func(g string) bool { return at == g || strings.HasPrefix(at, g+".") })
	}
	for _, at := range slices.Sorted(maps.Keys(missing)) {
		if !gap(at) {
			t.Errorf("no journal in testdata holds %s", at)
		}
	}
	for _, at := range unfrozen {
		if !missing[at] {
			t.Errorf("a journal in testdata holds %s, take it off the list", at)
		}
	}
}
