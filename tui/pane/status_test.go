package pane

import (
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/trammel/tui/theme"
)

// The last thing said is not cut: in a window of 80 a sentence of two rows is told to its last word where there are rows
// for it; else it ends behind a clause.
func TestStatusWraps(t *testing.T) {
	r := lipgloss.NewRenderer(&strings.Builder{})
	r.SetColorProfile(termenv.Ascii)
	v := &View{Theme: theme.New(r, false), Alarm: true, Status: "the needle went the other way, from -0.249 to -0.411 mm, need it to go " +
		"to 0.051 mm; was the other way wound? else touch is stated wrong"}
	if got := strings.Join(statusLines(v, 80, 2), "\n"); !strings.HasSuffix(got, "stated wrong") {
		t.Errorf("cut: %q", got)
	}
	if got := statusLines(v, 80, 1); len(got) != 1 || lipgloss.Width(got[0]) > 80 {
		t.Errorf("without a row for it: %q", got)
	}
}
