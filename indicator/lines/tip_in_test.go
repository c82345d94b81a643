package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// readying is a setting of a kind at the step that brings the tip in, the job and machine changed before.
func readying(t *testing.T, c practice.Setup, change func(*session.Opened)) *session.State {
	t.Helper()
	job, machine := c.Files()
	o := testdata.Setting(t, job, machine)
	change(&o)
	o.Steps, o.Order = true, 1
	s := &session.State{Set: &o, Phase: session.Preparing}
	s.Readying = true
	return s
}

// The wall of a bore lies outside the tip, so that the tip comes to it as the swing radius grows, and that of a boss inside it, as it
// shrinks, whichever way the tip is turned; the last movement of a handwheel goes the take-up way. The head, or the table, stands for
// the first station, in the figures of its ring. Where the sweep does not show the swing radius, no slide is wound.
func TestTipIn(t *testing.T) {
	offset := func(o *session.Opened, touch indicator.Touch, clockwise, takeUp slide.Way) {
		o.Job.Setup.Touch = touch
		for i := range o.Machine.Slides {
			if sl := &o.Machine.Slides[i]; sl.Name == "offset" {
				sl.Clockwise, sl.TakeUp = clockwise, takeUp
			}
		}
	}
	const up, down = slide.Increase, slide.Decrease
	once, twice := "facing the handle, %, until the needle stands about amid its range, and no turn back",
		"facing the handle, first %, until the needle is a little past amid its range; last %, until it has come back to about amid"
	for _, c := range []struct {
		touch             indicator.Touch
		clockwise, takeUp slide.Way
		words             string
		turns             []string
	}{
		{indicator.Bore, up, up, once, []string{"clockwise"}},
		{indicator.Bore, down, up, once, []string{"anticlockwise"}},
		{indicator.Bore, up, down, twice, []string{"clockwise", "anticlockwise"}},
		{indicator.Boss, up, up, twice, []string{"anticlockwise", "clockwise"}},
		{indicator.Boss, down, up, twice, []string{"clockwise", "anticlockwise"}},
		{indicator.Boss, up, down, once, []string{"anticlockwise"}},
	} {
		for _, k := range []practice.Setup{practice.Carried, practice.Turned, practice.Taps, practice.About} {
			for _, reach := range []float64{-12, 12} {
				s := readying(t, k, func(o *session.Opened) {
					offset(o, c.touch, c.clockwise, c.takeUp)
					o.Job.Setup.Reach, o.Job.Sweep.From, o.Job.Sweep.To = reach, 30*geom.Degree, 390*geom.Degree
					o.Machine.Head.Zero, o.Machine.Table.Zero = 10*geom.Degree, 10*geom.Degree
				})
				want := c.words
				for _, turn := range c.turns {
					want = strings.Replace(want, "%", turn, 1)
				}
				at := "tip in by the offset slide, head at 30° (ring 20°); "
				if s.SetUp().Under().Table {
					ring := s.Set.Machine.Table.Shows(s.Set.Job.Setup.Stands(30 * geom.Degree))
					at = "tip in by the offset slide, table at ring " + record.Degrees(ring) + "; "
				}
				if got := lines.ChoreWords(s, session.TipIn, geom.Millimetre)[0]; !strings.HasPrefix(got, at+want) {
					t.Errorf("%v, reach %v, %+v: %q, want %q", k, reach, c, got, at+want)
				}
			}
		}
	}
	none := func(*session.Opened) {}
	for _, s := range []*session.State{readying(t, practice.SetOff, none),
		readying(t, practice.Carried, func(o *session.Opened) { o.Job.Target.Trial = true }),
		readying(t, practice.Carried, func(o *session.Opened) { o.Job.Target.SwingRadius = 0 }),
	} {
		if got := lines.ChoreWords(s, session.TipIn, geom.Millimetre)[0]; !strings.HasPrefix(got, "tip in by the indicator and its holder, ") ||
			strings.Contains(got, "clockwise") {
			t.Errorf("%q, want no slide wound", got)
		}
	}
}
