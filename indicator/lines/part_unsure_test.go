package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// A radius that the first part's arc measured, and that is undecided, says why and what would help: another way of measuring, not a wind.
func TestMeasuredArcSaysWhyItDecidesNothing(t *testing.T) {
	for _, c := range []struct {
		carried session.Carried
		want    string // empty: nothing is said
	}{
		{session.Carried{By: session.CarriedByArc, Verdict: indicator.Undecided, Unstated: true},
			"nobody has said how well the arc was measured"},
		{session.Carried{By: session.CarriedByArc, Verdict: indicator.Undecided}, "the doubt of that measurement"},
		{session.Carried{By: session.CarriedByArc, Verdict: indicator.Inside, Unstated: true}, ""},
		{session.Carried{By: session.CarriedBySweep, Verdict: indicator.Undecided}, ""},
	} {
		s := cutting(false, false, nil)
		s.Part, s.Carried = 2, &c.carried
		words := strings.Join(lines.CarriedWords(s, geom.Millimetre), "; ")
		if !strings.Contains(words, "radius carried over") || !strings.Contains(words, c.want) ||
			strings.Contains(words, "measure a finished arc") != (c.want != "") {
			t.Errorf("%+v: %q, want %q", c.carried, words, c.want)
		}
		if unstated := strings.Contains(words, "cut.measured_error"); unstated != (c.want != "" && c.carried.Unstated) {
			t.Errorf("%+v: %q; the key is told where nobody has stated it", c.carried, words)
		}
	}
}
