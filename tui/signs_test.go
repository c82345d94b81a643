package tui_test

import (
	"testing"

	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/session"
)

// A sign is checked by a key: the field says how, up or down answers what it asks for, a slide's name in
// front answers for that slide; what is wrong is refused with what to type.
func TestSigns(t *testing.T) {
	d := loaded(t, real(t, nil)).Type("g").Expect(Line("press the tip in"))
	d.Type("up").Enter().Expect(Line("tip pressed: the needle went up, as job and machine say"))
	d.Type("g").Expect(Line("wind X clockwise")).Type("down").Enter().
		Expect(Line("X clockwise at 0°: the needle went down, against what job and machine say"))
	d.Type("g").Type("y sideways").Enter().Expect(Line("need up, down"))
	s := d.state()
	if f, slides := s.Faulty(); f != advice.EitherFault || len(slides) != 1 || slides[0] != "x" {
		t.Errorf("at fault: %q of %v, want touch or clockwise of x", f, slides)
	}
	d.Type("/").Expect(Line("taken back: the sign check"))
	d.Type("g").Enter() // nothing typed: nothing happens
	if got := len(d.state().Senses); got != 1 {
		t.Errorf("%d sign checks, want the tip's", got)
	}
}

// A second sweep at another height is begun by a key and ends by itself; the first one stands again, and
// the tilt beside it.
func TestHeightByKey(t *testing.T) {
	st := &stand{41.7, -0.11, 0.15}
	d := st.work(loaded(t, real(t, nil)), 20, session.ForWind)
	d.Type("z").Expect(Line("second sweep, how far above this one (mm)")).Type("high").Enter().Expect(Line("not a number"))
	d.Type("z").Type("30").Enter().Expect(Line("second sweep, 30.000 mm above the first"))
	st.ex -= 0.03 // where the reference is met now
	st.work(d, 6, session.ForWind)
	d.Expect(Line("tilt 0.1"), Line("going up"), Line("wind 1 of 3"))
}

// A key goes from the one frame to the ring's figures and back; the column says which it is.
func TestRingFigures(t *testing.T) {
	d := loaded(t, real(t, nil)).Type("x").Expect(Line("ring", "read"), Line("swing to ring 0°"))
	d.Type("x").Expect(Line("bearing", "read"), Line("swing to bearing 0° (ring 0°)"))
}
