package tui_test

import (
	"testing"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
)

// At every size it is told where the head is parked until the wind is confirmed; and while the needle has not moved since the wind
// was told, nobody can say that the head is: Enter does, or the needle, with the figure that is seen there.
func TestWatchedWindIsParked(t *testing.T) {
	c := onWind(t, real(t, nil))
	c.stands(-0.186).Type("/").Type("-0.1144").Enter().Waits(session.ForWind) // at 300°
	c.Size(80, 24)
	c.stands(-0.186).Expect(Line("X slide: park at 0°"), Nowhere("began at"))
	c.Enter().Expect(Line("parked, the needle at −0.186 mm"), Line("began at −0.186"), Line("anticlockwise past −0.399"))

	c = onWind(t, real(t, nil))
	c.moves(0.1).stands(-0.186)
	for _, s := range [][2]int{{80, 24}, {60, 18}, {40, 10}, {34, 12}, {30, 6}, {200, 50}} {
		c.Size(s[0], s[1]).Fits(s[0], s[1])
		c.Expect(Line("park at 0°"))
	}
	for range 2 {
		c.moves(arrived...)
		c.Size(60, 18).Expect(Line("park at 0°")).Size(40, 10).Expect(Line("park at 0°"))
		c.stands(-0.285) // too far
	}
}

// Where the needle stands elsewhere as the head is parked, after something was taken back or in a program that was begun anew, the whole
// movement is told: off past the turning point, and up.
func TestWatchedWindBeginsElsewhere(t *testing.T) {
	for _, at := range []float64{0.2, -0.26} {
		c := onWind(t, real(t, nil))
		c.stands(-0.19).moves(arrived...).stands(-0.3).Enter()
		c.Type("/").Expect(Line("wind 1 of 3"))
		c.Size(200, 50)
		c.moves(0.1).stands(at).Expect(Nowhere("began at")).Enter()
		c.Expect(Line("the needle stands at", "not near −0.190 mm",
			"Enter once more if it is at 0°: then anticlockwise past −0.399, then clockwise"))
		c.Enter().Expect(Line("anticlockwise past −0.399", "then clockwise to −0.299"), Line("parked, the needle at"))
		c.moves(arrived...).stands(-0.3).Expect(Line("there, and standing still: Enter")).Enter()
		if w := c.state().Winds; w == nil || *w.Reading != -0.3 {
			t.Errorf("from %v: the wind is kept as %+v, want at −0.3", at, w)
		}
	}
}

// Where the needle is not seen, or was not seen where the wind begins, Enter asks once more; a button's indicator is typed beside.
func TestUnwatchedWind(t *testing.T) {
	c := onWind(t, real(t, nil))
	c.Size(120, 40)
	c.moves(-0.3).stands(-0.3).Enter()
	c.Expect(Line("the backlash may not be taken up: the needle was not seen where the wind begins, at −0.190"),
		Line("Enter once more takes it")).Enter()
	if w := c.state().Winds; w == nil || *w.Reading != -0.3 {
		t.Errorf("the wind is kept as %+v, want at −0.3", w)
	}
	c = onWind(t, real(t, nil))
	c.stands(-0.19).shows(gauge.Moment{Lost: "no such device"}).Expect(Line("park at 0°")).Enter().Expect(Line("no needle is seen")).Enter()
	if w := c.state().Winds; w == nil || w.Reading != nil {
		t.Errorf("the wind is kept as %+v, want without a reading", w)
	}
	c = onWind(t, real(t, nil))
	c.wire.moves = gauge.ErrButton
	if c.shows(button()).Enter(); c.state().Winds == nil {
		t.Errorf("with a button's indicator Enter does not confirm:\n%s", c.Screen())
	}
}

// The help page says what Enter does beside a cable indicator.
func TestHelpBesideACable(t *testing.T) {
	c := onWind(t, real(t, nil))
	c.Size(200, 60).Type("?").Expect(Line("After locking wait until"), Nowhere("not how well"))
	d := cabled(t, &wire{})
	d.Size(200, 60).Type("?").Expect(Line("wait until"), Nowhere("type what the dial"))
	d = loaded(t, real(t, nil))
	d.Size(200, 60).Type("?").Expect(Line("type what"), Nowhere("wait until"))
}

// A sweep that ends where the wind begins leaves the head there. What was wound and taken back does not: the head may have been swung to
// the next wind meanwhile, so that a needle that stands still says nothing of it before Enter does.
func TestHeadMayStandElsewhereBehindUndo(t *testing.T) {
	c := &watched{}
	o := real(t, func(o *session.Opened) { o.Job.Sweep.Closing, o.Job.Sweep.AtLeast = true, 6 })
	o.cable = &c.wire
	c.driver = loaded(t, o)
	(&stand{41.7, -0.11, 0.15}).work(c.driver, 20, session.ForWind)
	c.Waits(session.ForWind).Size(200, 50)
	c.stands(-0.186).Expect(Line("began at −0.186"))
	c.shows(gauge.Moment{Lost: "no such device"}).Enter().Enter().Expect(Line("wind 2 of 3"))
	c.stands(-0.186).Type("/").Expect(Line("wind 1 of 3"))
	c.stands(-0.186).Expect(Line("park at 0°"), Nowhere("began at"))
	c.Enter().Expect(Line("parked, the needle at −0.186 mm"), Line("began at −0.186"))
}
