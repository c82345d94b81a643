package tui_test

import (
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// Without a reach the whole way is played by keys, at three sizes: what to set the radius to stands on the screen, a figure that
// leaves too little is refused there, the cut's measurement is typed, and the reach that follows is told at the end. 42 + 0.3 + 1 is
// 43.3; 38 + 1.3 is 39.3.
func TestTrialCutOnTheScreen(t *testing.T) {
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	o.Job.Setup.ReachKnown, o.Job.Target.Trial, o.Steps, o.Order = false, true, true, 1
	d := screen(t, options{opened: o, seed: 1, bench: practice.New(practice.Bench(1), 1), colour: termenv.Ascii})
	seen := make(map[session.Chore]string)
	for n := 0; n < 200 && d.prompt().Waits != session.ForNothing; n++ {
		for _, size := range [][2]int{{58, 20}, {120, 40}, {80, 24}} {
			d.Size(size[0], size[1]).Fits(size[0], size[1])
		}
		p := d.prompt()
		if p.Waits == session.ForChore || p.Chore.Step != "" {
			seen[p.Chore.Step] = d.Screen()
		}
		switch {
		case p.Waits == session.ForReading:
			d.Type("d")
		case p.Waits == session.ForAccept:
			d.Type("a").Enter()
		case p.Chore.Step == session.RoughIn && n < 10:
			d.Type("43").Enter()
			if text := d.Screen(); !strings.Contains(text, "need 1.3 mm") {
				t.Errorf("43 is not refused with the sum:\n%s", text)
			}
			d.Type("43.4").Enter()
		case p.Chore.Step == session.Measure:
			d.Type("39.3").Enter()
		case p.Chore.Step == session.CheckArc:
			d.Type("38.0").Enter()
		default:
			d.Enter()
		}
	}
	s := d.state()
	if s.RadiusSet != 43.4 || s.Phase != session.Ended {
		t.Fatalf("set to %v, and it is in phase %v:\n%s", s.RadiusSet, s.Phase, d.Screen())
	}
	for _, tells := range []struct {
		step session.Chore
		what string
	}{{session.RoughIn, "43.300"}, {session.RoughCut, "1.400"}, {session.LastWind, "38.000"}} {
		if !strings.Contains(seen[tells.step], tells.what) {
			t.Errorf("%q does not tell %s:\n%s", tells.step, tells.what, seen[tells.step])
		}
	}
	if text := strings.Join(strings.Fields(d.Size(120, 40).Screen()), " "); !strings.Contains(text, "the reach was") {
		t.Errorf("the last page does not tell the reach:\n%s", text)
	}
}
