package pane

import (
	"fmt"

	"example.org/trammel/indicator/lines"
)

// tapAction tells a tap: which side, and up to which reading.
func tapAction(v *View) action {
	p := v.Prompt
	goal, side := v.reading(p.Wind.Told.Park.Goal), lines.SideWords(p.Wind.Told.Tap)
	near := "far side"
	if !p.Wind.Told.Tap.Towards {
		near = "indicator side"
	}
	words := []string{
		fmt.Sprintf("table at %s, tap %s until %s; type what the needle shows", v.park(), side, goal),
		fmt.Sprintf("table at %s, tap the %s to %s; type the reading", v.ring(), near, goal),
		fmt.Sprintf("%s: tap the %s to %s", v.ring(), near, goal),
	}
	return action{words: words, parts: []deed{
		{alone: []string{"table " + v.degrees(p.Position().Ring)}},
		{alone: []string{"tap " + near + " to " + goal}, two: [][]string{{"tap " + near, near}, {"to " + goal}}},
	}}
}

// tapList spells a tap out.
func (v *View) tapList() []string {
	p, t := v.Prompt, v.Theme
	tap, k := p.Wind.Told.Tap, p.Wind.Told.Park
	rises := "falls"
	if k.Goal > k.Now {
		rises = "rises"
	}
	return []string{
		t.Dim.Render(fmt.Sprintf("tap %d, soft hammer, clamps just eased", p.Wind.Told.Step)),
		t.Now.Render(fmt.Sprintf("work %s %v %s", v.length(p.Wind.Told.Wind.Travel), v.unit(), lines.PushWords(tap))),
		"  park the table at " + v.ring(),
		"  needle now " + v.reading(k.Now),
		"  tap " + lines.SideWords(tap),
		"  (" + v.degrees(roundDegrees(tap.Side.Degrees360())) + " of the work)",
		t.Strong.Render("  " + rises + " to " + v.reading(k.Goal)),
		"  type the reading after every tap",
	}
}
