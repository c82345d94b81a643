package tui_test

import (
	"strings"
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

// platePlan is the plan of the quadrant plate, in an order of its own. With the cutter of 10 alone the slot's ends cannot be cut.
func platePlan(t testing.TB, o part.Options) *record.Plan {
	t.Helper()
	return testdata.PlateInOrder(t, geom.Millimetre, o, 8, 3, 5, 4, 14, 10, 12, 7, 9, 1, 11, 13, 2, 6)
}

// planScreen opens the plan's screen at 80 × 24: two arcs set, one begun.
func planScreen(t testing.TB, plain bool, o part.Options, colour termenv.Profile) *driver {
	t.Helper()
	d := &driver{t: t}
	d.model = tui.NewPlanModel(tui.PlanConfig{
		Plan: platePlan(t, o), Plain: plain,
		Reach: map[int]pane.Standing{8: pane.SetUp, 3: pane.SetUp, 4: pane.Begun},
		Check: func(n int) (string, string) {
			if n == 7 {
				return "setup.reach: with -25 mm the dial would have to show 15 mm at the target", "a reach of -10 mm"
			}
			return "", ""
		},
	}, colours(colour, plain))
	return d.Size(80, 24)
}

var twoCutters = part.Options{Cutters: []float64{6, 10}, Datum: geom.Point{X: -52, Y: -52}}

// The plan at the sizes that its goldens are looked at in; one in its colours, one in ASCII, one with an arc
// that no cutter can do, one on a table.
func TestPlanOnTheScreen(t *testing.T) {
	golden(t, "80x24/plan", planScreen(t, false, twoCutters, termenv.Ascii).Screen())
	golden(t, "80x24/plan.ansi256", planScreen(t, false, twoCutters, termenv.ANSI256).model.View())
	golden(t, "80x24/plan.plain", planScreen(t, true, twoCutters, termenv.Ascii).Screen())
	golden(t, "60x18/plan", planScreen(t, false, twoCutters, termenv.Ascii).Size(60, 18).Screen())
	golden(t, "120x40/plan", planScreen(t, false, twoCutters, termenv.Ascii).Size(120, 40).Screen())
	golden(t, "34x12/plan", planScreen(t, false, twoCutters, termenv.Ascii).Size(34, 12).Screen())
	golden(t, "80x24/plan-help", planScreen(t, false, twoCutters, termenv.Ascii).Type("?").Screen())
	one := part.Options{Cutters: []float64{10}}
	d := planScreen(t, false, one, termenv.Ascii)
	for range 7 {
		d.Send(tea.KeyMsg{Type: tea.KeyDown})
	}
	golden(t, "80x24/plan-trouble", d.Screen())
	turned := part.Options{Cutters: []float64{6}, Rotary: true, CutterBearing: geom.FromDegrees(90)}
	golden(t, "80x24/plan-turned", planScreen(t, false, turned, termenv.Ascii).Screen())
}

// The first arc that is not set is chosen; up and down go through the order and stop at its ends; Enter
// takes an arc, and neither a straight nor one that cannot be set.
func TestChoose(t *testing.T) {
	down, up, enter := tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyUp}, tea.KeyMsg{Type: tea.KeyEnter}
	// The order is 8 3 5 4 14 10 12 7 9 1 11 13 2 6.
	d := planScreen(t, false, twoCutters, termenv.Ascii)
	d.Expect(Line("▸", "5", "next"), Line("8", "23.000", "✓ set"), Line("4", "55.000", "? begun"), Line("2 of 12 arcs set"))
	taken := func() int { return d.model.(tui.PlanModel).Taken }
	for range 5 {
		d.Send(down)
	}
	d.Send(enter).Expect(Line("✗ a reach of -10 mm"))
	if taken() != 0 || d.quit {
		t.Fatalf("arc %d is taken though the job does not fit it", taken())
	}
	for range 20 {
		d.Send(down)
	}
	d.Expect(Line("▸", "6", "straight"), Line("a straight is cut by a slide, and not set"))
	d.Send(enter)
	if taken() != 0 {
		t.Fatalf("straight %d is taken", taken())
	}
	for range 20 {
		d.Send(up)
	}
	d.Expect(Line("▸", "8"))
	d.Type("?").Expect(Line("✓ set", "accepted in a journal"))
	for n := 0; strings.Contains(d.Screen(), "· / closes") || strings.Contains(d.Screen(), "Enter closes this page"); n++ {
		if n > 50 {
			t.Fatal("Enter never closes the page")
		}
		d.Send(enter)
	}
	if taken() != 0 {
		t.Fatalf("arc %d is taken by the Enter that closes a page", taken())
	}
	d.Send(enter).Send(enter) // it is set already
	if taken() != 8 || !d.quit {
		t.Fatalf("taken %d, quit %v, want arc 8", taken(), d.quit)
	}
	// What was begun is gone on with before anything else is begun.
	begun := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: platePlan(t, twoCutters),
		Reach: map[int]pane.Standing{8: pane.Begun}}, colours(termenv.Ascii, false))}
	begun.Size(80, 24).Expect(Line("▸", "8", "? begun")).Send(down).Expect(Line("▸", "3", "to do"))
	if d := planScreen(t, false, twoCutters, termenv.Ascii).Type("q"); d.model.(tui.PlanModel).Taken != 0 || !d.quit {
		t.Error("q takes an arc, or does not leave")
	}
	// What a gauge's cable types is no key here, and neither is what was copied.
	d = planScreen(t, false, twoCutters, termenv.Ascii).Type("-0.125")
	d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("q"), Paste: true})
	if d.quit {
		t.Error("a paste has left the screen")
	}
}

// allSetScreen is the plan's screen with every arc accepted.
func allSetScreen(t *testing.T) *driver {
	x := platePlan(t, twoCutters)
	reach := map[int]pane.Standing{}
	for _, n := range x.Swung() {
		reach[n] = pane.SetUp
	}
	d := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: x, Reach: reach}, colours(termenv.Ascii, false))}
	return d.Size(80, 24)
}

// Where every arc is accepted Enter leaves, and an arc that is set is asked for once more before it is set again: one key loses
// nothing that was accepted.
func TestAllArcsSet(t *testing.T) {
	enter := tea.KeyMsg{Type: tea.KeyEnter}
	taken := func(d *driver) int { return d.model.(tui.PlanModel).Taken }
	d := allSetScreen(t).Expect(Line("12 of 12 arcs set"), Line("all set: Enter leaves"), Line("every arc is set"))
	golden(t, "80x24/plan-all-set", d.Screen())
	d.Type("*").Expect(Line("leave; what is accepted stays"))
	if strings.Contains(d.Screen(), "nothing is set up") {
		t.Error("the list says of twelve arcs that nothing is set up")
	}
	if d.Type("*").Send(enter); taken(d) != 0 || !d.quit {
		t.Errorf("Enter takes arc %d, left %v; want that it leaves", taken(d), d.quit)
	}
	if d = allSetScreen(t).Type("/"); taken(d) != 0 || !d.quit {
		t.Error("/ does not leave the plan")
	}
	d = allSetScreen(t).Type("8").Send(enter).Expect(Line("▸", "8", "✓ set"), Line("Enter twice sets it again"))
	d.Send(enter).Expect(Line("arc 8 is set already: Enter once more sets it again"))
	if taken(d) != 0 || d.quit {
		t.Fatalf("one Enter takes arc %d, which is set", taken(d))
	}
	d.Type("/")
	if d.quit {
		t.Fatal("/ leaves the plan where it leaves the arc as it is")
	}
	d.Send(enter).Send(tea.KeyMsg{Type: tea.KeyUp}, enter)
	if taken(d) != 0 || !d.quit {
		t.Errorf("behind another key Enter takes arc %d, left %v; want none, in front of the first element", taken(d), d.quit)
	}
	d = allSetScreen(t).Type("8").Send(enter, enter, enter)
	if taken(d) != 8 {
		t.Errorf("Enter twice takes arc %d, want 8", taken(d))
	}
}

// The side of the metal is turned by a key, and the plan is the new one with the same row chosen; where it cannot
// be turned the reason is said, and keys pressed meanwhile do nothing.
func TestTurnSide(t *testing.T) {
	x := platePlan(t, twoCutters)
	d := &driver{t: t, model: tui.NewPlanModel(tui.PlanConfig{Plan: x, Turn: func(n int) (*record.Plan, string) {
		if n != 1 {
			return nil, "a slot's metal is outside"
		}
		y := *x
		y.Arcs = append([]record.PlanArc{}, x.Arcs...)
		y.Arc(1).Side, y.Arc(1).Swing = "inside", 16
		return &y, "its metal is inside: said here, and kept for this drawing"
	}}, colours(termenv.Ascii, false))}
	d.Size(80, 24)
	for range 9 {
		d.Send(tea.KeyMsg{Type: tea.KeyDown})
	}
	d.Expect(Line("▸", "1", "1.000"), Line("metal outside")).Type("p").Expect(Line("▸", "1", "16.000"), Line("metal inside"),
		Line("said here"))
	d.Send(tea.KeyMsg{Type: tea.KeyDown}).Type("p").Expect(Line("✗ a slot's metal is outside"))
	if d = planScreen(t, false, twoCutters, termenv.Ascii).Type("p"); !strings.Contains(d.Screen(), "cannot be turned here") {
		t.Error("a plan that cannot be turned says nothing")
	}
}

// An arc without a swing radius is a problem, in words; it cannot be taken.
func TestChooseTrouble(t *testing.T) {
	d := planScreen(t, false, part.Options{Cutters: []float64{10}}, termenv.Ascii)
	for range 20 {
		if strings.Contains(d.Screen(), "▸  11") {
			break
		}
		d.Send(tea.KeyMsg{Type: tea.KeyDown})
	}
	d.Expect(Line("▸", "11", "?", "✗ problem"), Line("arc 11 has no swing radius: * and name a cutter that can do it"))
	d.Send(tea.KeyMsg{Type: tea.KeyEnter})
	if d.model.(tui.PlanModel).Taken != 0 {
		t.Error("it is taken")
	}
}

// Every standing of an arc is a mark and a word, on the list in the order of cutting and in the count above it;
// and the blend to worry about most stands below with its figure, until something else has to be said there.
func TestPlanStandings(t *testing.T) {
	screen := func(plain bool) *driver {
		d := &driver{t: t}
		d.model = tui.NewPlanModel(tui.PlanConfig{
			Plan: platePlan(t, twoCutters), Plain: plain, Worry: "3 to 4: step -0.014 ±0.006 mm, 4 proud",
			Reach: map[int]pane.Standing{8: pane.SetUp, 3: pane.BeenCut, 5: pane.Checked, 4: pane.Missed, 14: pane.SetUp, 10: pane.Begun},
		}, colours(termenv.Ascii, plain))
		return d.Size(80, 24)
	}
	d := screen(false)
	golden(t, "80x24/plan-standings", d.Screen())
	golden(t, "80x24/plan-standings.plain", screen(true).Screen())
	golden(t, "60x18/plan-standings", screen(false).Size(60, 18).Screen())
	d.Expect(Line("5 of 12 arcs set"),
		Line("10", "? begun"), Line("12", "· to do"), Line("? worry most about blend 3 to 4: step -0.014 ±0.006 mm, 4 proud"))
	if !strings.Contains(d.Screen(), "Enter goes on with arc 10") {
		t.Error("the first arc that is not set is not chosen")
	}
	for range 5 {
		d.Send(tea.KeyMsg{Type: tea.KeyUp})
	}
	d.Expect(Line("▸", "8", "✓ set"), Line("3", "█ cut"), Line("5", "✓ checked"), Line("4", "✗ out")).
		Type("?").Expect(Line("✓ set"), Line("█ cut")).
		Type("?").Expect(Line("✓ checked"), Line("✗ out"))
}

// Whatever the size of the window, no line of the plan is lost.
func TestPlanEverySize(t *testing.T) {
	var all []*driver
	for _, plain := range []bool{false, true} {
		all = append(all, planScreen(t, plain, twoCutters, termenv.Ascii), planScreen(t, plain, twoCutters, termenv.Ascii).Type("?"),
			planScreen(t, plain, part.Options{Cutters: []float64{10}}, termenv.ANSI256),
			planScreen(t, plain, part.Options{}, termenv.Ascii))
	}
	n := 0
	for w := 1; w <= 200; w++ {
		for h := 1; h <= 60; h++ {
			d := all[n*3%len(all)]
			n++
			d.Size(w, h).Fits(w, h)
		}
	}
}
