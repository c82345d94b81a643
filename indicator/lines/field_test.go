package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A screen says what it asks for, whatever takes a text, and of a length its unit.
func TestFields(t *testing.T) {
	s := begin(t, bench(t, nil)).live.State()
	for _, r := range session.Commands() {
		if !r.Takes() {
			continue
		}
		ask := lines.Field(r, &s, geom.Inch, "")
		if ask == r.Word+": " && r.Word != "note" || !strings.HasSuffix(ask, " ") {
			t.Errorf("%s: asked for by %q only", r.Word, ask)
		}
		if r.Word != "note" && r.Word != "sense" && r.Word != "restate" && r.Word != "ring" && !strings.Contains(ask, "(in") {
			t.Errorf("%s: %q names no unit", r.Word, ask)
		}
	}
}
