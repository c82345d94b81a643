package tui_test

import (
	"regexp"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// angle is one that is told, with what stands around it; byRing are those that the hand finds on the ring, and the side of
// the work, which is told beside the ring's figure.
var (
	angle  = regexp.MustCompile(`.{0,12}?[0-9.]+°.{0,14}`)
	byRing = regexp.MustCompile(`ring [0-9.]+°|[0-9.]+° \(ring |ring [0-9.]+° \(bearing|^.{0,12}?[0-9.]+° of the work|bearing [0-9.]+°\)`)
)

// No line that a setting with a ring says holds a bare bearing, or a table's angle, alone: the hand reads a ring that is
// figured clockwise from 40°, so what is read there is never the bearing. Played are all set-ups; points have no ring.
func TestTheHandReadsTheRing(t *testing.T) {
	ring := setup.Ring{Zero: geom.FromDegrees(40), Figures: slide.Clockwise}
	for _, c := range simulations {
		job, machine := c.Files()
		o := testdata.Setting(t, job, machine)
		o.Job.Setup.Taps = setup.Taps(&o.Job, &o.Machine)
		d := walkQuietly(t, o, c)
		u := setup.Of(&o.Job)
		if u.Under().Pair {
			continue
		}
		name, seen := u.Name, 0
		for i, st := range stepsOf(t, d) {
			if st.Before.Set == nil {
				continue
			}
			shown := *st.After.Set
			shown.Machine.Head, shown.Machine.Table = ring, ring
			before, after := st.Before, st.After
			before.Set, after.Set = &shown, &shown
			for _, l := range lines.Of(session.Step{Before: before, Event: st.Event, After: after}, geom.Millimetre) {
				for _, told := range angle.FindAllString(l.Text(), -1) {
					if seen++; !byRing.MatchString(told) {
						t.Errorf("%s, event %d: %q in %q", name, i+1, told, l.Text())
					}
				}
			}
		}
		if seen == 0 {
			t.Errorf("%s: no place was told, so nothing is shown here", name)
		}
	}
}

// walkQuietly plays a set-up to its accepted setting by keys.
func walkQuietly(t *testing.T, o session.Opened, c practice.Setup) *driver {
	t.Helper()
	d := screen(t, options{opened: o, seed: 1, bench: practice.New(c.Bench(1), 1), colour: termenv.Ascii})
	for n := 0; n < 200 && !ended(d); n++ {
		switch d.prompt().Waits {
		case session.ForReading:
			d.Type("d")
		case session.ForAccept:
			d.Type("a")
		default:
			d.Enter()
		}
	}
	return d
}
