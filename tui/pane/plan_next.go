package pane

import (
	"fmt"
	"strings"
)

// PlanNext lays out the bottom zone for a window of w × h cells: the chosen element in letters as large as fit, and the last thing
// said.
func PlanNext(v *PlanView, w, h int) Bottom {
	z := &zone{theme: v.Theme, action: v.action(), page: v.Page || v.Listing != "", w: w, h: h}
	return z.lay(func(most int) []string { return v.said(w, most) })
}

// action is what Enter would do.
func (v *PlanView) action() action {
	n := v.N()
	words := fmt.Sprintf("Enter sets arc %d up", n)
	forms := []string{fmt.Sprintf("arc %d", n), fmt.Sprint(n)}
	if a := v.Plan.Arc(n); a != nil && v.Why() == "" && !v.Ticks() {
		forms = append(
			[]string{fmt.Sprintf("arc %d  %s %v", n, v.num(a.Swing), v.Plan.Unit), fmt.Sprintf("arc %d  %s", n, v.num(a.Swing)),
				fmt.Sprintf("%d  %s", n, v.num(a.Swing))},
			forms...)
	}
	switch {
	case v.Listing != "":
		words, forms = "type a number, then Enter; * or / closes the list", []string{"number " + v.Listing, v.Listing}
	case v.Typed != "":
		words, forms = "Enter goes there, / clears it", []string{"element " + v.Typed, v.Typed}
	case v.Page:
		words, forms = "Enter goes on", []string{"Enter: go on"}
	case v.None():
		words, forms = "all set: Enter leaves", []string{"all set: Enter leaves", "all set", "set"}
	case v.Ticks():
		words = fmt.Sprintf("Enter ticks element %d off, once it is cut by slide", n)
		forms = []string{fmt.Sprintf("cut %d", n), fmt.Sprint(n)}
		if v.Plan.Mill(n) != nil {
			words, forms[0] = fmt.Sprintf("Enter ticks milling %d off, once it is done", n), fmt.Sprintf("mill %d", n)
		}
	case v.Why() != "":
		words = v.Why()
		if v.Plan.Mill(n) != nil {
			forms = []string{fmt.Sprintf("milling %d", n), fmt.Sprint(n)}
		} else if v.Plan.Arc(n) == nil {
			forms = []string{fmt.Sprintf("straight %d", n), fmt.Sprint(n)}
		}
	case v.standing(n) == Begun:
		words = fmt.Sprintf("Enter goes on with arc %d", n)
	case v.IsSet(n):
		words = fmt.Sprintf("arc %d is set already; Enter twice sets it again", n)
	}
	return big([]string{v.say(words)}, forms...)
}

// said is the last thing said, or the blend to worry about, on at most so many rows.
func (v *PlanView) said(w, most int) []string {
	t := v.Theme
	switch {
	case v.Alarm:
		return told(t, t.Bad, t.Glyphs.Cross+" "+v.say(v.Status), w, most)
	case v.Status == "" && v.Worry != "":
		return told(t, t.Doubt, first(w, []string{t.Glyphs.Query + " worry most about blend " + v.say(v.Worry),
			t.Glyphs.Query + " blend " + v.say(v.Worry)}), w, most)
	}
	return told(t, t.Dim, v.say(v.Status), w, most)
}

// PlanSmall is the chosen element in plain letters, for a window without zones: its figure, how it is swung, the rest as far as
// there is room, over the last thing said.
func PlanSmall(v *PlanView, w, h int) string {
	a := v.action()
	rows := append(v.small(a.parts[0].alone, w), wrap(a.words[0], w, 2)...)
	said := v.said(w, max(1, h-1))
	if h > 1 {
		rows = append(rows[:min(len(rows), max(1, h-len(said)))], said...)
	}
	return Box(v.Theme, strings.Join(rows, "\n"), w, h)
}

// small is the chosen element in plain letters: its figure, how it is swung, the rest as far as there is room.
func (v *PlanView) small(big []string, w int) []string {
	rows := []string{v.Theme.Big.Render(Clip(v.Theme, first(w, big), w))}
	for _, l := range v.about(w) {
		if l != "" {
			rows = append(rows, l)
		}
	}
	return rows
}
