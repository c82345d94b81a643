package lines

import (
	"fmt"

	"example.org/trammel/indicator/record"
)

// tipIn are the words of the step that brings the tip to the wall: where the head or the table stands, which slide, which way, and
// which way last.
func tipIn(t *choreTeller) []string {
	round := ""
	if t.s.SetUp().Does().Turns {
		round = "; then once round by hand, watching clearance and needle"
	}
	in, ok := t.s.BringsTip()
	switch {
	case !ok && t.s.ByTrial():
		return []string{"tip in by the indicator and its holder, the offset slide left as it is set: the needle about amid its range" + round,
			"tip in by the indicator, needle amid"}
	case !ok:
		return []string{"tip in by the indicator and its holder, no slide wound: the needle about amid its range" + round,
			"tip in by the indicator, needle amid"}
	}
	name, first, last := SlideName(in.Slide.Name), in.Turns[0], in.Turns[len(in.Turns)-1]
	long := fmt.Sprintf("%v, until the needle stands about amid its range, and no turn back", first)
	short := fmt.Sprintf("%v, needle amid", first)
	if len(in.Turns) > 1 {
		long = fmt.Sprintf("first %v, until the needle is a little past amid its range; last %v, until it has come back to about amid", first, last)
		short = fmt.Sprintf("%v past amid, last %v", first, last)
	}
	at := t.head() + " at " + place(t.s, in.At)
	return []string{
		fmt.Sprintf("tip in by the %s slide, %s; %s, %s; not by the indicator or its dial", name, at, record.FacingHandle, long) + round,
		fmt.Sprintf("%s; %s slide %s", at, name, short),
		fmt.Sprintf("%s: %s", name, short),
	}
}
