package tui_test

import (
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

// accused is a screen at the check of what the winds have put in question, of a journal in which that came up.
func accused(t *testing.T) *driver {
	t.Helper()
	var s session.State
	for _, r := range testdata.Records(t, "v1-restated.jsonl") {
		if s = s.Apply(r.Event); len(s.InQuestion()) > 1 && s.Accused != nil {
			break
		}
	}
	d := &driver{t: t, mem: &session.Memory{}}
	d.live = session.NewLive(s, d.mem)
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: clock()}, colours(termenv.Ascii, false))
	return d.Size(80, 24).Waits(session.ForCheck)
}

// What is put right is chosen from a list by its number, nothing of it cut in any window, in place of a line of the status row.
func TestPutRightByNumber(t *testing.T) {
	d := accused(t)
	s := d.state()
	all := s.InQuestion()
	for _, w := range []int{80, 60, 40} {
		d := accused(t).Size(w, 24).Type("=")
		page := pageOf(d.Screen())
		if !strings.HasPrefix(page, "which of these is wrong, and is to be put right?") {
			t.Errorf("%d columns: asked by %q", w, page)
		}
		for _, c := range all {
			if c.Key != "" && !strings.Contains(page, "put right: "+strings.Split(c.Key, ",")[0]) {
				t.Errorf("%d columns: %s is not told on\n%s", w, c.Key, d.Screen())
			}
		}
		if strings.Contains(page, "…") {
			t.Errorf("%d columns: cut\n%s", w, d.Screen())
		}
	}
	i := 0
	for all[i].Key == "" {
		i++
	}
	d.Type("=").Type(d.number("put right: " + all[i].Key + ": " + all[i].Was + " -> " + all[i].Is)).Enter().
		Expect(Line("put right", all[i].Key))
	if s := d.state(); s.Accused != nil || s.Sweep.N != 0 {
		t.Errorf("still in question, with %d readings", s.Sweep.N)
	}
}
