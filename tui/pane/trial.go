package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// trialText says what one trial measured and wound.
func trialText(v *View, number int, sweep *session.Sweep, winds *setup.Done, w int) []string {
	head := fmt.Sprintf("%d  %d readings", number, sweep.Readings())
	if sweep.Readings() == 1 {
		head = strings.TrimSuffix(head, "s")
	}
	s := v.State
	if number < s.Trial {
		s.SetOff = setup.Offs{} // carried off the axis, if at all, behind a later sweep
	}
	s.Sweep = *sweep
	if v.pair() {
		t, err := s.Located()
		if err != nil {
			return []string{"", head}
		}
		head = strings.Replace(head, "reading", "point", 1)
		return []string{"", head, fmt.Sprintf("   centre X %s  Y %s %v", v.bare(t.CentreX()), v.bare(t.CentreY()), v.unit()),
			"   radius " + v.measured(t.Radius())}
	}
	f, err := s.Fit()
	if err != nil {
		return []string{"", head}
	}
	verdicts, u := s.Verdicts(&f), v.unit()
	out := []string{"", head}
	if r, ok := s.Swing(&f); ok {
		out = append(out, "   swing "+v.measured(r)+"  "+v.verdict(verdicts.Radius))
	}
	f, _ = s.Standing(&f)
	out = append(out, "   centre off "+v.measured(f.Offset())+" "+v.verdict(verdicts.Centre),
		fmt.Sprintf("   X %s  Y %s %v", v.bare(f.CentreX()), v.bare(f.CentreY()), u))
	var wound []string
	taps := 0
	for d := winds; d != nil; d = d.Before {
		if d.Tap != nil {
			taps++
			continue
		}
		wound = append(wound, SlideName(d.Wind.Slide)+" "+v.Num(geom.FormatSigned(u.From(d.Wind.Travel), geom.Places(0, u)))+" "+u.String())
	}
	if taps > 0 {
		wound = append(wound, fmt.Sprintf("tapped %d times", taps))
	}
	if len(wound) > 0 {
		slices.Reverse(wound)
		out = append(out, wrap("   wound "+strings.Join(wound, ", "), w, 9)...)
	}
	return out
}
