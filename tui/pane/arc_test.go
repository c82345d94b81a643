package pane

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
)

// The arc of a plan that is being set is named at the top, as long as the target and the trial leave room.
func TestAimNamesTheArc(t *testing.T) {
	v := begin(t, func(o *session.Opened) { o.Arc = &part.Picked{Part: "plate", N: 4, Radius: 42} }).sees(false)
	for w := 1; w <= 160; w++ {
		line := Aim(v, w)
		if got := ansi.StringWidth(line); got > w {
			t.Errorf("%d cells, want at most %d: %s", got, w, line)
		}
		if w >= 58 && !strings.HasPrefix(line, "arc 4  ") {
			t.Errorf("at %d cells the line is %q, want it to name the arc", w, line)
		}
		if w >= 52 && (!strings.Contains(line, "swing to 42.000 ±0.020") || !strings.Contains(line, "trial 1")) {
			t.Errorf("at %d cells the line is %q, want target and trial", w, line)
		}
	}
	v = begin(t, nil).sees(false)
	if line := Aim(v, 160); strings.Contains(line, "arc") {
		t.Errorf("the line is %q, want no arc where the job stands alone", line)
	}
}
