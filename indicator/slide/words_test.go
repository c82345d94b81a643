package slide_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/indicator/slide"
)

// The words of files and journals, both ways.
func TestWords(t *testing.T) {
	for want, way := range map[string]slide.Way{"increase": slide.Increase, "decrease": slide.Decrease} {
		var back slide.Way
		if err := back.UnmarshalText([]byte(want)); err != nil || back != way || way.String() != want {
			t.Errorf("%q is read as %v (%v), and %v is called %q", want, back, err, way, way.String())
		}
	}
	for want, turn := range map[string]slide.Turn{"clockwise": slide.Clockwise, "anticlockwise": slide.Anticlockwise} {
		var back slide.Turn
		if err := back.UnmarshalText([]byte(want)); err != nil || back != turn || turn.String() != want {
			t.Errorf("%q is read as %v (%v), and %v is called %q", want, back, err, turn, turn.String())
		}
	}
	for _, bad := range []string{"", "Increase", "up", "counterclockwise", "cw"} {
		var way slide.Way
		if err := way.UnmarshalText([]byte(bad)); err == nil || !strings.Contains(err.Error(), "need increase or decrease") {
			t.Errorf("way %q: %v, want a refusal that names the words", bad, err)
		}
		var turn slide.Turn
		if err := turn.UnmarshalText([]byte(bad)); err == nil || !strings.Contains(err.Error(), "need clockwise or anticlockwise") {
			t.Errorf("turn %q: %v, want a refusal that names the words", bad, err)
		}
	}
}

// A slide and its wind go through a journal unchanged.
func TestWindInJSON(t *testing.T) {
	type both struct {
		S slide.Slide
		W slide.Wind
	}
	s := metric()
	in := both{s, s.Wind(-4.231)}
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"clockwise":"increase"`, `"take_up":"increase"`, `"figures":"clockwise"`,
		`"turn":"anticlockwise","turns":2`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s: lacks %s", text, want)
		}
	}
	var out both
	if err := json.Unmarshal(text, &out); err != nil || !reflect.DeepEqual(in, out) {
		t.Errorf("%s comes back as %+v, %v", text, out, err)
	}
}
