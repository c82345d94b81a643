package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// By hand: the centre lies 0.2 along X and 0.1 along Y off the axis, and both slides are wound home by the collar. Where
// it lies then says what was wrong: at 0.4, 0 the X slide went the other way; at 0.4, 0.2 both did, as they do for a
// touch stated wrong; at 0.3, -0.1 each went along the other's line, or both lines are a quarter turn off; at 0.2, 0 X
// stood still; home, nothing was wrong.
func TestSuspicionByHand(t *testing.T) {
	centreOnly := strings.Replace(strings.Replace(setOffJob, "swing_radius = 42\nset_off_by = \"x\"\ntolerance = 0.02\n", "", 1),
		"centre_tolerance = 0.1", "centre_tolerance = 0.02", 1)
	byCollar := strings.ReplaceAll(pointsMachine, "readout = true", "by_collar = true")
	for _, c := range []struct {
		to     geom.Point
		first  advice.Fault
		slides []string
		change string
	}{
		{geom.Point{X: 0.4}, advice.ScrewFault, []string{"x"}, `clockwise = "decrease" under [slide.x]`},
		{geom.Point{X: 0.4, Y: 0.2}, advice.TouchFault, nil, `touch = "boss" in the job file`},
		{geom.Point{X: 0.3, Y: -0.1}, advice.ZeroFault, nil, "zero under [head] in the machine file, off by about 90°"},
		{geom.Point{X: 0.3, Y: 0.3}, advice.ExchangeFault, []string{"x", "y"}, "X and Y, taken for each other"},
		{geom.Point{X: 0.2}, advice.UnmovedFault, []string{"x"}, "X did not move"},
		{geom.Point{}, advice.NoFault, nil, ""},
	} {
		p := overAxis(t, centreOnly, byCollar, geom.Point{X: 0.2, Y: 0.1})
		for p.prompt().Waits == session.ForWind {
			p.do(session.Confirm{})
		}
		for p.prompt().Waits == session.ForReading {
			b := p.prompt().Reading.Bearing.Unit()
			across := c.to.Cross(b)
			p.do(session.Take{Reading: 30 - (c.to.Dot(b) + math.Sqrt(30*30-across*across))})
		}
		s := p.live.State()
		x, ok := s.Suspicion()
		said := ""
		for _, st := range p.steps {
			for _, l := range lines.Of(st, geom.Millimetre) {
				if _, is := l.(lines.SuspectLine); is {
					said += l.Text()
				}
			}
		}
		if c.first == advice.NoFault {
			if ok || said != "" || len(x.Suspects) > 0 {
				t.Errorf("%v: suspects %+v, said %q, want nothing", c.to, x, said)
			}
			continue
		}
		i := slices.IndexFunc(x.Suspects, func(y advice.Suspect) bool { return y.Fault == c.first && slices.Equal(y.Slides, c.slides) })
		if !ok || i < 0 || (i > 0 && c.first == advice.ScrewFault) || !strings.Contains(said, c.change) {
			t.Errorf("%v: suspects %+v, said %q, want %v of %v and %q", c.to, x.Suspects, said, c.first, c.slides, c.change)
		}
	}
}
