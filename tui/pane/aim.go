package pane

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/tui/keys"
)

// Aim is the top line: what is being set, to which figure and tolerance, which trial.
func Aim(v *View, w int) string {
	t, g := v.Theme, v.Theme.Glyphs
	j := v.job()
	ref := map[indicator.Touch]string{indicator.Bore: "inside bore", indicator.Boss: "round boss"}[j.Setup.Touch]
	what := fmt.Sprintf("%s %s %s R %s %v", v.State.SetUp().Name, g.Dot, ref, v.length(j.Setup.ReferenceRadius), j.Unit)
	if j.Setup.ReferenceRadius == 0 {
		what = fmt.Sprintf("%s %s %s", v.State.SetUp().Name, g.Dot, ref)
	}
	short := fmt.Sprintf("%v R %s", j.Setup.Touch, v.length(j.Setup.ReferenceRadius))
	to := ""
	if j.Target.WantsSwing() {
		aim := v.length(j.Target.SwingRadius)
		if b := lines.BiasWords(&v.State, v.unit()); b != "" {
			aim = v.Num(b)
		}
		to = fmt.Sprintf("swing to %s %s%s  ", aim, g.PlusMinus, v.length(j.Target.Tolerance))
	}
	to += fmt.Sprintf("centre %s%s %v", g.PlusMinus, v.length(j.Target.CentreTolerance), j.Unit)
	trial := fmt.Sprintf("trial %d", v.State.Trial)
	if v.State.Part > 1 {
		trial = fmt.Sprintf("part %d %s %s", v.State.Part, g.Dot, trial)
	}
	long := trial
	if v.Practice {
		long = fmt.Sprintf("practice %d %s %s", v.Seed, g.Dot, trial)
	}
	arc := ""
	if a := v.State.Set.Arc; a != nil {
		arc = fmt.Sprintf("arc %d  ", a.N)
	}
	rows := [][2]string{{arc + what + "   " + to, long}, {arc + short + "   " + to, long}, {arc + short + "   " + to, trial},
		{arc + to, trial}, {to, trial}}
	// The figure to reach and the trial stay when the line is short; what is touched goes first.
	for _, c := range rows {
		if gap := w - ansi.StringWidth(c[0]) - ansi.StringWidth(c[1]); gap >= 2 {
			return t.Strong.Render(c[0]) + strings.Repeat(" ", gap) + t.Dim.Render(c[1])
		}
	}
	return t.Strong.Render(Clip(t, to, w))
}

// Keys is the last line: the bindings that act now.
func Keys(v *View, all []keys.Binding, w int) string {
	t := v.Theme
	sep := " " + t.Glyphs.Dot + " "
	line := ""
	for _, b := range all { // the most needed come first; what no longer fits is left out
		if b.Why != "" {
			continue
		}
		item := t.Key.Render(b.Help().Key) + " " + printable(b.Help().Desc)
		next := item
		if line != "" {
			next = line + sep + item
		}
		if ansi.StringWidth(next) > w {
			continue
		}
		line = next
	}
	return line
}
