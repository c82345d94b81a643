package pane

import (
	"fmt"

	"example.org/trammel/indicator/lines"
)

// tapAction tells a tap: which side, and up to which reading.
func tapAction(v *View) action {
	p := v.Prompt
	goal, side := v.reading(p.Wind.Told.Park.Goal), lines.SideWords(p.Wind.Told.Tap)
	short := "across from the indicator"
	if !p.Wind.Told.Tap.Towards {
		short = "at the indicator"
	}
	words := []string{
		fmt.Sprintf("table at %s, tap %s until %s; type what the needle shows", v.park(), side, goal),
		fmt.Sprintf("table at %s, tap %s to %s; type the reading", v.ring(), short, goal),
		fmt.Sprintf("%s: tap %s to %s; type it", v.ring(), short, goal),
	}
	answer := "type the needle, or Enter: done"
	if v.Takes() {
		answer = "Enter: take the needle"
		words = []string{
			fmt.Sprintf("table at %s, tap %s until %s; Enter takes what the needle shows", v.park(), side, goal),
			fmt.Sprintf("table at %s, tap %s to %s; Enter", v.ring(), short, goal),
			fmt.Sprintf("%s: tap %s to %s; Enter", v.ring(), short, goal),
		}
	}
	near := lines.TapSide(p.Wind.Told.Tap)
	return action{words: words, parts: []deed{
		{alone: v.tableForms()},
		{alone: []string{"tap " + short, "tap side " + near}, two: [][]string{{"tap the side"}, {near}}},
		{alone: []string{"to " + goal}},
	}, aside: "needle now " + v.reading(p.Wind.Told.Park.Now), answer: answer}
}

// tapList spells a tap out.
func (v *View) tapList() []string {
	p, t := v.Prompt, v.Theme
	tap, k := p.Wind.Told.Tap, p.Wind.Told.Park
	rises, takes := "falls", "type the reading"
	if k.Goal > k.Now {
		rises = "rises"
	}
	if v.Takes() {
		takes = "Enter"
	}
	return []string{
		t.Dim.Render(fmt.Sprintf("tap %d, soft hammer, clamps just eased", p.Wind.Told.Step)),
		t.Now.Render(fmt.Sprintf("work %s %v %s", v.length(p.Wind.Told.Wind.Travel), v.unit(), lines.PushWords(tap))),
		"  park the table at " + v.ring(),
		"  needle now " + v.reading(k.Now),
		"  tap " + lines.SideWords(tap),
		"  (" + v.degrees(roundDegrees(tap.Side.Degrees360())) + " of the work)",
		t.Strong.Render("  " + rises + " to " + v.reading(k.Goal)),
		"  " + takes + " after every tap",
	}
}
