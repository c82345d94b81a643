package tui_test

import (
	"math"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

// The plan's screen of a whole plate says where one is: below the list what is changed for the arc that comes now and what a finished
// one was measured to, on a page of its own all of it. A straight is ticked off by Enter; behind the last arc the screen goes on to
// what is left for the slides.
func TestWhereOnThePlan(t *testing.T) {
	unknown := record.Number(math.NaN())
	x := &record.Where{Say: "run", Part: "plate", Done: 1, Of: 3,
		Next: &record.WhereNext{N: 3, What: "arc", By: "swing", Swing: &record.WhereChange{From: 23, To: 19},
			Slides: []record.WhereSlide{{Slide: "x", Travel: 36}}},
		List: []record.WhereTask{
			{N: 8, What: "arc", By: "swing", Stands: "done", State: "checked", Verdict: "inside", Depth: unknown,
				Measured: &record.Value{Value: 20.004, U95: 0.01}, Cutter: 6, Swing: 23},
			{N: 3, What: "arc", By: "swing", Stands: "now", State: "to do", Cutter: 6, Swing: 19, Depth: 10},
			{N: 2, What: "straight", By: "slide", Stands: "to come", State: "to do", Cutter: 6, Depth: unknown}}}
	open := func(reach map[int]pane.Standing) *driver {
		d := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: platePlan(t, twoCutters), Reach: reach, Where: x},
			colours(termenv.Ascii, false))}
		return d.Size(100, 40)
	}
	d := open(map[int]pane.Standing{8: pane.Checked})
	d.Expect(Line("now arc 3: the cutter out for the sweep, the"), Line("same one in again behind it; swing radius"),
		Line("centre: x slide +36.000"))
	d.Type("w").Expect(Line("done: arc 8"), Line("checked, radius 20.004 ±0.010 mm: inside"), Line("now: arc 3, depth 10.000"),
		Line("to come: straight 2, by slide"))
	d.Send(tea.KeyMsg{Type: tea.KeyEnter})
	d.Type("8").Enter().Expect(Line("checked, radius 20.004 ±0.010 mm: inside"))
	d.Type("2").Enter().Expect(Line("Enter ticks element 2 off, once it is cut by slide")).Enter()
	if m := d.model.(tui.PlanModel); m.Ticked != 2 || m.Taken != 0 || !d.quit {
		t.Errorf("ticked %d, taken %d, quit %v; want straight 2 ticked off", m.Ticked, m.Taken, d.quit)
	}
	all := map[int]pane.Standing{2: pane.Ticked}
	for _, n := range platePlan(t, twoCutters).Swung() {
		all[n] = pane.Checked
	}
	x.Next = &record.WhereNext{N: 6, What: "straight", By: "slide"}
	x.List = append(x.List, record.WhereTask{N: 6, What: "straight", By: "slide", Stands: "now", State: "to do", Depth: unknown})
	open(all).Expect(Line("▸", "6"), Line("✓ done"), Line("now straight 6, by slide: tick it off"))
}

// What is milled off round a boss has a row of its own at its place, is chosen where it comes now, says how it is done, and is ticked off.
func TestMillingOnThePlan(t *testing.T) {
	unknown := record.Number(math.NaN())
	plan := testdata.TwoLevels(t, geom.Millimetre, part.Options{Cutters: []float64{8}})
	x := &record.Where{Say: "run", Part: "plate", Done: 1, Of: 10, Next: &record.WhereNext{N: 14, What: "milling", By: "slide",
		Do: "mill off by the slides"},
		List: []record.WhereTask{{N: 14, What: "milling", By: "slide", Stands: "now", State: "to do", Depth: 4, Cutter: unknown,
			Round: []int{1}}}}
	d := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: plan, Reach: map[int]pane.Standing{1: pane.Checked}, Where: x},
		colours(termenv.Ascii, false))}
	d.Size(100, 40).Expect(Line("✓ checked"), Line("▸  14", "→ next"), Line("   13", "to do"), Line("now milling 14: "),
		Line("Enter ticks milling 14 off, once it is done")).Enter()
	if m := d.model.(tui.PlanModel); m.Ticked != 14 || !d.quit {
		t.Errorf("ticked %d, quit %v; want milling 14 ticked off", m.Ticked, d.quit)
	}
	d = &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: plan}, colours(termenv.Ascii, false))}
	d.Size(100, 40).Expect(Line("▸   1", "→ next"), Line("   14", "milling"))
	d.Type("14").Enter().Expect(Line("milling 14: mill the plate down by"), Line("look where it is before"),
		Line("milled off by the slides, and not set"))
}
