package tui_test

import (
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
)

// undoLine is the number of the line of the open list that takes something back, and what it says.
func undoLine(d *driver) (n int, words string) {
	d.t.Helper()
	for _, l := range strings.Split(d.Screen(), "\n") {
		at := strings.Index(l, "undo: ")
		if at < 0 {
			continue
		}
		head := strings.Fields(l[:at])
		n, err := strconv.Atoi(head[len(head)-1])
		if err != nil {
			d.t.Fatalf("%q: %v", l, err)
		}
		words, _, _ = strings.Cut(l[at:], "  ")
		return n, strings.TrimSpace(words)
	}
	d.t.Fatalf("the list has no undo:\n%s", d.Screen())
	return 0, ""
}

// The list says what undo takes back, with its place and its figure, and the status row that it is taken back. The reading is
// what the stand shows at 180° (its model, 2 µm of stray).
func TestUndoSaysWhatItTakesBack(t *testing.T) {
	stepped := func(o *session.Opened) { o.Steps = true }
	for _, c := range []struct {
		name, says string
		make       func() *driver
	}{
		{"load", "the backlash of X taken up", func() *driver { return screen(t, real(t, nil)).Enter() }},
		{"reading", "station 4, −0.406 mm", func() *driver {
			return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
		}},
		{"step", "step 1, isolate", func() *driver { return screen(t, real(t, stepped)).Enter().Enter() }},
		{"accepted", "the accepted setting", func() *driver {
			return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForAccept).Enter().Enter()
		}},
	} {
		n, words := undoLine(c.make().Type("*"))
		if words != "undo: "+c.says {
			t.Errorf("%s: the list says %q, want %q", c.name, words, "undo: "+c.says)
		}
		d := c.make()
		before := d.state().Events
		d.Type("*").Type(strconv.Itoa(n)).Enter().Expect(Line("taken back: " + c.says))
		if got := d.state().Events; got != before+1 {
			t.Errorf("%s: %d events, want one more than %d", c.name, got, before)
		}
		c.make().Type("/").Expect(Line("taken back: " + c.says))
	}
	(&stand{41.7, -0.11, 0.15}).work(loaded(t, collar(real(t, nil))), 7, nothing).Type("/").
		Expect(Line("only the record goes back, the"), Line("confirm again, do not wind again"))
}
