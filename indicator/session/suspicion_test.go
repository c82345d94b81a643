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

// Winds that went astray teach nothing, behind the statement that was put right either: the sweep that follows is another's than
// theirs. And a sign that was checked by what was stated before does not speak of what is stated now. By hand as above: X went 0.2
// the other way.
func TestWindsThatWentAstrayTeachNothing(t *testing.T) {
	centreOnly := strings.Replace(strings.Replace(setOffJob, "swing_radius = 42\nset_off_by = \"x\"\ntolerance = 0.02\n", "", 1),
		"centre_tolerance = 0.1", "centre_tolerance = 0.02", 1)
	p := overAxis(t, centreOnly, strings.ReplaceAll(pointsMachine, "readout = true", "by_collar = true"), geom.Point{X: 0.2, Y: 0.1})
	start := p.state()
	for p.prompt().Waits == session.ForWind {
		p.do(session.Confirm{})
	}
	sweep := func() {
		for p.prompt().Waits == session.ForReading {
			b := p.prompt().Reading.Bearing.Unit()
			along, across := 0.4*b.X, -0.4*b.Y
			p.do(session.Take{Reading: 30 - (along + math.Sqrt(30*30-across*across))})
		}
	}
	sweep()
	if p.prompt().Waits != session.ForCheck {
		t.Fatalf("waits for %v, want the check of a sign", p.prompt().Waits)
	}
	plan := p.prompt().Check.Plan
	went := session.Up // as it is wound the other way
	if plan.Must == session.Up {
		went = session.Down
	}
	p.do(session.Sense{Slide: plan.Slide, Went: went})
	if s := p.state(); len(s.Senses) != 1 || len(s.Named) == 0 || s.Named[0].Key != "slide.x.clockwise" {
		t.Fatalf("the check leaves %+v of %+v, want slide.x.clockwise", s.Named, s.Senses)
	}
	p.do(session.Restate{N: 1})
	if s := p.state(); len(s.Senses) != 0 {
		t.Errorf("put right, and %+v still counts", s.Senses)
	}
	sweep()
	if s := p.state(); s.Sweep.Closed == "" || digest(s.Lessons) != digest(start.Lessons) || len(s.Odd) != 0 {
		t.Errorf("sweep closed by %q; learnt %+v, odd %+v, want what was known as the setting was opened: %+v", s.Sweep.Closed, s.Lessons,
			s.Odd, start.Lessons)
	}
}

// Where the needle is off the dial everywhere and nothing was wound, the slides are brought nearer by eye, nobody counts how or which way
// last: their play may lie open, and is taken up before the next sweep.
func TestBroughtNearerByEyeIsLoadedAnew(t *testing.T) {
	o := benchOpened(t)
	p := open(t, o, near42(0, 0, 0)).until(session.ForReading)
	for p.prompt().Waits == session.ForReading {
		p.do(session.Skip{Off: session.Free})
	}
	if q := p.prompt(); q.Waits != session.ForBack || len(q.Back.Winds) != 0 {
		t.Fatalf("needle off everywhere: %+v, want the way back, and nothing wound", q)
	}
	p.do(session.Confirm{})
	var loads []string
	for p.prompt().Waits == session.ForLoad {
		loads = append(loads, p.prompt().Load.Slide.Name)
		p.do(session.Confirm{})
	}
	if want := o.Job.Needs(); !slices.Equal(loads, want) || p.prompt().Waits != session.ForReading {
		t.Errorf("loaded anew %v, then %v; want %v, then a reading", loads, p.prompt().Waits, want)
	}
}
