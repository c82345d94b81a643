package pane

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
)

// A reading that did not fit and was left to stand is marked where it stands in the list, and no other is.
func TestKeptReadingsAreMarked(t *testing.T) {
	v := misread(0.2)(t).do(session.Keep{}).sees(false)
	marked := 0
	for i := range v.State.Sweep.Stations[:v.State.Sweep.N] {
		row := stationList(v)[i+1] // behind the head of the list
		if kept := v.State.Sweep.Stations[i].Kept; strings.Contains(row, "kept") != kept {
			t.Errorf("station %d, kept %v: %q", i+1, kept, row)
		} else if kept {
			marked++
		}
	}
	if marked != 1 {
		t.Errorf("%d stations are kept, want the one in doubt", marked)
	}
	// The points of a wall are marked alike.
	at := &v.State.Sweep.Stations[0]
	at.Kept, at.Surprise = true, false
	if row := pointList(v)[1]; !strings.Contains(row, "kept") {
		t.Errorf("a point that was kept: %q", row)
	}
	at.Kept = false
	if row := pointList(v)[1]; strings.Contains(row, "kept") {
		t.Errorf("a point that was not: %q", row)
	}
}
