package tui_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// On a machine whose collars keep their figures the whole way is played by keys, at three sizes: no page asks for one to be set to 0;
// the figure is typed once for each, and Enter alone takes what the simulated one shows.
func TestCollarsOnTheScreen(t *testing.T) {
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	o.Steps, o.Order, o.Machine.Slides = true, 1, slices.Clone(o.Machine.Slides)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Keeps, o.Machine.Slides[i].ByCollar = true, true
	}
	d := screen(t, options{opened: o, seed: 1, bench: practice.New(practice.Bench(1), 1), colour: termenv.Ascii})
	read, wound := 0, 0
	for n := 0; n < 200 && d.prompt().Waits != session.ForNothing; n++ {
		p := d.prompt()
		for _, size := range [][2]int{{58, 20}, {120, 40}, {80, 24}} {
			d.Size(size[0], size[1]).Fits(size[0], size[1])
			if text := d.Screen(); strings.Contains(text, "collar to 0") || strings.Contains(text, "collar 0") {
				t.Errorf("%v: a collar is to be set to 0:\n%s", size, text)
			}
		}
		switch {
		case p.Wind.Reads:
			if !strings.Contains(d.Screen(), "type what its collar shows now, in divisions") {
				t.Errorf("the figure is not asked for:\n%s", d.Screen())
			}
			if read++; read == 1 {
				d.Type("12.5")
			}
			d.Enter()
		case p.Waits == session.ForWind:
			if wound++; !strings.Contains(d.Screen(), "on its collar") {
				t.Errorf("the wind does not say where it starts:\n%s", d.Screen())
			}
			d.Enter()
		case p.Waits == session.ForReading || p.Chore.Step == session.Measure || p.Chore.Step == session.CheckArc:
			d.Type("d")
			if p.Waits == session.ForChore {
				d.Type("s")
			}
		case p.Waits == session.ForAccept:
			d.Type("a").Enter()
		default:
			d.Enter()
		}
	}
	var shown []float64
	for _, st := range stepsOf(t, d) {
		if e, ok := st.Event.(session.Read); ok {
			shown = append(shown, e.Figure)
		}
	}
	// The simulated collar of the offset slide began at 0, and has been loaded: off and back to there, set within a tenth a few times.
	if len(shown) != 3 || shown[0] != 12.5 || math.Abs(math.Remainder(shown[2], 100)) > 0.5 {
		t.Errorf("read %v", shown)
	}
	if s := d.state(); s.Phase != session.Ended || read != 3 || wound < 4 {
		t.Errorf("phase %v, %d collars read, %d winds:\n%s", s.Phase, read, wound, d.Screen())
	}
}
