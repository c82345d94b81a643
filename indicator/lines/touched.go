package lines

import (
	"fmt"

	"example.org/trammel/geom"
)

// goTo tells a wind to a coordinate.
func (l WindLine) goTo() string {
	to := geom.FormatFixed(float64(l.Readout.To), l.places)
	from := geom.FormatFixed(float64(l.Readout.From), l.places)
	how := "collar to 0, " + spell(l.shown, l.Moves)
	if l.shown.Readout {
		how = "about " + spell(l.shown, l.Moves)
	}
	return fmt.Sprintf("%s: go from %s to %s %v (%s); type where it stands then, or done%s", l.heading(), from, to, l.unit, how, l.warned())
}
