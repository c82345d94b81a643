package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// Another number of stations than the job states is told when the setting opens, and never again.
func TestPlannedIsSaidOnce(t *testing.T) {
	for _, c := range []struct {
		stated, want int
		text         string
	}{{3, 5, "3 stations are raised to 5"}, {12, 8, "12 stations are lowered to 8"}, {6, 0, ""}, {5, 0, ""}, {8, 0, ""}} {
		s := begin(t, bench(t, func(o *session.Opened) { o.Job.Sweep.Stations = c.stated }))
		said := 0
		count := func() {
			for _, l := range s.said {
				if p, ok := l.(lines.PlannedLine); ok {
					said++
					if p.Stations != c.want || p.Stated != c.stated || !strings.HasPrefix(p.Text(), c.text) {
						t.Errorf("%d stations: %+v, %q", c.stated, p, p.Text())
					}
				}
			}
		}
		count()
		s.loaded()
		for range 5 {
			s.do(session.Take{Reading: 0.1})
			count()
		}
		if want := min(c.want, 1); said != want {
			t.Errorf("%d stations: told %d times, want %d", c.stated, said, want)
		}
	}
}
