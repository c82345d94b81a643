package tui_test

import (
	"fmt"
	"testing"

	"example.org/trammel/indicator/session"
)

// What a live session says it asks for is what its state waits for, and its steps say the same, from the first load to the
// acceptance: nobody has to find it again.
func TestLiveSaysWhatIsAsked(t *testing.T) {
	d := screen(t, real(t, nil))
	w := &stand{41.7, -0.11, 0.15}
	for range 60 {
		s, p := d.state(), d.prompt()
		if got := d.live.Asked(); fmt.Sprint(got) != fmt.Sprint(s.Prompt()) || fmt.Sprint(p) != fmt.Sprint(got) {
			t.Fatalf("asked %+v, want %+v", got, s.Prompt())
		}
		if _, due := session.Follow(s); due {
			t.Fatalf("something is due behind event %d", s.Events)
		}
		if p.Waits == session.ForNothing {
			break
		}
		w.work(d, 1, nothing)
	}
	if s := d.state(); !s.Accepted() {
		t.Errorf("phase %d, want the setting accepted", s.Phase)
	}
}
