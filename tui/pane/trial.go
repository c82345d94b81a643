package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// trialText says what one trial measured and wound.
func trialText(v *View, number int, sweep *session.Sweep, winds *session.Done, w int) []string {
	head := fmt.Sprintf("%d  %d readings", number, sweep.Readings())
	if sweep.Readings() == 1 {
		head = strings.TrimSuffix(head, "s")
	}
	s := v.State
	s.Sweep = *sweep
	f, err := s.Fit()
	if err != nil {
		return []string{"", head}
	}
	verdicts, u := s.Judge(&f), v.unit()
	out := []string{"", head}
	if r := f.Swing(); r.Known() {
		out = append(out, "   swing "+v.measured(r)+"  "+v.verdict(verdicts.Radius))
	}
	out = append(out, "   centre off "+v.measured(f.Offset())+" "+v.verdict(verdicts.Centre),
		fmt.Sprintf("   X %s  Y %s %v", v.bare(f.CentreX()), v.bare(f.CentreY()), u))
	var wound []string
	for d := winds; d != nil; d = d.Before {
		wound = append(wound, SlideName(d.Wind.Slide)+" "+v.Num(geom.FormatSigned(u.From(d.Wind.Travel), geom.Places(0, u)))+" "+u.String())
	}
	if len(wound) > 0 {
		slices.Reverse(wound)
		out = append(out, wrap("   wound "+strings.Join(wound, ", "), w, 9)...)
	}
	return out
}
