package pane

import (
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui/theme"
)

// The bar of a wind is shut at the goal alone: however long the way was, one cell is open as long as any of it is left.
func TestTheBarIsShutAtTheGoalAlone(t *testing.T) {
	for _, w := range []int{2, 5, 40, 80, 200} {
		a := gauge.NewApproach(gauge.Wanted{})
		a.Progress = gauge.Coming // all of the way is behind it but for less than a cell
		v := View{Theme: theme.New(lipgloss.NewRenderer(io.Discard), true), Watch: &a}
		if a.Part() != 1 {
			t.Fatalf("part %v, want 1: this test is about a bar that would be full", a.Part())
		}
		if bar := v.closing("", w); strings.Count(bar, v.Theme.Glyphs.Bar) != w-1 || strings.Count(bar, v.Theme.Glyphs.Dot) != 1 {
			t.Errorf("%d cells, nearly there: %q, want one open", w, bar)
		}
		for _, p := range []gauge.Progress{gauge.There, gauge.Stands, gauge.Moved} {
			if a.Progress = p; strings.Count(v.closing("", w), v.Theme.Glyphs.Bar) != w {
				t.Errorf("%d cells, there: %q, want it shut", w, v.closing("", w))
			}
		}
	}
}
