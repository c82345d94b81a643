package practice_test

import (
	"testing"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// Where nothing was done nothing was learnt, and each of what was done is learnt for itself; that a lesson played through teaches
// all of it is tested with the program.
func TestLearntIsWhatWasDone(t *testing.T) {
	done := func(l practice.Lesson, events ...session.Event) (n int) {
		for _, x := range l.Learnt(events) {
			if x.Done {
				n++
			}
		}
		return n
	}
	for _, l := range practice.Course() {
		if n := done(l); n != 0 || len(l.Learnt(nil)) < 3 || len(l.Aim()) < 3 || len(l.Aim()) > 4 {
			t.Errorf("lesson %d: %d learnt of %d by nothing, aims %q", l, n, len(l.Learnt(nil)), l.Aim())
		}
		if back, err := practice.ParseLesson(l.String()); back != l || err != nil {
			t.Errorf("lesson %d read back: %d, %v", l, back, err)
		}
	}
	accepted := session.Accepted{}
	arc := func(n int) session.Opened { return session.Opened{Arc: &part.Picked{N: n}} }
	for _, c := range []struct {
		lesson practice.Lesson
		events []session.Event
		want   int
	}{
		{1, []session.Event{session.Opened{}, session.Swept{}}, 1},
		{1, []session.Event{session.Swept{}, session.Wound{}, accepted}, 3},
		{2, []session.Event{session.Doubted{}, accepted}, 2},
		{2, []session.Event{session.Restated{}}, 1},
		{3, []session.Event{session.Opened{}, accepted}, 2},
		{3, []session.Event{arc(2), accepted, arc(4), accepted}, 3},
		{3, []session.Event{arc(2), accepted, arc(2), accepted}, 2}, // one arc twice is one arc
		{3, []session.Event{session.Worked{Step: session.Pass}}, 1},
		{3, []session.Event{session.Worked{Step: session.Pass, Skipped: true}, session.Worked{Step: session.Cut}}, 0},
	} {
		if n := done(c.lesson, c.events...); n != c.want {
			t.Errorf("lesson %d, %T: %d learnt, want %d", c.lesson, c.events, n, c.want)
		}
	}
}
