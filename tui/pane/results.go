package pane

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// resultLines is what the sweep says so far.
func resultLines(v *View, w int) (out []string) {
	if r := v.State.Raising; r != nil {
		out = append(out, v.Theme.Strong.Render(first(w, []string{fmt.Sprintf("second sweep, %s %v higher: for the tilt",
			v.length(r.Height), v.unit()), "second sweep, for the tilt"})))
	}
	if t := lines.TiltWords(&v.State, v.unit()); t != "" {
		out = append(out, wrapped(v.Theme.Dim, v.text(t), w)...)
	}
	if v.pair() && v.Fitted {
		return v.pointResults(w)
	}
	if !v.Fitted {
		if v.FitErr != nil && v.State.Sweep.Readings() >= fit.MinStations {
			why := v.text(v.FitErr.Error())
			if !strings.HasPrefix(why, "no circle") {
				why = "no circle: " + why
			}
			out = append(out, wrapped(v.Theme.Bad, why, w)...)
		}
		return out
	}
	f, g := &v.Found, v.Theme.Glyphs
	verdicts := v.State.Verdicts(f)
	radius, centre := v.leans().VerdictWords(verdicts, v.unit())
	if r, ok := v.State.Swing(f); ok {
		out = append(out, "swing "+v.Theme.Strong.Render(v.measured(r))+"  "+v.conditional(verdicts.Radius, radius))
	}
	stands, _ := v.State.Standing(f)
	f = &stands
	e := f.Offset()
	line := "centre off " + v.Theme.Strong.Render(v.measured(e)) + " " + v.conditional(verdicts.Centre, centre)
	if !(e.V <= e.U) { // what may be nothing points nowhere
		way := " " + g.Arrow + v.towards(f.Circle.Centre.Bearing())
		if lipgloss.Width(line+way) <= w { // half a figure would be worse than none
			line += way
		} else {
			out, line = append(out, line), " "+way
		}
	}
	return append(out, line, fmt.Sprintf("  X %s  Y %s %v", v.bare(f.CentreX()), v.bare(f.CentreY()), v.unit()))
}

// earlyLines say why the sweep was closed before its planned stations were in.
func earlyLines(v *View, w int) []string {
	said := lines.EarlyWords(&v.State, v.unit())
	if said == "" {
		return nil
	}
	return wrapped(v.Theme.Doubt, v.text(said), w)
}

// limitLines say what the doubt comes from where further readings would not help, and what would.
func limitLines(v *View, w int) []string {
	f := &v.Found
	said := ""
	if !v.Fitted || v.pair() {
		return nil
	}
	if t, short := f.Collinear(); short {
		said = fmt.Sprintf("short arc: radius and centre along %s are known together only; h holds a radius", v.towards(t.Along))
	} else if p, beyond, ok := f.Limiting(); ok && beyond {
		said = record.Largest("the "+p.Name, p.Cure)
	}
	if w := v.Prompt.Waits; w != session.ForAccept && w != session.ForReading { // the verdicts say it; a sweep is not done yet
		said = record.LimitsAssumed(v.leans().On, said)
	}
	if said == "" {
		return nil
	}
	return wrapped(v.Theme.Doubt, said, w)
}

// wrapped breaks a text like [wrap], in a style.
func wrapped(style lipgloss.Style, s string, w int) []string {
	out := wrap(s, w, 2)
	for i, l := range out {
		out[i] = style.Render(l)
	}
	return out
}
